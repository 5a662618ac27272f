"""Carries the marks of figures onto the next revision by the map between the two pictures; what cannot be carried says why.

The map follows the drawing around a figure. Whether the figure itself is still drawn there, only the two drawings of it can say.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

import numpy as np

from board.actions.figure_places import CarriedMarks
from board.figure_landmarks import point_of
from board.models import Figure, PanelShape, Revision
from board.page_space import PictureFrame, Point, contains
from board.vision.laid_over import cut_out
from board.vision.page_registration import PageRegistration
from board.vision.panel_map import PanelMap
from board.vision.redrawn_figure import RedrawnFigure, look_for_figure
from board.worker.panel_changes import Pictures

Marks = dict[str, list[float]]
Frames = tuple[PictureFrame, PictureFrame]
Doubts = dict[str, float]


@dataclass(frozen=True)
class Maps:
    """Of one revision onto the next: the page's, and by panel those that find more of it than the page's does."""

    page: PageRegistration
    panels: Mapping[int, PanelMap] = field(default_factory=dict)

    def of(self, panel: int | None) -> PageRegistration | PanelMap:
        """That of what is on a panel, or on none."""
        return self.panels.get(panel or 0, self.page)


GOOD_ENOUGH = 0.35  # as for notes; marks are never guessed from the panel alone
MOST_STRETCH = 1.5  # by which a carried figure may have grown or shrunk against its panel: more is another drawing

# How much of the head lies where it would, 0..1. On the drawn comic .78 and more for 28 of 29 figures carried to the next picture;
# with the mark a tenth of the height above the crown .58 and less for 27 of them, .15 above it .21 and less for all (own
# measurement).
SAME_HEAD = 0.6
AROUND = 0.6  # of its height, that is looked at around it

# 1 sigma of carrying, as a share of a figure's height. Own measurement: on the drawn comic nine of ten lie within .005.
CARRIED = 0.004

NOTHING_IN_COMMON = "The two pictures have too little in common to carry this mark. Mark the figure here."
PANEL_GONE = "The panel of this figure is not on this picture."
LEFT_PANEL = "Carried over, this mark would lie outside its panel. Mark the figure here."
DRAWN_ANEW = "The figure was drawn anew: its head is not where this mark would lie. Mark the figure here."
PANEL_ANEW = "The panel was drawn anew, and whether this figure is in it could not be told. Mark the figure here."
OTHER_SIZE = "The figure was drawn anew in another size, or the map does not fit there. Mark the figure here."


def carry_figures(standing: dict[str, Marks], doubts: dict[str, Doubts], before: Revision, after: Revision,
                  maps: Maps, frames: Frames, pictures: Pictures, redrawn: Collection[int] = ()) -> list[CarriedMarks]:
    """`standing`: figure id -> its marks on `before`, page coordinates; `doubts` likewise, where they are known. `redrawn`: ids of
    panels."""
    figures = Figure.objects.in_bulk([int(one) for one in standing])
    shapes = [{shape.panel_id: shape.polygon for shape in PanelShape.objects.filter(revision=one)} for one in (before, after)]
    carried = []
    for pk, figure in figures.items():
        marks, panel, registration = standing[str(pk)], figure.panel_id, maps.of(figure.panel_id)
        mapped = map_marks(marks, registration, frames)
        shown = tuple(by_panel.get(panel or 0) for by_panel in shapes)
        reason = _why_lost(marks, mapped, float(registration.quality), shown, frames)
        reason = reason or why_anew((marks, mapped), frames, pictures(), figure.panel_id in redrawn)
        if reason:
            carried.append(CarriedMarks(pk, reason=reason))
        else:
            carried.append(CarriedMarks(pk, mapped, carried_doubts(doubts.get(str(pk), {}), marks, mapped, frames)))
    return carried


def carried_doubts(doubts: Doubts, marks: Marks, mapped: Marks, frames: Frames, carrying: float = CARRIED) -> Doubts:
    """As large as the figure is now, and widened by what carrying adds. A share of the picture's width on both."""
    was_px, now_px = (tall_px(one, frame) for one, frame in zip((marks, mapped), frames, strict=True))
    was, now = was_px / frames[0].width_px, now_px / frames[1].width_px
    return {name: float(np.hypot(doubt * now / max(was, 1e-9), carrying * now)) for name, doubt in doubts.items()}


def map_marks(marks: Marks, registration: PageRegistration | PanelMap, frames: Frames) -> Marks:
    pixels = np.array([frames[0].to_pixels(point) for point in marks.values()])
    mapped = registration.map_points(pixels).tolist()
    return {name: list(frames[1].to_page(point)) for name, point in zip(marks, mapped, strict=True)}


def _why_lost(marks: Marks, mapped: Marks, quality: float, shapes: tuple, frames: Frames) -> str:
    """Empty where the marks hold."""
    was, now = shapes
    if quality < GOOD_ENOUGH:
        return NOTHING_IN_COMMON
    if was is not None and now is None:
        return PANEL_GONE
    middles = [_middle(one) for one in (marks, mapped)]
    is_out = not all(0 <= value <= 1 for point in mapped.values() for value in point)
    if is_out or (was is not None and contains(was, middles[0]) and not contains(now, middles[1])):
        return LEFT_PANEL
    tall = [tall_px(one, frame) for one, frame in zip((marks, mapped), frames, strict=True)]
    drawn = tall[1] / max(tall[0], 1e-9) * frames[0].height_px / frames[1].height_px
    return "" if 1 / MOST_STRETCH < drawn < MOST_STRETCH else OTHER_SIZE


def why_anew(marks: tuple[Marks, Marks], frames: Frames, pictures: tuple[np.ndarray, np.ndarray], panel_is_redrawn: bool) -> str:
    """Empty unless the head is surely not where it would lie. Of before and after: `marks` in page coordinates, `frames`, and
    `pictures` (uint8 gray). A figure that is too small to tell, or shows too few lines, goes with its panel."""
    ends = [np.array([frame.to_pixels(point) for point in _ends(one)]) for one, frame in zip(marks, frames, strict=True)]
    cuts = [cut_out(gray, _around(*of)) for gray, of in zip(pictures, ends, strict=True)]
    (before, after), inside = (cut for cut, _ in cuts), [of - corner for of, (_, corner) in zip(ends, cuts, strict=True)]
    look = look_for_figure(before, after, _similarity(*inside), *inside[0])
    if isinstance(look, RedrawnFigure):
        return DRAWN_ANEW if look.head < SAME_HEAD else ""
    return PANEL_ANEW if panel_is_redrawn else ""


def _around(crown: np.ndarray, sole: np.ndarray) -> np.ndarray:
    """The corners (2, 2) px of what is looked at."""
    room = AROUND * float(np.hypot(*(crown - sole)))
    return np.array([np.minimum(crown, sole) - room, np.maximum(crown, sole) + room])


def _similarity(before: np.ndarray, after: np.ndarray) -> np.ndarray:
    """(3, 3) that takes two points (2, 2) px to two others."""
    was, now = ([complex(*point) for point in points] for points in (before, after))
    turn = (now[1] - now[0]) / (was[1] - was[0])
    shift = now[0] - turn * was[0]
    return np.array([[turn.real, -turn.imag, shift.real], [turn.imag, turn.real, shift.imag], [0, 0, 1]])


def _ends(marks: Marks) -> tuple[Point, Point]:
    points = {name: (x, y) for name, (x, y) in marks.items()}
    crown, sole = point_of(points, "crown"), point_of(points, "sole")
    assert crown and sole, "no figure is kept without both"
    return crown, sole


def _middle(marks: Marks) -> Point:
    crown, sole = _ends(marks)
    return (crown[0] + sole[0]) / 2, (crown[1] + sole[1]) / 2


def tall_px(marks: Marks, frame: PictureFrame) -> float:
    crown, sole = (np.array(frame.to_pixels(point)) for point in _ends(marks))
    return float(np.hypot(*(crown - sole)))
