"""Decodes a reference and makes its renditions; a still of a set is solved: where its lines meet, and its eye level."""

from typing import Any

import numpy as np

from board.actions.intake import mark_ready, mark_refused, record_picture_size, record_renditions
from board.check_contract import PageUnderCheck, PanelUnderCheck
from board.check_registry import CHECKS
from board.models import Job
from board.not_measured import NotMeasured
from board.page_format import PageFormat
from board.worker.decoding import decoded
from board.worker.outcome import Outcome
from board.worker.renditions import make_renditions
from board.worker.subjects import reference_of

WHOLE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))


def handle(job: Job) -> Outcome:
    reference = reference_of(job)
    picture = decoded(reference.picture)
    sizes = make_renditions(reference.picture, picture.image)
    numbers = solve_still(picture.gray) if reference.kind == "still" else {}

    def record() -> None:
        record_picture_size(picture=reference.picture, width_px=picture.size[0], height_px=picture.size[1], dpi=picture.dpi)
        record_renditions(picture=reference.picture, sizes=sizes)
        mark_ready(uploaded=reference, numbers=numbers)

    return Outcome({"size_px": list(picture.size)}, record)


def solve_still(gray: np.ndarray) -> dict[str, Any]:
    """The numbers that the perspective check keeps of a panel, here of the whole picture; or {"reason"} why there are none."""
    still = PanelUnderCheck(0, 1, WHOLE, framed=False, is_rendered=True)
    result = CHECKS["perspective"].load()(PageUnderCheck(gray, "final", PageFormat(170, 260), panels=(still,)))
    if isinstance(result, NotMeasured):
        return {"reason": result.reason}
    if 0 in result.not_measured:
        return {"reason": result.not_measured[0].reason}
    return {name: value for name, value in result.numbers["panels"][0].items() if name != "panel"}


def failed(job: Job) -> None:
    mark_refused(uploaded=reference_of(job), reason=job.reason)
