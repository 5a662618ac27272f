"""Fingerprints of the panels that were drawn before a page: read for the check, and kept for pages to come."""

import numpy as np

from board.actions.panel_prints import KeptPrint, prints_before, propose_same_as, record_panel_prints
from board.check_contract import DrawnBefore, Findings
from board.models import PanelPrint, Revision
from board.models.revision import ready_revision
from board.vision.drawing_prints import DrawingPrint


def drawn_before(revision: Revision) -> tuple[DrawnBefore, ...]:
    rows = [(row, row.panel, row.panel.page) for row in prints_before(revision)]
    return tuple(DrawnBefore(panel.pk, panel.order, page.number, _print_of(row), page.is_spread) for row, panel, page in rows)


def record_reuse(revision: Revision, result: Findings) -> None:
    kept = {
        panel: KeptPrint(one.high, one.at.astype("<f4").tobytes(), one.bits.tobytes()) for panel, one in result.prints.items()
    }
    record_panel_prints(revision=revision, prints=kept)
    if ready_revision(revision.page) == revision:
        views = [row for row in result.numbers["panels"] if row["is_one_view"]]
        propose_same_as(revision=revision, pairs={row["panel"]: row["earlier"] for row in views})


def _print_of(row: PanelPrint) -> DrawingPrint:
    at = np.frombuffer(row.at, "<f4").reshape(-1, 2)
    return DrawingPrint(at, np.frombuffer(row.bits, np.uint8).reshape(-1, 32), row.high)
