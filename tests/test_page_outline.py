"""The outline of a page on the screen Pace: its rules are as long as its words, and lie within their panels."""

import re

import pytest

from board.pace import PageFacts, PanelFacts, pace_of
from board.page_space import contains
from board.screens.page_outline import WORDS_ACROSS, outline_of

BOX = ((0.1, 0.1), (0.9, 0.1), (0.9, 0.5), (0.1, 0.5))
# A panel around an inset in its corner.
HOLLOW = ((0.1, 0.1), (0.5, 0.1), (0.5, 0.3), (0.9, 0.3), (0.9, 0.6), (0.1, 0.6))
FLAT, POINT = ((0.1, 0.5), (0.5, 0.5), (0.9, 0.5)), ((0.2, 0.2),) * 3


def outline(polygon, *, words: int = 0, numbers=(1,), shape: float = 0.7, **more):
    panel = PanelFacts(1, polygon, " ".join(["tide"] * words), **more)
    return outline_of(pace_of([PageFacts(numbers, (panel,), shape=shape)]).pages[0])


def lines(path: str) -> list[tuple[float, ...]]:
    return [tuple(float(one) for one in line) for line in re.findall(r"M(\S+) (\S+)L(\S+) (\S+?)(?=M|$)", path)]


def rules_of(path: str) -> list[tuple[float, ...]]:
    """As ends, like other lines; they are written by their lengths."""
    starts = [tuple(float(one) for one in line) for line in re.findall(r"M(\S+) (\S+)h(\S+?)(?=M|$)", path)]
    return [(x, y, x + length, y) for x, y, length in starts]


@pytest.mark.parametrize("polygon", [BOX, HOLLOW])
@pytest.mark.parametrize("words", [1, 15, 80])
def test_rules_are_as_long_as_the_words_and_within_the_panel(polygon, words):
    drawn = outline(polygon, words=words)
    rules = rules_of(drawn.panels[0].rules)
    assert sum(x1 - x0 for x0, _, x1, _ in rules) == pytest.approx(100 / WORDS_ACROSS * words, abs=0.1 * len(rules))
    corners = [(x * 100, y * 100 / 0.7) for x, y in polygon]
    assert all(contains(corners, point) for x0, y0, x1, y1 in rules for point in ((x0, y0), (x1, y1)))


def test_more_words_than_there_is_room_for_stand_close_and_end_with_the_panel():
    rules = rules_of(outline(BOX, words=3000).panels[0].rules)
    assert max(y for _, y, _, _ in rules) < 50 / 0.7 and rules[1][1] - rules[0][1] == pytest.approx(0.9, abs=0.11)


def test_a_spread_is_drawn_twice_as_wide_and_a_picture_of_no_likely_shape_as_one_of_its_limits():
    assert (outline(BOX, numbers=(2, 3), shape=1.4).width, outline(BOX, numbers=(2, 3), shape=1.4).height) == (200, "142.9")
    assert outline(BOX, shape=1000).height == "20"


def test_the_eye_level_is_drawn_where_it_crosses_the_panel():
    level = ((0.0, 0.2), (1.0, 0.4))
    assert lines(outline(BOX, shape=1, eye_level=level).panels[0].level) == [(10, 22, 90, 38)]
    assert outline(BOX, eye_level=((0.0, 0.8), (1.0, 0.8))).panels[0].level == ""


def test_the_tallest_figure_is_an_upright_with_a_head():
    drawn = outline(BOX, shape=1, figures=(((0.2, 0.3), (0.2, 0.34)), ((0.5, 0.2), (0.5, 0.48)))).panels[0]
    assert (drawn.figure, drawn.head) == ("M50 24L50 48", ("50", "22", "2"))


@pytest.mark.parametrize("polygon", [FLAT, POINT])
def test_a_panel_without_an_area_is_drawn_without_a_slip(polygon):
    drawn = outline(polygon, words=20, eye_level=((0.2, 0.2), (0.2, 0.2)), figures=(((0.2, 0.9), (0.2, 0.1)),)).panels[0]
    assert (drawn.rules, drawn.level, drawn.figure) == ("", "", "")
