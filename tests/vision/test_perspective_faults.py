"""Faults against a drawing's own perspective: a turned edge, a turned box, a box on another eye level; and silence otherwise."""

from dataclasses import replace

import numpy as np
import pytest

from board.vision.camera import camera_from_angles
from board.vision.line_segments import DrawnLines
from board.vision.object_perspective import ObjectFit, level_points, possible_points, shared_shift
from board.vision.perspective import solve_perspective
from board.vision.perspective_faults import are_drawn, find_faults
from board.vision.segment_rays import aimed, misses_deg
from board.vision.sure_points import runs_to_less_sure
from board.vision.thing_signs import run_apart
from tests.vision.seen_world import SIZE, edges_of_box, segments_of_boxes, turned_in_picture, with_hand_noise

CAMERA = camera_from_angles(1100, SIZE, yaw_deg=35)
TOLERANCES = {"stray_deg": 4.0, "split_px": 0.06 * SIZE[1]}
BOX = np.array([-1.0, -1.6, -7.5]), np.array([1.6, 1.2, 1.4])


def seen(box, camera=CAMERA, drop_px=0.0):
    """(12, 4) px of a box's edges, moved down with their eye level by `drop_px`."""
    return camera.project(edges_of_box(*box).reshape(-1, 3)).reshape(-1, 4) + np.array([0, drop_px, 0, drop_px])


def level_edges(box, camera=CAMERA, drop_px=0.0):
    edges = seen(box, camera, drop_px)
    return np.concatenate([edges[:4], edges[8:]])


def fit(edges):
    doubt_deg = np.hypot(0.5, DrawnLines(edges, np.full(len(edges), 0.8)).doubt_deg)
    return ObjectFit(edges, possible_points(CAMERA, SIZE[1]), SIZE[1], doubt_deg)


def shift_of(*things):
    """What things, each given by its edges (E, 4), say together of another eye level."""
    firsts = np.cumsum([0, *map(len, things)])
    rows = [first + np.arange(len(edges)) for first, edges in zip(firsts[:-1], things, strict=True)]
    return shared_shift([fit(edges) for edges in things], rows, 0.048 * SIZE[1])


def faults(segments):
    return find_faults(segments, solve_perspective(segments, SIZE), SIZE, **TOLERANCES)


@pytest.mark.parametrize("noise_deg", [0.0, 0.5, 1.0])
@pytest.mark.parametrize("seed", range(4))
def test_boxes_that_agree_are_no_fault(noise_deg, seed):
    found = faults(with_hand_noise(segments_of_boxes(CAMERA, seed), noise_deg, seed))
    assert (found.strays, found.splits) == ((), ())


@pytest.mark.parametrize("degrees", [-9.0, -5.5, 5.5, 9.0])
def test_one_turned_edge_of_a_box_is_told_by_its_degrees(degrees):
    turned = np.concatenate([seen(BOX), seen((BOX[0] + [0.2, 0, -5], BOX[1] * 1.5)), seen((BOX[0] + [3, 0, 0], BOX[1]))])
    turned[0] = turned_in_picture(turned[:1], np.array([degrees]))[0]
    (stray,) = faults(turned).strays
    assert list(stray.segments) == [0]
    assert stray.miss_deg == pytest.approx(abs(degrees), abs=0.3)
    assert stray.turn_deg is None
    assert misses_deg(stray.true_edges, stray.point.point[None])[0, 0] == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("turn", [-10.0, -6.0, 6.0, 10.0])
def test_a_box_turned_about_its_upright_is_told_by_its_turn(turn):
    other = camera_from_angles(1100, SIZE, yaw_deg=35 + turn)
    own = fit(level_edges(BOX, other)).turned()
    assert abs(own.turn_deg) == pytest.approx(abs(turn), abs=1)
    assert len(own.explained) >= 3


@pytest.mark.parametrize("drop_px", [-160.0, -110.0, 110.0, 160.0])
def test_a_box_on_another_eye_level_is_told_by_how_far_off_it_is(drop_px):
    other = shift_of(level_edges(BOX, drop_px=drop_px))
    assert other.shift_px == pytest.approx(drop_px, abs=0.03 * SIZE[1])
    assert len(other.explained) >= 3


@pytest.mark.parametrize("drop_px", [-160.0, 160.0])
def test_a_box_on_another_eye_level_beside_others_is_told(drop_px):
    others = [seen((BOX[0] + [0.2, 0, -5], BOX[1] * 1.5)), seen((BOX[0] + [3, 0, 0], BOX[1]))]
    (split,) = faults(np.concatenate([*others, seen((BOX[0] + [5.5, 0, -1], BOX[1]), drop_px=drop_px)])).splits
    assert split.apart_px == pytest.approx(drop_px, abs=0.03 * SIZE[1])
    assert (split.segments >= 24).all()


def test_a_box_that_agrees_has_no_perspective_of_its_own():
    assert fit(level_edges(BOX)).turned() is None
    assert shift_of(level_edges(BOX), level_edges((BOX[0] + [3, 0, 0], BOX[1]))) is None
    assert shared_shift([], [], 1.0) is None


def test_two_edges_show_no_perspective_of_their_own():
    assert fit(seen(BOX)[:2]).turned() is None
    others = [seen((BOX[0] + [0.2, 0, -5], BOX[1] * 1.5)), seen((BOX[0] + [3, 0, 0], BOX[1]))]
    assert faults(np.concatenate([*others, seen((BOX[0] + [5.5, 0, -1], BOX[1]), drop_px=160)[:2]])).splits == ()


def test_things_that_say_little_each_say_more_together_of_another_eye_level():
    things = [level_edges((BOX[0] + [x, 0, 0], BOX[1]), drop_px=110)[:3] for x in (0.0, 2.5, -2.0)]
    together = shift_of(*things)
    assert together.shift_px == pytest.approx(110, abs=0.03 * SIZE[1])
    assert together.gain > 2 * max(one.gain if (one := shift_of(edges)) else 0.0 for edges in things)


def test_things_that_disagree_on_the_eye_level_say_less_of_one():
    alike, apart = ([level_edges((BOX[0] + [x, 0, 0], BOX[1]), drop_px=drop)[:3] for x, drop in ((0.0, 110), (2.5, other))]
                    for other in (110, -140))
    assert shift_of(*apart).gain < 0.7 * shift_of(*alike).gain


def test_unturned_level_points_are_the_cameras():
    points = level_points(CAMERA, np.array([0.0]), np.array([0.0]))[0]
    true = [CAMERA.vanishing_point([1, 0, 0]), CAMERA.vanishing_point([0, 0, 1])]
    assert points == pytest.approx(np.array(true))


def test_an_aimed_edge_keeps_its_middle_and_length():
    edge, point = np.array([10.0, 20, 110, 60]), np.array([900.0, 500, 1])
    true = aimed(edge, point)
    assert (true[:2] + true[2:]) / 2 == pytest.approx([60, 40])
    assert np.hypot(*(true[2:] - true[:2])) == pytest.approx(np.hypot(100, 40))
    assert misses_deg(true[None], point[None])[0, 0] == pytest.approx(0, abs=1e-6)


def test_an_unsure_perspective_judges_nothing():
    segments = with_hand_noise(segments_of_boxes(CAMERA, 1, 2), 4.0, 1)
    perspective = solve_perspective(segments, SIZE)
    assert not perspective or find_faults(segments, perspective, SIZE, **TOLERANCES).strays == ()


def test_no_segments_are_no_fault():
    perspective = solve_perspective(segments_of_boxes(CAMERA, 1), SIZE)
    assert find_faults(np.zeros((0, 4)), perspective, SIZE, **TOLERANCES).strays == ()


def test_parallel_edges_show_no_thing_in_space():
    edges = np.array([[0.0, 0, 60, 60], [20, 0, 80, 61], [40, 0, 100, 59]])
    assert not run_apart(edges)
    assert run_apart(np.concatenate([edges, [[0.0, 0, 80, 5]]]))
    assert not run_apart(edges[:0])


def test_faint_lines_are_not_the_drawing():
    edges = segments_of_boxes(CAMERA, 1)
    depths = np.where(np.arange(len(edges)) % 3 == 0, 40.0, 150.0)
    assert (are_drawn(edges, 1200.0, depths) == (depths > 100)).all()
    assert are_drawn(edges, 1200.0, None).all()


def turned_about_its_middle(box, degrees):
    """(12, 4) px of the edges of a box that stands turned about its upright."""
    points, (cos, sin) = edges_of_box(*box).reshape(-1, 3), (np.cos(np.radians(degrees)), np.sin(np.radians(degrees)))
    middle = points.mean(0)
    return CAMERA.project((points - middle) @ np.array([[cos, 0, -sin], [0, 1, 0], [sin, 0, cos]]) + middle).reshape(-1, 4)


@pytest.mark.parametrize("degrees", [-35.0, -25.0, 25.0, 35.0])
def test_an_edge_of_a_thing_that_stands_askew_is_told_with_nothing(degrees):
    """Its other level edges miss the point as well: it stands askew, and nobody bent one edge of it."""
    askew = turned_about_its_middle(BOX, degrees)
    scene = np.concatenate([seen((BOX[0] + [0.2, 0, -5], BOX[1] * 1.5)), seen((BOX[0] + [3, 0, 0], BOX[1])), askew])
    assert faults(scene).strays == ()


def test_a_line_to_a_point_that_only_the_camera_tells_of_may_be_meant():
    boxes = segments_of_boxes(CAMERA, 1)
    perspective = solve_perspective(boxes, SIZE)
    two = replace(perspective, vanishing_points=perspective.vanishing_points[:2])
    third = perspective.vanishing_points[2].point
    to_it = aimed(np.array([300.0, 300, 420, 330]), third)[None]
    askew = aimed(np.array([300.0, 300, 420, 330]), third + [0, 900 * third[2], 0])[None]
    assert runs_to_less_sure(to_it, two, np.array([0.4])).all()
    assert not runs_to_less_sure(to_it, perspective, np.array([0.4])).any()
    assert not runs_to_less_sure(askew, two, np.array([0.4])).any()
