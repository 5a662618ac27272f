"""Where a perspective that was set by hand lies on another revision."""

from board.models import PanelShape
from board.page_space import bounds


def given_on(shape: PanelShape) -> dict:
    """What was set by hand goes with the panel: where that is drawn elsewhere or in another size, it is moved along."""
    given = dict(shape.panel.given_perspective or {})
    left, top, right, bottom = given.pop("bounds")
    now_left, now_top, now_right, now_bottom = bounds(shape.polygon)
    wide, high = (now_right - now_left) / (right - left), (now_bottom - now_top) / (bottom - top)

    def moved(value: list) -> list:
        if isinstance(value[0], list):
            return [moved(one) for one in value]
        return [now_left + (value[0] - left) * wide, now_top + (value[1] - top) * high]

    return {name: moved(value) for name, value in given.items() if value}
