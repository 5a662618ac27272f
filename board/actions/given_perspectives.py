"""A panel's perspective, set by hand where the lines tell it wrongly or not at all."""

from math import hypot

from django.db import transaction

from board.access import Seat
from board.actions.events import write_event
from board.actions.measuring import measure_panel_again
from board.actions.shown_shape import shape_shown
from board.actions.versions import lock_version, save_next_version
from board.errors import NotPossibleNow, NotValid
from board.models import Panel, Revision
from board.page_space import bounds

Place = list[float]
LEAST_LENGTH = 1e-3  # of the page, of an edge or the eye level
STEEPEST = 2.0  # by which an eye level may fall in page heights over a page width
LEAST_APART = 1e-4  # two edges of one line show no point


@transaction.atomic
def set_given_perspective(
    *, seat: Seat, panel: Panel, given: dict | None, expected_version: int | None, revision: Revision | None = None
) -> Panel:
    """`given`: {"eye_level": two points, "points": vanishing points, "parallel_edges": two edges}, any of them; None takes it back.

    Its places are of the picture named, else of the page as it stands. The perspective check takes it as so there and on other
    revisions, and runs again.
    """
    panel = lock_version(panel, expected_version)
    shape = shape_shown(panel, revision)
    if shape is None:
        raise NotPossibleNow("This panel has no drawing yet.")
    if given is not None:
        _read(given)
    panel.given_perspective = {**given, "bounds": list(bounds(shape.polygon))} if given else None
    save_next_version(panel, "given_perspective")
    kind = "panel-perspective-set" if given else "panel-perspective-freed"
    write_event(board=seat.board, kind=kind, actor=seat.user, page=panel.page, panel=panel.pk)
    measure_panel_again(shape=shape)
    return panel


def _read(given: dict) -> None:
    """Raises NotValid with the sentence that people read."""
    if not any(given.values()):
        raise NotValid("Say where the eye level is, where lines meet, or which two edges are parallel.")
    if eye_level := given.get("eye_level"):
        across, down = (abs(eye_level[1][k] - eye_level[0][k]) for k in (0, 1))
        if across < LEAST_LENGTH or down > STEEPEST * across:
            raise NotValid("An eye level runs across the picture: give two points that stand apart.")
    if edges := given.get("parallel_edges"):
        if any(hypot(end[0] - start[0], end[1] - start[1]) < LEAST_LENGTH for start, end in edges):
            raise NotValid("An edge has a length.")
        if all(_off(point, edges[0]) < LEAST_APART for point in edges[1]):
            raise NotValid("Two edges on one line meet in no one point.")


def _off(point: Place, edge: list[Place]) -> float:
    """How far a point lies off the line of an edge."""
    (x0, y0), (x1, y1) = edge
    return abs((x1 - x0) * (point[1] - y0) - (y1 - y0) * (point[0] - x0)) / hypot(x1 - x0, y1 - y0)
