"""The earlier panel of each same-as panel in a job's inputs, cut out of its picture."""

from typing import Any

import numpy as np

from board.check_contract import SameAsUnderCheck
from board.models import Revision
from board.page_space import PictureFrame
from board.vision.laid_over import cut_out
from board.worker.decoding import decoded_apart


def same_as_under_check(inputs: dict[str, Any], gray: np.ndarray) -> dict[int, SameAsUnderCheck]:
    """Panel id -> its model. Each other picture is decoded once, and not kept longer than its panels take to cut."""
    rows: dict[str, dict[str, Any]] = inputs.get("same_as", {})
    found: dict[int, SameAsUnderCheck] = {}
    for sha256 in sorted({one["sha256"] for one in rows.values()}):
        there = {panel: one for panel, one in rows.items() if one["sha256"] == sha256}
        picture = gray if sha256 == inputs["sha256"] else _gray_of(next(iter(there.values()))["revision"])
        found |= {int(panel): _cut(one, picture) for panel, one in there.items()}
    return found


def _gray_of(revision: int) -> np.ndarray:
    return decoded_apart(Revision.objects.select_related("picture").get(pk=revision).picture).gray


def _cut(one: dict[str, Any], gray: np.ndarray) -> SameAsUnderCheck:
    corners = np.array(PictureFrame(gray.shape[1], gray.shape[0]).polygon_to_pixels(one["polygon"]))
    return SameAsUnderCheck(one["panel"], one["order"], cut_out(gray, corners)[0], one["page_number"],
                            one.get("is_spread", False))
