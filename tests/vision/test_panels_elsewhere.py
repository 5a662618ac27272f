"""Two panels of a page that changed places, and pages on which none did."""

from dataclasses import replace

import numpy as np
import pytest

from board.vision.change_map import PanelChange, change_map
from board.vision.page_registration import register_pages
from board.vision.panel_matching import PanelMatching, match_panels
from board.vision.panels_elsewhere import follow_elsewhere
from tests.vision.drawn_stages import FRAMES, draw_painted, draw_pencil, drawn_shapes, frame_polygons, noisy


def compared(before: np.ndarray, after: np.ndarray) -> tuple[PanelMatching, tuple[PanelChange, ...]]:
    registration = register_pages(before, after)
    matching = match_panels(frame_polygons(), frame_polygons(), registration)
    return matching, change_map(before, after, registration, matching)


def laid_into(shapes: list, source: int, target: int) -> list:
    """The drawing of one frame in another one, its upper left corner in that one's."""
    shift = np.subtract(FRAMES[target][:2], FRAMES[source][:2])
    return [type(shape)(shape.outline + shift, shape.tone) for shape in shapes[source]]


@pytest.mark.parametrize("draw", [draw_pencil, draw_painted])
def test_two_panels_that_changed_places_are_followed(draw):
    shapes = drawn_shapes(seed=4)
    swapped = [shapes[0], laid_into(shapes, 2, 1), laid_into(shapes, 1, 2), shapes[3]]
    pages = draw_pencil(shapes), noisy(draw(swapped), seed=2, sigma=4)
    matching, changes = compared(*pages)
    assert [change.word for change in changes] == ["same", "redrawn", "redrawn", "same"] or draw is draw_painted
    followed = follow_elsewhere(matching, changes, pages)
    assert [(one.match.kind, one.match.before, one.match.after) for one in followed] == [
        ("kept", (0,), (0,)), ("moved", (2,), (1,)), ("moved", (1,), (2,)), ("kept", (3,), (3,))]
    assert [change.word for change in followed][1:3] == ["moved", "moved"]


def test_panels_that_were_drawn_anew_in_their_places_have_not_moved():
    shapes, other = drawn_shapes(seed=4), drawn_shapes(seed=40)
    pages = draw_pencil(shapes), draw_pencil([shapes[0], other[1], other[2], shapes[3]])
    matching, changes = compared(*pages)
    assert [change.word for change in changes] == ["same", "redrawn", "redrawn", "same"]
    assert follow_elsewhere(matching, changes, pages) == changes


def seen_from(shapes: list, target: int, scale: float, shift: tuple[float, float]) -> list:
    """The drawing of frame 1, larger or smaller about its upper left corner and moved, in another frame or in its own."""
    corner, place = np.array(FRAMES[1][:2]), np.array(FRAMES[target][:2])
    return [type(shape)((shape.outline - corner) * scale + place + shift, shape.tone) for shape in shapes[1]]


def test_two_views_of_one_set_that_were_both_drawn_anew_have_not_changed_places():
    shapes = drawn_shapes(seed=4)
    views = [[seen_from(shapes, 1, 1.0, (0, 0)), seen_from(shapes, 2, 1.1, (-20, -6))],
             [seen_from(shapes, 1, 1.12, (-34, -14)), seen_from(shapes, 2, 0.95, (30, 12))]]
    pages = [draw_pencil([shapes[0], *view, shapes[3]]) for view in views]
    matching, changes = compared(*pages)
    assert [change.word for change in changes] == ["same", "moved", "moved", "same"], "each in its own frame"
    anew = tuple(replace(one, word="redrawn", kept_before=0.1, alone=None) if one.alone else one for one in changes)
    for told in (changes, anew):
        assert follow_elsewhere(matching, told, (pages[0], pages[1])) == told


def test_without_two_redrawn_panels_nothing_is_registered(monkeypatch):
    monkeypatch.setattr("board.vision.panels_elsewhere.map_panel", None)
    shapes, other = drawn_shapes(seed=4), drawn_shapes(seed=40)
    pages = draw_pencil(shapes), draw_pencil([shapes[0], other[1], shapes[2], shapes[3]])
    matching, changes = compared(*pages)
    assert follow_elsewhere(matching, changes, pages) == changes
