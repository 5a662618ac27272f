"""What tells an edge that is off from other lines that miss a vanishing point."""

import numpy as np
import pytest

from board.vision.camera import camera_from_angles
from board.vision.edge_signs import EdgeSigns
from board.vision.fault_odds import EDGE_OFF, EYE_LEVEL_SPLIT, THING_TURNED, confidence
from board.vision.object_perspective import ObjectFit, OtherEyeLevel, possible_points
from board.vision.perspective import solve_perspective
from board.vision.thing_signs import level_signs, thing_signs
from board.vision.touching_things import TouchingThings
from tests.vision.seen_world import SIZE, edges_of_box, turned_in_picture

CAMERA = camera_from_angles(1100, SIZE, yaw_deg=35)
DIAGONAL_PX = float(np.hypot(*SIZE))
NEAR, BESIDE, FAR = (np.array(corner) for corner in ([2.6, -1.6, -6.0], [5.0, -1.6, -6.5], [2.8, -1.6, -11.0]))
SIDES = np.array([1.2, 1.0, 1.2])
TOP_EDGE = 1  # of a box: level, across, far from the floor


def seen(*boxes):
    edges = np.concatenate([edges_of_box(corner, SIDES) for corner in boxes])
    return CAMERA.project(edges.reshape(-1, 3)).reshape(-1, 4)


def turned(segment, degrees):
    return turned_in_picture(segment[None], np.array([degrees]))[0]


def signs_of(segments, row=TOP_EDGE):
    """Of a row that was turned off, for the point that it was meant for."""
    straight = seen(NEAR, BESIDE, FAR)
    perspective = solve_perspective(straight, SIZE)
    lines = EdgeSigns(segments, perspective, DIAGONAL_PX, np.full(len(segments), 0.5))
    before = EdgeSigns(straight, perspective, DIAGONAL_PX, np.full(len(straight), 0.5))
    point = int(before.nearest[row])
    assert row in lines.candidates(point, 4.0)
    return lines.of(row, point)


@pytest.fixture
def one_off():
    segments = seen(NEAR, BESIDE, FAR)
    segments[TOP_EDGE] = turned(segments[TOP_EDGE], 7.0)
    return segments


def test_a_turned_edge_among_edges_in_order_is_likely_off(one_off):
    signs = signs_of(one_off)
    assert EDGE_OFF.of(signs) > EDGE_OFF.least
    assert (signs["strays_held"] + signs["strays_loose"], signs["as_askew"], signs["above_eye_level"]) == (0, 0, 0)
    assert signs["companions"] >= 1


def test_the_more_lines_about_it_run_anywhere_the_less_likely_it_is_off(one_off):
    middle = (one_off[TOP_EDGE, :2] + one_off[TOP_EDGE, 2:]) / 2
    limbs = np.array([np.r_[middle, middle] + np.array([-30, 20 + 9 * k, 25, -40 - 13 * k]) for k in range(1, 5)])
    among_limbs, alone = signs_of(np.concatenate([one_off, limbs])), signs_of(one_off)
    assert among_limbs["strays_held"] > alone["strays_held"]
    assert EDGE_OFF.of(among_limbs) < EDGE_OFF.of(alone) - 1


def test_strokes_that_run_alike_all_over_the_picture_are_rain_and_no_edges(one_off):
    middle, along = (one_off[TOP_EDGE, :2] + one_off[TOP_EDGE, 2:]) / 2, one_off[TOP_EDGE, 2:] - one_off[TOP_EDGE, :2]
    away = np.array([[-420, -90], [-60, -330], [380, 260], [-330, 290], [440, -150]])
    rain = np.array([np.r_[middle + shift - 0.4 * along, middle + shift + 0.4 * along] for shift in away])
    in_rain, alone = signs_of(np.concatenate([one_off, rain])), signs_of(one_off)
    assert in_rain["strays_alike"] > alone["strays_alike"]
    assert EDGE_OFF.of(in_rain) < EDGE_OFF.of(alone)


def test_a_line_fainter_than_the_drawing_is_less_likely_an_edge_of_it(one_off):
    perspective = solve_perspective(seen(NEAR, BESIDE, FAR), SIZE)
    depths = np.full(len(one_off), 0.8)
    depths[TOP_EDGE] = 0.72
    lines = EdgeSigns(one_off, perspective, DIAGONAL_PX, np.full(len(one_off), 0.5), depths)
    assert lines.darkness[TOP_EDGE] == pytest.approx(np.log(0.9))
    assert np.delete(lines.darkness, TOP_EDGE) == pytest.approx(0)
    assert EDGE_OFF.weights["darkness"] > 0


def test_edges_that_share_a_point_of_their_own_stand_askew(one_off):
    fellows = one_off.copy()
    for row in (0, 2, 3):
        fellows[row] = turned(fellows[row], 7.0)
    assert signs_of(fellows)["as_askew"] + signs_of(fellows)["as_raised"] > 0
    assert EDGE_OFF.of(signs_of(fellows)) < EDGE_OFF.of(signs_of(one_off))


def test_what_lies_above_the_eye_level_may_be_a_roof(one_off):
    perspective = solve_perspective(seen(NEAR, BESIDE, FAR), SIZE)
    lines = EdgeSigns(one_off, perspective, DIAGONAL_PX, np.full(len(one_off), 0.5))
    level = CAMERA.horizon()
    y = -(level[0] * 600 + level[2]) / level[1]
    assert list(lines.are_above(np.array([[600, y - 20], [600, y + 20]]))) == [True, False]


def test_a_line_too_far_off_was_not_meant_for_the_point(one_off):
    perspective = solve_perspective(seen(NEAR, BESIDE, FAR), SIZE)
    wide = one_off.copy()
    wide[TOP_EDGE] = turned(wide[TOP_EDGE], 12.0)
    lines = EdgeSigns(wide, perspective, DIAGONAL_PX, np.full(len(wide), 0.5))
    assert all(TOP_EDGE not in lines.candidates(point, 4.0) for point in range(len(lines.points)))


def test_every_sign_has_its_weight(one_off):
    perspective = solve_perspective(seen(NEAR, BESIDE, FAR), SIZE)
    assert signs_of(one_off).keys() == EDGE_OFF.weights.keys()
    other = camera_from_angles(1100, SIZE, yaw_deg=45)
    segments = np.concatenate([seen(NEAR, BESIDE, FAR), other.project(edges_of_box(NEAR, SIDES).reshape(-1, 3)).reshape(-1, 4)])
    lines = EdgeSigns(segments, perspective, DIAGONAL_PX, np.full(len(segments), 0.5))
    rows = max(TouchingThings(lines, perspective).objects(), key=len)
    fit = ObjectFit(segments[rows], possible_points(perspective.camera, SIZE[1]), SIZE[1], lines.doubt_deg[rows])
    assert thing_signs(fit.turned(), fit, rows, lines).keys() == THING_TURNED.weights.keys()
    level = OtherEyeLevel(90.0, rows[:3], 12.0, 0.0)
    assert level_signs(level, SIZE[1], lines).keys() == EYE_LEVEL_SPLIT.weights.keys()


def test_even_odds_are_a_confidence_of_a_half():
    assert confidence(0.0) == 0.5
    assert confidence(np.log(9)) == pytest.approx(0.9)
