"""The stills that lie under the panels in a job's inputs, read for the check."""

from typing import Any

import numpy as np

from board.check_contract import StillUnderCheck
from board.models import Reference
from board.not_measured import NotMeasured
from board.page_space import PictureFrame
from board.still_placement import still_to_page
from board.worker.decoding import decoded_apart


def stills_under_check(inputs: dict[str, Any], gray: np.ndarray) -> dict[int, StillUnderCheck]:
    """Panel id -> its still; one that was taken away meanwhile is left out."""
    rows: dict[str, dict[str, Any]] = inputs.get("stills", {})
    stills = Reference.objects.select_related("picture").in_bulk([one["reference"] for one in rows.values()])
    read = {number: decoded_apart(still.picture).gray for number, still in stills.items()}
    frame = PictureFrame(gray.shape[1], gray.shape[0])
    found = {int(panel): _still(one, read[one["reference"]], frame) for panel, one in rows.items() if one["reference"] in read}
    return {panel: still for panel, still in found.items() if still}


def _still(one: dict[str, Any], still: np.ndarray, page: PictureFrame) -> StillUnderCheck | None:
    placed = still_to_page(one["in_still"], one["on_page"], PictureFrame(still.shape[1], still.shape[0]), page)
    if isinstance(placed, NotMeasured):
        return None
    turn, shift = placed.turn, placed.shift
    S = np.array([[turn.real, -turn.imag, shift.real], [turn.imag, turn.real, shift.imag], [0, 0, 1.0]])
    return StillUnderCheck(one["title"], still, S, one["numbers"])
