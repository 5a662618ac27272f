"""Marks move towards the line that they were clicked near, and stay where no one line is told apart."""

from math import cos, radians, sin

import cv2
import numpy as np
import pytest

from board.vision.mark_snapping import MEANT, MEANT_ACROSS, snap_marks
from fixtures.bench_pages import draw_bench_page
from fixtures.marked_figures import markable_figures

TALL_PX, CLICK = 400.0, 0.015
CROWN, CHIN, SOLE = 0.0, 0.2, 1.0  # as shares of the height, from the crown down


def drawn(lean_deg: float = 0.0, noise: float = 0.0, extra: tuple[float, ...] = ()) -> tuple[np.ndarray, dict]:
    """A head as an ellipse, a floor line at the soles, and lines across the figure at further shares; its true marks."""
    rng = np.random.default_rng(3)
    gray = np.full((560, 560), 250, np.uint8)
    turn = radians(lean_deg)
    down, across = np.array([-sin(turn), cos(turn)]), np.array([cos(turn), sin(turn)])
    crown = np.array([280.0, 280.0]) - down * TALL_PX / 2

    def at(share: float, side: float = 0.0) -> tuple[float, float]:
        x, y = crown + down * share * TALL_PX + across * side * TALL_PX
        return float(x), float(y)

    def line(start: tuple[float, float], end: tuple[float, float]) -> None:
        ends = [tuple(round((value - 0.5) * 16) for value in point) for point in (start, end)]
        cv2.line(gray, ends[0], ends[1], 30, 2, cv2.LINE_AA, 4)

    middle, axes = at(0.1), (0.07 * TALL_PX, 0.1 * TALL_PX)
    centre = round((middle[0] - 0.5) * 16), round((middle[1] - 0.5) * 16)
    cv2.ellipse(gray, centre, tuple(round(axis * 16) for axis in axes), lean_deg, 0, 360, 30, 2, cv2.LINE_AA, 4)
    for share in (SOLE, *extra):
        line(at(share, -0.1), at(share, 0.1))
    noisy = np.clip(gray + rng.normal(0, noise, gray.shape), 0, 255).astype(np.uint8)
    marks = {"crown": at(CROWN), "chin": at(CHIN), "sole": at(SOLE), "head-left": at(0.1, 0.07), "knee": at(0.7)}
    return noisy, marks


def clicked(marks: dict, along_px: float, lean_deg: float = 0.0) -> dict:
    """All marks moved down the figure; the side of the head is moved across instead."""
    turn = radians(lean_deg)
    down, across = (-sin(turn), cos(turn)), (cos(turn), sin(turn))
    return {name: (x + along_px * way[0], y + along_px * way[1])
            for name, (x, y) in marks.items() for way in [across if name.startswith("head") else down]}


def assert_as_far_as_meant(snapped: dict, marks: dict, click_off_px: float) -> None:
    """The line is there, and is taken for the one that was meant as often as it is."""
    for name in ("crown", "chin", "sole", "head-left"):
        assert snapped[name].is_snapped, name
        left_px = np.hypot(*np.subtract(snapped[name].point, marks[name]))
        assert left_px == pytest.approx((1 - MEANT.get(name, MEANT_ACROSS)) * abs(click_off_px), abs=0.8), name


@pytest.mark.parametrize("along_px", [-6.0, 0.0, 6.0])
def test_a_click_beside_a_line_moves_towards_it(along_px):
    gray, marks = drawn()
    snapped = snap_marks(gray, clicked(marks, along_px), CLICK)
    assert_as_far_as_meant(snapped, marks, along_px)


@pytest.mark.parametrize("lean_deg", [-25.0, -8.0, 12.0])
def test_so_it_does_on_a_leaning_figure_in_paper_grain(lean_deg):
    gray, marks = drawn(lean_deg, noise=6.0)
    assert_as_far_as_meant(snap_marks(gray, clicked(marks, 5.0, lean_deg), CLICK), marks, 5.0)


def test_a_line_right_at_the_click_makes_it_surer_and_one_far_off_makes_it_less_sure():
    gray, marks = drawn()
    near, far = (snap_marks(gray, clicked(marks, off_px), CLICK)["crown"].sigma for off_px in (0.0, 8.0))
    assert near < CLICK < far + 0.1 * CLICK
    assert near < far


@pytest.mark.parametrize("stage", ["pencil", "final"])
def test_on_drawn_figures_in_hats_the_sigma_that_is_told_holds(stage):
    off = []
    for seed in range(41, 49):
        page, rng = draw_bench_page(seed, stage, None, 0.0), np.random.default_rng(seed)
        for figure in markable_figures(page.panel):
            crown, sole = np.array(figure["crown_px"]), np.array(figure["sole_px"])
            tall_px = float(np.hypot(*(sole - crown)))
            clicks = {name: tuple(point + rng.normal(0, CLICK * tall_px, 2)) for name, point in (("crown", crown), ("sole", sole))}
            for name, mark in snap_marks(page.gray, clicks, CLICK).items():
                wrong = np.subtract(mark.point, crown if name == "crown" else sole) @ (sole - crown) / tall_px**2
                off.append(wrong / mark.sigma)
    assert len(off) >= 8
    assert np.sqrt(np.mean(np.square(off))) < 1.6


def test_between_two_lines_the_click_is_kept():
    gray, marks = drawn(extra=(0.98, 1.02))
    snapped = snap_marks(gray, marks, CLICK)["sole"]
    assert (snapped.point, snapped.sigma, snapped.is_snapped) == (marks["sole"], CLICK, False)


def test_joints_through_which_no_line_passes_are_kept():
    gray, marks = drawn(extra=(0.71,))
    assert not snap_marks(gray, marks, CLICK)["knee"].is_snapped


@pytest.mark.parametrize("gray", [np.full((50, 50), 255, np.uint8), np.zeros((2, 2), np.uint8)], ids=["blank", "tiny"])
def test_where_nothing_is_drawn_every_click_is_kept(gray):
    marks = {"crown": (25.0, -3.0), "sole": (25.0, 60.0)}
    assert [one.is_snapped for one in snap_marks(gray, marks, CLICK).values()] == [False, False]


def test_a_figure_too_small_to_tell_lines_apart_or_without_soles_is_kept():
    gray, marks = drawn()
    small = {"crown": marks["crown"], "sole": (marks["crown"][0], marks["crown"][1] + 30)}
    for some in (small, {"crown": marks["crown"]}, {"crown": marks["crown"], "sole": marks["crown"]}):
        assert not any(one.is_snapped for one in snap_marks(gray, some, CLICK).values())


def test_a_mark_that_was_set_more_exactly_than_a_click_stays_and_is_as_sure_as_hand_and_line():
    gray, marks = drawn()
    clicks = clicked(marks, 2.0)
    snapped = snap_marks(gray, clicks, CLICK, {"crown": 0.3, "chin": 0.3, "knee": 0.3})
    assert all(snapped[name].point == clicks[name] for name in ("crown", "chin", "knee"))
    assert snapped["sole"].is_snapped
    for name in ("crown", "chin"):  # the line is 2 px wide
        assert np.hypot(0.3, 1.5 / 12**0.5) < snapped[name].sigma * TALL_PX < np.hypot(0.3, 4 / 12**0.5), name
    assert snapped["knee"].sigma * TALL_PX == pytest.approx(np.hypot(0.3, 1 / 12**0.5))


def test_a_mark_pointed_at_from_afar_is_kept_with_its_doubt():
    gray, marks = drawn()
    snapped = snap_marks(gray, marks, CLICK, {"crown": 0.1 * TALL_PX})
    assert not snapped["crown"].is_snapped
    assert snapped["crown"].sigma == pytest.approx(0.1, rel=0.01)
