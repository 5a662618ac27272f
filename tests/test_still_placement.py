"""A still laid under a panel by two points of each."""

import json
from math import cos, pi, sin
from pathlib import Path
from random import Random

import pytest

from board.exact_camera import ExactCamera
from board.not_measured import NotMeasured
from board.page_space import PictureFrame
from board.still_placement import still_to_page

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
