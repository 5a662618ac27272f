"""Floors, walls and boxes: one table of exact cameras, whose lines were found by projecting points of space."""

import json
from math import inf, nan
from pathlib import Path

import numpy as np
import pytest

from board.ground_view import GroundView, ground_view
from board.not_measured import NotMeasured
from board.perspective_grid import LEAST_GAP_PX, Box, Grid, box_at, clip_to_polygon, perspective_grid

VECTORS = json.loads((Path(__file__).parent / "vectors" / "perspective_grid.json").read_text())
NEAR = {"abs": 1e-4, "rel": 1e-7}
INPUTS = ("focal_px", "eye_height_m", "diagonal_px")
RECTANGLE = ((0.0, 0.0), (1200.0, 0.0), (1200.0, 800.0), (0.0, 800.0))


def rows(name):
    return pytest.mark.parametrize("row", VECTORS[name], ids=lambda row: row["name"])


def view_of(row) -> GroundView | NotMeasured:
    more = {name: row[name] for name in INPUTS}
    return ground_view(row["horizon"], row["level"], row["upright"], middle=tuple(row["middle"]), centre=row.get("known_centre"),
                       **more)


def size_of(row) -> dict:
    return {name: row[name] for name in ("width_m", "height_m", "depth_m", "turn_deg")}


def seen_view(name: str) -> GroundView:
    return view_of(next(row for row in VECTORS["views"] if row["name"] == name))


@rows("views")
def test_the_camera_is_found_again_from_its_points(row):
    view, wanted = view_of(row), row["view"]
    assert isinstance(view, GroundView)
    assert (view.is_measured, view.focal_is_assumed) == (wanted["is_measured"], wanted["focal_is_assumed"])
    assert (*view.centre, view.focal_px, view.eye_height) == pytest.approx(
        (*wanted["centre"], wanted["focal_px"], wanted["eye_height"]), abs=2e-3)
    assert np.array([view.down, *view.level]) == pytest.approx(np.array([wanted["down"], *wanted["level"]]), abs=1e-5)


@rows("views")
def test_the_eye_level_is_the_one_that_was_given(row):
    given = np.array(row["horizon"]) / np.hypot(*row["horizon"][:2]) * np.sign(row["horizon"][1])
    assert np.array(view_of(row).horizon) == pytest.approx(given, abs=1e-3)


@rows("no_view")
def test_where_no_floor_can_be_laid_it_says_why(row):
    assert view_of(row) == NotMeasured(row["reason"])


@rows("clips")
def test_a_line_is_cut_at_the_outline(row):
    assert list(clip_to_polygon(tuple(row["line"]), row["polygon"])) == [
        tuple(pytest.approx(tuple(end)) for end in segment) for segment in row["segments"]]


@rows("grids")
def test_the_floor_has_the_lines_that_the_camera_sees(row):
    grid = perspective_grid(view_of(row), [tuple(p) for p in row["polygon"]], row["step"])
    assert isinstance(grid, Grid)
    for pencil, wanted in zip(grid.floor, row["floor"], strict=True):
        assert_same_lines(pencil, wanted)


def in_order(segment):
    """From left to right; an upright's upper end first, whatever is rounded."""
    return sorted(segment, key=lambda end: (round(end[0], 3), end[1]))


def assert_same_lines(segments, wanted):
    ours, theirs = (np.array([in_order(segment) for segment in some]).reshape(-1, 2, 2) for some in (segments, wanted))
    assert ours.shape == theirs.shape
    apart = np.abs(ours[:, None] - theirs[None]).max((2, 3)).min(1)
    assert apart.max(initial=0) < 2e-3


@rows("walls")
def test_walls_stand_on_their_foot_and_end_where_their_squares_grow_too_flat(row):
    grid = perspective_grid(view_of(row), [tuple(p) for p in row["polygon"]], row["step"])
    assert_same_lines([segment for pencil in grid.walls for segment in pencil], row["walls"])


@rows("boxes")
def test_a_box_stands_where_the_camera_sees_it(row):
    box = box_at(view_of(row), tuple(row["foot"]), **size_of(row))
    assert isinstance(box, Box)
    assert np.array(box.corners) == pytest.approx(np.array(row["corners"]), abs=2e-3)
    assert len(box.edges) == 12


@rows("no_box")
def test_where_no_box_can_stand_it_says_why(row):
    assert box_at(view_of(row), tuple(row["foot"]), **size_of(row)) == NotMeasured(row["reason"])


@pytest.mark.parametrize("name", ["two points", "tilted down", "tilted up, rolled", "one point"])
def test_the_lines_of_a_wall_run_to_its_point_or_stand_upright(name):
    view = seen_view(name)
    grid = perspective_grid(view, RECTANGLE, 1.0)
    points = [np.array(view.seen(direction)) for direction in view.level] + [np.array(view.upright)]
    assert grid.walls
    for pencil in grid.walls:
        lines = [np.cross([*a, 1], [*b, 1]) for a, b in pencil if np.hypot(a[0] - b[0], a[1] - b[1]) > 20]
        misses = [max(abs(line / np.linalg.norm(line[:2]) @ (point / np.linalg.norm(point))) for line in lines) for point in points]
        assert min(misses) < 1e-6


def test_uprights_of_a_wall_stand_at_even_steps_in_depth():
    """Depth is f h / b: seen from a level camera, 1 / b grows by equal steps along the wall's foot."""
    view = seen_view("one point")
    grid = perspective_grid(view, RECTANGLE, 1.0)
    uprights = next(pencil for pencil in grid.walls if all(abs(a[0] - b[0]) < 1e-6 for a, b in pencil))
    depths = sorted(600.0 / abs(600.0 - a[0]) for a, _ in uprights)
    steps = np.diff(depths)
    assert len(depths) > 3
    assert steps == pytest.approx(np.full(len(steps), steps[0]), rel=1e-5)


def test_nothing_is_drawn_outside_the_panel_or_above_the_floor():
    view = seen_view("two points")
    polygon = ((100.0, 100.0), (700.0, 60.0), (640.0, 760.0), (380.0, 500.0), (90.0, 740.0))
    grid = perspective_grid(view, polygon, 0.5)
    ends = np.array([end for pencil in (*grid.floor, *grid.walls) for segment in pencil for end in segment])
    assert (ends >= [89.999, 59.999]).all() and (ends <= [700.001, 760.001]).all()
    floor = np.array([end for pencil in grid.floor for segment in pencil for end in segment])
    assert (floor[:, 1] > 400 + LEAST_GAP_PX).all()


def test_where_only_a_ceiling_is_seen_there_is_no_floor_but_walls():
    view = seen_view("two points")
    grid = perspective_grid(view, ((100.0, 50.0), (1100.0, 50.0), (1100.0, 380.0), (100.0, 380.0)), 1.0)
    assert (grid.floor, grid.eye_level) == ((), ())
    assert grid.walls


@pytest.mark.parametrize("step", [0.0, -1.0, nan, inf])
def test_a_grid_without_a_step_is_none(step):
    assert perspective_grid(seen_view("one point"), RECTANGLE, step) == NotMeasured("A grid needs a step.")


@pytest.mark.parametrize("step", [1e-4, 1e-2, 1e3])
def test_steps_too_fine_or_too_wide_give_few_lines(step):
    grid = perspective_grid(seen_view("tilted down"), RECTANGLE, step)
    assert sum(len(pencil) for pencil in (*grid.floor, *grid.walls)) < 1200
