"""Finds where a still lies under its panel, and tells it as two points of each."""

from itertools import combinations
from math import dist

import numpy as np

from board.models import Job, Reference
from board.not_measured import NotMeasured
from board.page_space import PictureFrame, Point
from board.vision.laid_over import cut_out
from board.vision.still_registration import StillRegistration, register_still
from board.worker.decoding import decoded, decoded_apart
from board.worker.outcome import Outcome
from board.worker.subjects import revision_of

APART = 0.25  # of the panel's diagonal: points that agree and stand nearer to each other give way to the panel's own corners
INSET = 0.15  # of the panel, from its corners
DIGITS = 6


def handle(job: Job) -> Outcome:
    reference = Reference.objects.select_related("picture").filter(pk=job.inputs["still"]).first()
    if reference is None:
        return Outcome(NotMeasured("The still was taken away meanwhile."))
    page, still = decoded(revision_of(job).picture).gray, decoded_apart(reference.picture).gray
    frame = PictureFrame(page.shape[1], page.shape[0])
    panel, corner = cut_out(page, np.array(frame.polygon_to_pixels(job.inputs["polygon"])))
    found = register_still(still, panel)
    if isinstance(found, NotMeasured):
        return Outcome(found)
    on_panel = two_points(found, panel.shape[1], panel.shape[0])
    back = np.linalg.inv(found.S_still_to_panel)
    of_still = PictureFrame(still.shape[1], still.shape[0])
    return Outcome({
        "on_page": [_place(frame, point + corner) for point in on_panel],
        "in_still": [_place(of_still, (back @ [*point, 1.0])[:2]) for point in on_panel],
    })


def two_points(found: StillRegistration, width_px: int, height_px: int) -> np.ndarray:
    """(2, 2) px of the panel: those that agree and stand farthest apart."""
    pairs = combinations(found.at.tolist(), 2)
    farthest = max(pairs, key=lambda pair: dist(*pair), default=((0.0, 0.0), (0.0, 0.0)))
    if dist(*farthest) >= APART * np.hypot(width_px, height_px):
        return np.array(farthest)
    return np.array([[INSET, INSET], [1 - INSET, 1 - INSET]]) * [width_px, height_px]


def _place(frame: PictureFrame, point: np.ndarray) -> Point:
    x, y = frame.to_page((float(point[0]), float(point[1])))
    return round(x, DIGITS), round(y, DIGITS)
