"""A background drawn before is told where it was drawn; the same view is told apart from a part used again."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from board.check_contract import DrawnBefore, PageUnderCheck, PanelUnderCheck
from board.not_measured import NotMeasured
from board.page_checks.reuse import check
from board.page_format import FORMATS
from tests.bench.same_as_pairs import draw_pair

SEED = 41


def page_with(gray, outline, number, **page):
    said = {name: page.pop(name) for name in ("left_alone", "one_drawing") if name in page}
    panel = PanelUnderCheck(10 * number, 1, tuple((x, y) for x, y in outline), **said)
    return PageUnderCheck(gray, "final", FORMATS["a5"], panels=(panel,), number=number, **page)


@pytest.fixture(scope="module")
def pair():
    return draw_pair(SEED, "final")


@pytest.fixture(scope="module")
def before(pair):
    earlier, _, outline = pair
    result = check(page_with(earlier, outline, 1))
    assert result.found == ()
    return DrawnBefore(10, 1, 1, result.prints[10])


def test_the_same_view_is_told_and_proposed(pair, before):
    _, later, outline = pair
    result = check(page_with(later, outline, 2, drawn_before=(before,)))
    (finding,) = result.found
    assert (finding.finding, finding.panel, finding.measured) == ("reuse-found", 20, finding.expected)
    assert "panel 1 of page 1" in finding.text
    (row,) = result.numbers["panels"]
    assert row["earlier"] == 10
    assert row["is_one_view"]
    assert row["scale"] == pytest.approx(1, abs=0.02)


def test_a_place_later_in_the_comic_is_not_called_earlier(pair, before):
    _, later, outline = pair
    (finding,) = check(page_with(later, outline, 2, drawn_before=(replace(before, page_number=5),))).found
    assert finding.text.startswith("This drawing is also drawn in panel 1 of page 5")


def test_mirrored_it_is_told_and_no_view_to_keep(pair, before):
    _, later, outline = pair
    turned = [[1 - x, y] for x, y in reversed(outline)]
    result = check(page_with(np.ascontiguousarray(later[:, ::-1]), turned, 2, drawn_before=(before,)))
    (row,) = result.numbers["panels"]
    assert (row["is_mirrored"], row["is_one_view"]) == (True, False)
    assert row["turn_deg"] == pytest.approx(0, abs=0.5)
    assert "here mirrored." in result.found[0].text


@pytest.mark.parametrize(("is_mirrored", "words"), [(False, "here turned by"), (True, "here mirrored and turned by")])
def test_a_drawing_that_is_turned_against_its_frame_is_told_so(before, is_mirrored, words):
    """Clockwise in the panel as it was drawn is counter-clockwise once that is mirrored."""
    _, later, outline = draw_pair(SEED, "final", "turn", 4.0)
    if is_mirrored:
        later, outline = np.ascontiguousarray(later[:, ::-1]), [[1 - x, y] for x, y in reversed(outline)]
    result = check(page_with(later, outline, 2, drawn_before=(before,)))
    (row,) = result.numbers["panels"]
    assert row["turn_deg"] == pytest.approx(-4.0 if is_mirrored else 4.0, abs=0.5)
    assert words in result.found[0].text


def test_a_declared_pair_and_a_panel_left_alone_need_no_telling(pair, before):
    _, later, outline = pair
    assert check(page_with(later, outline, 2, drawn_before=(before,), one_drawing=frozenset({10}))).found == ()
    assert check(page_with(later, outline, 2, drawn_before=(before,), left_alone=True)).found == ()


def test_another_set_is_not_taken_for_it(before):
    other, _, outline = draw_pair(SEED + 2, "final")
    assert check(page_with(other, outline, 2, drawn_before=(before,))).found == ()


def window(gray: np.ndarray, left: int, top: int, px: int) -> None:
    """Six panes with a latch and a pot on the sill, ruled the same at any size."""
    def at(x: float, y: float) -> tuple[int, int]:
        return round(left + x * px), round(top + y * px)

    for x in (0, 0.5, 1):
        cv2.line(gray, at(x, 0), at(x, 1.5), 0, 3)
    for y in (0, 0.5, 1, 1.5):
        cv2.line(gray, at(-0.05, y), at(1.05, y), 0, 3)
    cv2.circle(gray, at(0.42, 0.75), px // 20, 0, 3)
    cv2.rectangle(gray, at(0.6, 1.3), at(0.8, 1.48), 0, 3)
    for k in range(5):
        cv2.line(gray, at(0.62 + 0.04 * k, 1.3), at(0.5 + 0.1 * k, 1.1 + 0.03 * (k % 2)), 0, 3)


def test_a_thing_that_looks_alike_wherever_it_is_drawn_is_told_as_a_part_and_less_surely():
    outline = [[0.05, 0.05], [0.95, 0.05], [0.95, 0.95], [0.05, 0.95]]
    rng = np.random.default_rng(8)
    rooms = [np.full((1000, 1400), 255, np.uint8) for _ in range(2)]
    for gray, (left, top, px) in zip(rooms, ((260, 200, 190), (900, 330, 240)), strict=True):
        for _ in range(14):
            ends = rng.integers((80, 620), (1300, 930), (2, 2))
            cv2.line(gray, ends[0].tolist(), ends[1].tolist(), 0, 3)
        window(gray, left, top, px)
    before = DrawnBefore(10, 1, 1, check(page_with(rooms[0], outline, 1)).prints[10])
    (finding,) = check(page_with(rooms[1], outline, 2, drawn_before=(before,))).found
    assert finding.measured < 10
    assert finding.confidence < 0.9
    assert finding.text.startswith(f"A part of this drawing, {finding.measured:.0f} % of the panel, was drawn before")


def test_the_neighbours_in_the_box_of_a_slanted_panel_are_not_its_own():
    rng = np.random.default_rng(5)
    gray = np.full((600, 800), 255, np.uint8)
    for _ in range(60):  # one drawing, of which both boxes show most
        x, y = rng.integers(40, 740), rng.integers(40, 540)
        gray[y:y + rng.integers(4, 30), x:x + rng.integers(4, 30)] = rng.integers(0, 200)
    halves = (((0.02, 0.02), (0.9, 0.02), (0.1, 0.98), (0.02, 0.98)), ((0.92, 0.02), (0.98, 0.02), (0.98, 0.98), (0.12, 0.98)))
    panels = tuple(PanelUnderCheck(order, order, half) for order, half in enumerate(halves, 1))
    assert check(PageUnderCheck(gray, "final", FORMATS["a5"], panels=panels, number=1)).found == ()


def test_a_page_without_panels_is_not_measured():
    assert isinstance(check(PageUnderCheck(np.full((50, 50), 255, np.uint8), "final", FORMATS["a5"])), NotMeasured)
