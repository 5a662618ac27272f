"""What a note draws over the page is read, held to its bounds, and moved along."""

import pytest

from board.drawn_lines import MOST_LINES, MOST_POINTS, moved_lines, read_lines, region_around
from board.page_space import area

ARROW = {"kind": "arrow", "points": [[0.2, 0.3], [0.5, 0.3]]}
STROKE = {"kind": "stroke", "points": [[0.1, 0.1], [0.123456789, 0.2], [0.3, 0.1]], "pressures": [0, 0.51234, 1]}


def test_lines_are_read_and_rounded_to_what_a_pixel_needs():
    arrow, stroke = read_lines([ARROW, STROKE])
    assert arrow == ARROW
    assert (stroke["points"][1], stroke["pressures"]) == ([0.12346, 0.2], [0.0, 0.512, 1.0])
    assert read_lines([]) == []


@pytest.mark.parametrize(("lines", "says"), [
    ("a line", "A line is"), ([1], "A line is"),
    ([{**ARROW, "colour": "red"}], "A line is"), ([{"kind": "star", "points": []}], "A line is"),
    ([{"kind": "stroke"}], "A line is"),
    ([{**ARROW, "points": [[0, 0], [1, 1], [0, 1]]}], "two points"), ([{"kind": "stroke", "points": [[0, 0]]}], "2 to 500"),
    ([{"kind": "stroke", "points": [[0.5, 0.5]] * (MOST_POINTS + 1)}], "2 to 500"),
    ([{"kind": "stroke", "points": [[0.5, 0.5]] * 3}], "all the same"), ([{**ARROW, "points": [[0, 0], [3, 0]]}], "from 0 to 1"),
    ([{**ARROW, "points": [[0, 0], [float("nan"), 0]]}], "finite"), ([ARROW] * (MOST_LINES + 1), "at most 60 lines"),
    ([{"kind": "stroke", "points": [[i / 500, 0.5] for i in range(500)]}] * 13, "6000 points together"),
    ([{**STROKE, "pressures": [1]}], "one pressure"), ([{**STROKE, "pressures": [0, 2, 0]}], "from 0 to 1"),
    ([{**ARROW, "pressures": [1, 1]}], "one pressure"),
])
def test_lines_that_make_no_sense_say_what_is_the_matter(lines, says):
    with pytest.raises(ValueError, match=says):
        read_lines(lines)


@pytest.mark.parametrize("points", [[[0, 0.3], [1, 0.3]], [[1, 0], [1, 1]], [[0, 0], [0, 1]]])
def test_the_region_around_a_straight_line_encloses_something_on_the_page(points):
    region = region_around([{"kind": "arrow", "points": points}])
    assert area(region["polygon"]) > 0
    assert all(0 <= v <= 1 for point in region["polygon"] for v in point)


def test_lines_are_moved_point_by_point():
    (moved,) = moved_lines([STROKE], lambda points: [[x + 0.1, y] for x, y in points])
    assert moved["points"][0] == [0.2, 0.1]
    assert moved["pressures"] == STROKE["pressures"]
