"""Where a panel's still lies under it, placed by two points of each."""

from django.db import transaction

from board.access import Seat
from board.actions.events import write_event
from board.actions.measuring import measure_panel_again
from board.actions.placed_still import still_under
from board.actions.shown_shape import shape_shown
from board.actions.still_search import was_found
from board.actions.versions import lock_version, save_next_version
from board.errors import NotPossibleNow, NotValid
from board.models import Panel, PanelShape, Revision
from board.not_measured import NotMeasured
from board.page_space import bounds


@transaction.atomic
def place_still(
    *, seat: Seat, panel: Panel, points: dict | None, expected_version: int | None, revision: Revision | None = None
) -> Panel:
    """`points`: {"in_still": two points, "on_page": the same two}, each in its own picture's coordinates; None takes it back.

    On the picture named, else on the page as it stands. Kept with the panel's bounds, so that it goes along to later revisions;
    what is reckoned from it runs again.
    """
    panel = lock_version(panel, expected_version)
    shape = shape_shown(panel, revision)
    panel.still_place = _place(panel, shape, points) if points else None
    save_next_version(panel, "still_place")
    kind = "still-placed" if points else "still-freed"
    write_event(board=seat.board, kind=kind, actor=seat.user, page=panel.page, panel=panel.pk)
    if shape:
        measure_panel_again(shape=shape)
    return panel


def _place(panel: Panel, shape: PanelShape | None, points: dict) -> dict:
    if panel.still is None or shape is None:
        raise NotPossibleNow("A still is placed in a panel that is drawn and has one.")
    by = "registration" if was_found(shape, points) else "hand"
    place = {**points, "by": by, "bounds": list(bounds(shape.polygon))}
    shape.panel.still_place = place
    if isinstance(placed := still_under(shape), NotMeasured):
        raise NotValid(placed.reason)
    return place
