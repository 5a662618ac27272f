"""Panels by hand that were not found on the next picture: carried there by the map between the two, where they still are drawn."""

from collections.abc import Sequence

import numpy as np

from board.actions.panels import CarriedPanel
from board.models import PanelShape, Revision
from board.page_space import area
from board.vision.page_registration import PageRegistration
from board.worker.carry_figures import GOOD_ENOUGH, Frames
from board.worker.panel_changes import Pictures, changes_by_place

ON_THE_PAGE = 0.8  # of its area, that has to lie on the picture
NOT_THERE = ("redrawn", "new", "gone")


def carry_panels(
    missed: Sequence[int], before: Revision, registration: PageRegistration, frames: Frames, pictures: Pictures
) -> list[CarriedPanel]:
    """`missed`: panels that stand by hand on `before`. The detector may never see them; the drawing says whether they are there."""
    shapes = list(PanelShape.objects.filter(revision=before, panel__in=missed).order_by("order"))
    if not shapes or registration.quality < GOOD_ENOUGH:
        return []
    was = [np.array(frames[0].polygon_to_pixels(shape.polygon)) for shape in shapes]
    now = [registration.map_points(outline) for outline in was]
    _, changes = changes_by_place(was, now, registration, pictures)
    stand = {i for change in changes for i in change.match.before if change.word not in NOT_THERE}
    outlines = [[frames[1].to_page(point) for point in outline.tolist()] for outline in now]
    return [
        CarriedPanel(shape.panel_id, _within(outline), shape.is_framed)
        for i, (shape, outline) in enumerate(zip(shapes, outlines, strict=True))
        if i in stand and area(_within(outline)) >= ON_THE_PAGE * area(outline) > 0
    ]


def _within(outline: Sequence[Sequence[float]]) -> list[list[float]]:
    return [[min(1.0, max(0.0, float(value))) for value in point] for point in outline]
