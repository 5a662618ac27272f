"""Panels of one revision found on the next, by exact frames and a known map."""

import numpy as np
import pytest

from board.vision.local_warp import still
from board.vision.page_registration import PageRegistration
from board.vision.panel_matching import match_panels
from tests.vision.drawn_stages import HEIGHT, WIDTH, draw_painted, draw_pencil, drawn_shapes, frame_polygons, mapped, turned

SIZE = WIDTH, HEIGHT


def known_map(H: np.ndarray) -> PageRegistration:
    return PageRegistration(SIZE, SIZE, H, still(SIZE), 1.0)


def box(left, top, width, height) -> np.ndarray:
    return np.array([[left, top], [left + width, top], [left + width, top + height], [left, top + height]], float)


def told(before, after, H=None) -> set:
    matching = match_panels(before, after, known_map(np.eye(3) if H is None else H))
    return {(match.kind, match.before, match.after) for match in matching.matches}


KEPT = {("kept", (i,), (i,)) for i in range(4)}


@pytest.mark.parametrize("turn_deg", [-8, 0, 3])
def test_panels_of_a_turned_scan_are_kept(turn_deg):
    H_page_to_scan = turned(turn_deg, scale=0.9, shift=(20, -10))
    scan = [mapped(H_page_to_scan, polygon) for polygon in frame_polygons()]
    assert told(scan, frame_polygons(), np.linalg.inv(H_page_to_scan)) == KEPT


@pytest.mark.parametrize("seed", range(5))
def test_frames_that_wobble_by_half_a_percent_are_kept(seed):
    rng = np.random.default_rng(seed)
    wobbly = [polygon + rng.uniform(-3, 3, polygon.shape) for polygon in frame_polygons()]
    assert told(wobbly, frame_polygons()) == KEPT


def test_a_panel_that_slid_is_moved_and_one_that_grew_is_resized():
    after = frame_polygons()
    after[1], after[2] = after[1] + [0, 15], box(305, 300, 200, 230)
    kinds = ["kept", "moved", "resized", "kept"]
    assert told(frame_polygons(), after) == {(kind, (i,), (i,)) for i, kind in enumerate(kinds)}


def test_a_panel_that_went_elsewhere_is_known_by_its_drawing_only():
    frames = ((30, 30, 540, 250), (30, 300, 540, 240))
    turned_about = ((30, 30, 540, 240), (30, 290, 540, 250))
    shapes = drawn_shapes(seed=6, frames=frames)
    swapped = [[type(s)(s.outline + [0, dy], s.tone) for s in panel] for panel, dy in ((shapes[1], -270), (shapes[0], 260))]
    pages = draw_pencil(shapes, frames), draw_painted(swapped, turned_about)
    first = [box(*frame) for frame in frames]
    then = [box(*frame) for frame in turned_about]
    registration = known_map(np.diag([1.0, 1.0, 1.0]) + np.array([[0, 0, 0], [0, 0, 2000], [0, 0, 0]]))  # tells nothing
    by_drawing = match_panels(first, then, registration, pages).matches
    assert {(match.kind, match.before, match.after) for match in by_drawing} == {("moved", (0,), (1,)), ("moved", (1,), (0,))}
    by_place = match_panels(first, then, registration).matches
    assert sorted(match.kind for match in by_place) == ["added", "added", "dropped", "dropped"]


def test_a_panel_cut_in_two_is_split_and_two_made_one_are_merged():
    halves = [box(30, 30, 260, 250), box(300, 30, 270, 250)]
    others = frame_polygons()[1:]
    assert ("split", (0,), (0, 1)) in told(frame_polygons(), [*halves, *others])
    assert ("merged", (0, 1), (0,)) in told([*halves, *others], frame_polygons())


def test_an_inset_is_added_and_the_panel_under_it_kept():
    assert told(frame_polygons(), [*frame_polygons(), box(60, 60, 120, 80)]) == KEPT | {("added", (), (4,))}


def test_a_panel_that_was_left_out_is_dropped():
    assert told(frame_polygons(), frame_polygons()[:3]) == {("kept", (i,), (i,)) for i in range(3)} | {("dropped", (3,), ())}


ONE = [box(0, 0, 90, 90)]


@pytest.mark.parametrize(("before", "after", "kinds"), [([], [], []), (ONE, [], ["dropped"]), ([], ONE, ["added"])])
def test_pages_without_panels_are_matched_too(before, after, kinds):
    assert [match.kind for match in match_panels(before, after, known_map(np.eye(3))).matches] == kinds


@pytest.mark.parametrize("seed", range(6))
def test_every_panel_stands_in_exactly_one_match(seed):
    rng = np.random.default_rng(seed)
    before, after = ([box(*rng.uniform([0, 0, 20, 20], [400, 600, 200, 240])) for _ in range(8)] for _ in range(2))
    matches = match_panels(before, after, known_map(np.eye(3))).matches
    assert sorted(i for match in matches for i in match.before) == list(range(8))
    assert sorted(j for match in matches for j in match.after) == list(range(8))


def test_an_outline_without_an_inside_does_no_harm():
    flat = np.array([[5, 5], [5, 5], [5, 5]], float)
    kept = {("kept", (i + 1,), (i,)) for i in range(4)}
    assert told([flat, *frame_polygons()], frame_polygons()) == kept | {("dropped", (0,), ())}
