"""A still laid under a panel by two points of each."""

import json
from math import cos, pi, radians, sin
from pathlib import Path
from random import Random

import numpy as np
import pytest

from board.exact_camera import ExactCamera
from board.not_measured import NotMeasured
from board.page_space import PictureFrame
from board.perspective_grid import box_at
from board.still_placement import still_to_page
from board.worker.underlay.floors import floor_of

# Run here and by tests/js/still_placement.test.js: the two languages agree.
VECTORS = json.loads((Path(__file__).parent / "vectors" / "still_placement.json").read_text())
STILL, PAGE = PictureFrame(1600, 900), PictureFrame(1650, 2550)
IN_STILL = [[0.2, 0.7], [0.8, 0.25]]
NUMBERS = {"eye_level": [[0.0, 0.4], [1.0, 0.42]], "focal_px": 1000.0, "pitch_deg": 3.0, "vanishing_points": [
    {"point": [4.0, 0.45, 1.0], "role": "level"}, {"point": [0.0, 1.0, 0.0], "role": "upright"}]}


def turned(point_px, scale, angle, shift_px):
    x, y = point_px
    return (scale * (x * cos(angle) - y * sin(angle)) + shift_px[0], scale * (x * sin(angle) + y * cos(angle)) + shift_px[1])


@pytest.mark.parametrize("seed", range(20))
def test_two_points_tell_scale_turn_and_shift(seed):
    random = Random(seed)
    scale, angle = random.uniform(0.2, 3), random.uniform(-pi, pi)
    shift = random.uniform(-500, 2000), random.uniform(-500, 2000)

    def onto(point):
        return PAGE.to_page(turned(STILL.to_pixels(point), scale, angle, shift))

    placed = still_to_page(IN_STILL, [onto(point) for point in IN_STILL], STILL, PAGE)
    seen = placed.numbers(NUMBERS)
    assert seen["focal_px"] == pytest.approx(1000 * scale)
    assert seen["eye_level"] == [pytest.approx(onto(point), abs=1e-9) for point in NUMBERS["eye_level"]]
    assert seen["vanishing_points"][0]["point"] == pytest.approx([*onto([4.0, 0.45]), 1.0], abs=1e-9)
    x, y, w = seen["vanishing_points"][1]["point"]
    assert (w, PAGE.to_pixels((x, y))) == (0.0, pytest.approx(turned((0.0, 900.0), scale, angle, (0, 0)), abs=1e-9))


def test_a_crop_keeps_the_eye_level_of_the_camera():
    """A level camera sees its eye level in the middle of its picture; the crop shows it where the crop has that line."""
    numbers = ExactCamera(focal_px=1236.0, eye_height_m=1.6).numbers(1600, 900)
    crop = still_to_page([[0.25, 0.25], [0.75, 0.75]], [[0.1, 0.1], [0.9, 0.1 + 0.8 * 1650 / 2550 * 9 / 16]], STILL, PAGE)
    middle = 0.1 + 0.4 * 1650 / 2550 * 9 / 16
    assert [y for _, y in crop.numbers(numbers)["eye_level"]] == pytest.approx([middle, middle])


@pytest.mark.parametrize(("pitch_deg", "yaw_deg"), [(0, 0), (0, 40), (0.3, 35), (-14, 0), (12, 50)])
def test_a_box_stands_in_a_crop_as_the_camera_sees_it(pitch_deg, yaw_deg):
    """Projected by hand: right, up and back are the camera's axes in the set."""
    focal_px, eye_m = 1300.0, 1.6
    p, y = radians(pitch_deg), radians(yaw_deg)
    right, ahead = np.array([cos(y), 0, sin(y)]), np.array([sin(y) * cos(p), sin(p), -cos(y) * cos(p)])
    axes = np.array([right, np.cross(ahead, right), ahead])

    def seen(point_m):
        x, down, depth = axes @ (np.array(point_m) - [0, eye_m, 0])
        return np.array([focal_px * x / depth + 800, focal_px * down / depth + 450])

    foot = np.array([0, eye_m, 0]) + 6 * (0.35 * right + [sin(y), 0, -cos(y)]) - [0, eye_m, 0]
    corners = [foot + [x, up, -back] for up in (0.0, 0.75) for x, back in ((-0.8, 0), (0.8, 0), (0.8, 0.8), (-0.8, 0.8))]
    # One and a half times as large on the page, and the panel shows what is around the box.
    onto = still_to_page([[0, 0], [1, 1]], [PAGE.to_page((-900, 300)), PAGE.to_page((1500, 1650))], STILL, PAGE)
    spots = [1.5 * seen(corner) + [-900, 300] for corner in corners]
    (left, top), (right_px, bottom) = np.min(spots, 0) - 90, np.max(spots, 0) + 60
    panel = [PAGE.to_page(corner) for corner in ((left, top), (right_px, top), (right_px, bottom), (left, bottom))]
    numbers = onto.numbers(ExactCamera(focal_px, pitch_deg, 0.0, yaw_deg).numbers(1600, 900))
    floor = floor_of({"polygon": panel, "numbers": numbers, "eye_height_m": eye_m}, PAGE, {})
    assert not floor.view.focal_is_assumed
    turn = 0.0 if yaw_deg <= 45 else -90.0  # its depth runs along what leads further into the picture
    box = box_at(floor.view, tuple(1.5 * seen(foot) + [-900, 300]), width_m=1.6, height_m=0.75, depth_m=0.8, turn_deg=turn)
    assert np.array(box.corners) == pytest.approx(np.array(spots), abs=0.01)


@pytest.mark.parametrize(("in_still", "on_page", "where"), [
    ([[0.5, 0.5], [0.5, 0.5]], [[0.1, 0.1], [0.9, 0.9]], "still"),
    ([[0.1, 0.1], [0.9, 0.9]], [[0.5, 0.5], [0.501, 0.5]], "panel"),
])
def test_the_same_point_twice_places_nothing(in_still, on_page, where):
    placed = still_to_page(in_still, on_page, STILL, PAGE)
    assert isinstance(placed, NotMeasured)
    assert where in placed.reason


def placed_by(row: dict):
    frames = (PictureFrame(row[name]["width"], row[name]["height"]) for name in ("still", "page"))
    return still_to_page(row["in_still"], row["on_page"], *frames)


@pytest.mark.parametrize("row", VECTORS["placed"], ids=lambda row: row["name"])
def test_the_table_of_both_languages(row):
    placed = placed_by(row)
    assert [placed.turn.real, placed.turn.imag] == pytest.approx(row["turn"], abs=1e-9)
    assert [placed.shift.real, placed.shift.imag] == pytest.approx(row["shift"], abs=1e-6)


@pytest.mark.parametrize("row", VECTORS["refused"], ids=lambda row: row["name"])
def test_both_languages_refuse_in_the_same_words(row):
    assert placed_by(row).reason == row["reason"]
