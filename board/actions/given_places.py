"""Where something that was set by hand on a panel lies on another revision."""

from typing import Any

from board.models import PanelShape
from board.page_space import bounds


def given_on(shape: PanelShape) -> dict:
    """Its perspective, where it was set by hand."""
    given = dict(shape.panel.given_perspective or {})
    before = given.pop("bounds")
    return {name: moved_onto(shape, before, value) for name, value in given.items() if value}


def moved_onto(shape: PanelShape, before: list[float], value: Any) -> list:
    """A point, or a list of them, goes with the panel: where that is drawn elsewhere or in another size, it is moved along.

    `before`: the panel's bounds when the point was set.
    """
    left, top, right, bottom = before
    now_left, now_top, now_right, now_bottom = bounds(shape.polygon)
    if isinstance(value[0], list):
        return [moved_onto(shape, before, one) for one in value]
    wide, high = (now_right - now_left) / (right - left), (now_bottom - now_top) / (bottom - top)
    return [now_left + (value[0] - left) * wide, now_top + (value[1] - top) * high]
