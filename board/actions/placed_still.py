"""What the still of a panel shows of the panel's perspective, once it was placed there."""

from typing import Any

from board.actions.given_places import moved_onto
from board.models import PanelShape, Picture
from board.not_measured import NotMeasured
from board.page_space import PictureFrame
from board.still_placement import StillToPage, still_to_page

UNREAD = "The pictures have not been read yet."


def still_under(shape: PanelShape) -> StillToPage | NotMeasured:
    """Moved along with the panel since it was placed."""
    panel = shape.panel
    if panel.still is None or not panel.still_place:
        return NotMeasured("No still is placed in this panel.")
    still, page = _frame(panel.still.picture), _frame(shape.revision.picture)
    if still is None or page is None:
        return NotMeasured(UNREAD)
    place = panel.still_place
    return still_to_page(place["in_still"], moved_onto(shape, place["bounds"], place["on_page"]), still, page)


def placed_numbers(shape: PanelShape) -> dict[str, Any] | None:
    """The still's perspective in page coordinates; None where none is placed or nothing is known of it."""
    placed, still = still_under(shape), shape.panel.still
    if isinstance(placed, NotMeasured) or still is None:
        return None
    numbers = still.perspective_numbers()
    return placed.numbers(numbers) if numbers.get("eye_level") else None


def _frame(picture: Picture) -> PictureFrame | None:
    wide, high = picture.width_px, picture.height_px
    return PictureFrame(wide, high) if wide and high else None
