"""Perspective: drawn rooms are measured, what is bent is told, what shows nothing is not measured."""

import cv2
import numpy as np
import pytest

from board.check_contract import MARK_KINDS, Findings, PageUnderCheck, PanelUnderCheck
from board.not_measured import NotMeasured
from board.page_checks.perspective import check
from board.page_format import FORMATS
from board.vision.camera import camera_from_angles

WIDTH, HEIGHT = 1400, 1000
PANEL = PanelUnderCheck(7, 1, ((0.05, 0.05), (0.95, 0.05), (0.95, 0.95), (0.05, 0.95)))
BOXES = [((-3.0, -1.6, -9.0), (2.0, 2.6, 2.0)), ((1.2, -1.6, -7.0), (1.4, 0.9, 1.2)), ((-0.8, -1.6, -12.0), (1.6, 3.4, 2.5)),
         ((2.6, -1.6, -13.0), (2.0, 1.8, 2.0))]


def edges_of_box(corner, size):
    """(12, 2, 3): the edges of an upright box, four for each of its three directions."""
    corner, size = np.array(corner), np.array(size)
    edges = []
    for axis in range(3):
        for a in (0, 1):
            for b in (0, 1):
                start = np.insert([a, b], axis, 0)
                end = np.insert([a, b], axis, 1)
                edges.append([corner + start * size, corner + end * size])
    return np.array(edges, float)


def draw(camera, boxes=BOXES, bend=None):
    """A page with one framed panel of boxes; `bend` (box, edge, degrees) turns one edge about its middle."""
    gray = np.full((HEIGHT, WIDTH), 255, np.uint8)
    for number, box in enumerate(boxes):
        for k, edge in enumerate(edges_of_box(*box)):
            ends = camera.project(edge)
            if bend and bend[:2] == (number, k):
                ends = turn(ends, bend[2])
            draw_line(gray, *ends)
    cv2.rectangle(gray, (70, 50), (1330, 950), 0, 4)
    return gray


def turn(ends, degrees):
    cos, sin = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    return (ends - ends.mean(0)) @ np.array([[cos, sin], [-sin, cos]]) + ends.mean(0)


def draw_line(gray, start, end):
    shifted = [tuple(int(v) for v in np.round((np.array(point) - 0.5) * 16)) for point in (start, end)]
    cv2.line(gray, *shifted, 40, 2, cv2.LINE_AA, 4)


def checked(gray, panels=(PANEL,), stage="final"):
    return check(PageUnderCheck(gray, stage, FORMATS["a4"], panels=panels))


CAMERA = camera_from_angles(1300, (WIDTH, HEIGHT), yaw_deg=28)


def miss_px(line, point) -> float:
    """How far an end of an edge lies off the line through its middle and the point."""
    first, second = (np.array([x * WIDTH, y * HEIGHT]) for x, y in line)
    middle = (first + second) / 2
    along = np.array([point[0] * WIDTH, point[1] * HEIGHT]) - middle * point[2]
    along /= np.linalg.norm(along)
    return abs(float(along[0] * (first - middle)[1] - along[1] * (first - middle)[0]))


def test_boxes_that_agree_raise_nothing_and_give_their_eye_level():
    result = checked(draw(CAMERA))
    assert isinstance(result, Findings)
    assert (result.found, result.not_measured) == ((), {})
    (panel,) = result.numbers["panels"]
    assert panel["panel"] == 7
    assert [y for _, y in panel["eye_level"]] == pytest.approx([0.5, 0.5], abs=0.01)
    assert {p["role"] for p in panel["vanishing_points"]} == {"upright", "level"}
    for point, family in zip(panel["vanishing_points"], panel["edges"], strict=True):
        assert family["role"] == point["role"] and len(family["lines"]) >= 3
        assert max(miss_px(line, point["point"]) for line in family["lines"]) < 2


def test_an_edge_that_was_turned_is_found_with_its_degrees():
    (finding,) = checked(draw(CAMERA, bend=(1, 3, 6.0))).found
    assert (finding.finding, finding.panel, finding.unit) == ("stray-edge", 7, "°")
    assert abs(finding.measured - 6) < 1
    assert {mark["kind"] for mark in finding.geometry["marks"]} >= {"edge", "true-edge", "support", "eye-level"}
    assert {mark["kind"] for mark in finding.geometry["marks"]} <= set(MARK_KINDS)


def test_an_upright_that_was_turned_is_told_to_lean():
    (finding,) = checked(draw(CAMERA, bend=(1, 5, 6.0))).found
    assert (finding.finding, finding.unit) == ("upright-lean", "°")
    assert abs(finding.measured - 6) < 1
    assert "leans by" in finding.text


def test_a_hatching_over_the_whole_width_changes_nothing():
    gray = draw(CAMERA, bend=(1, 3, 6.0))
    for k in range(70):
        draw_line(gray, (85 + 15 * k, 230), (255 + 15 * k, 60))
    result = checked(gray)
    assert [y for _, y in result.numbers["panels"][0]["eye_level"]] == pytest.approx([0.5, 0.5], abs=0.01)
    assert [(finding.finding, round(finding.measured)) for finding in result.found] == [("stray-edge", 6)]


def on_ruled_paper(gray, step_px, *, squared):
    paper = np.full_like(gray, 255)
    paper[7::step_px] = 205
    if squared:
        paper[:, 11::step_px] = 205
    return np.minimum(gray, paper)


@pytest.mark.parametrize("squared", [False, True])
@pytest.mark.parametrize("yaw_deg", [28, 40])
def test_the_rules_of_the_paper_are_no_lines_of_the_drawing(yaw_deg, squared):
    gray = draw(camera_from_angles(1300, (WIDTH, HEIGHT), yaw_deg=yaw_deg), bend=(1, 3, 6.0))
    plain, ruled = checked(gray), checked(on_ruled_paper(gray, 45, squared=squared))
    (bare,), (panel,) = plain.numbers["panels"], ruled.numbers["panels"]
    assert np.allclose(panel["eye_level"], bare["eye_level"], atol=0.01)
    assert [one.finding for one in ruled.found] == [one.finding for one in plain.found]


def test_people_on_squared_paper_show_no_eye_level():
    gray = np.full((HEIGHT, WIDTH), 255, np.uint8)
    for x, foot, tall in ((400, 900, 480), (760, 880, 420), (1060, 910, 500)):
        hip, neck = (x + 8, foot - 0.42 * tall), (x, foot - 0.74 * tall)
        cv2.circle(gray, (x, round(foot - 0.87 * tall)), round(0.13 * tall), 40, 2, cv2.LINE_AA)
        for start, end in ((neck, hip), (hip, (x - 0.15 * tall, foot)), (hip, (x + 0.16 * tall, foot)),
                           (neck, (x - 0.24 * tall, foot - 0.45 * tall)), (neck, (x + 0.24 * tall, foot - 0.43 * tall))):
            draw_line(gray, start, end)
    assert checked(on_ruled_paper(gray, 31, squared=True)).numbers["panels"][0]["eye_level"] is None


def test_faint_construction_lines_are_held_against_nothing():
    gray = draw(CAMERA)
    faint = draw(CAMERA, boxes=[BOXES[1]], bend=(0, 3, 6.0))
    gray = np.minimum(gray, 225 + (faint.astype(int) * 30 // 255)).astype(np.uint8)
    assert checked(gray).found == ()


def test_a_head_tilted_by_much_is_asked_about():
    tilted = camera_from_angles(1300, (WIDTH, HEIGHT), yaw_deg=28, roll_deg=24)
    assert "set the eye level by hand" in checked(draw(tilted)).not_measured[7].reason


def draw_speed_lines(gray):
    """Strokes to one point, and before them a head with a few level strokes in its face."""
    rng = np.random.default_rng(0)
    for turn_rad, near_px in zip(rng.uniform(0, 2 * np.pi, 90), rng.uniform(200, 300, 90), strict=True):
        ray = np.array([np.cos(turn_rad), np.sin(turn_rad)])
        draw_line(gray, (700, 480) + ray * near_px, (700, 480) + ray * 420)
    cv2.circle(gray, (700, 480), 110, 30, 3)
    for y, half in ((440, 50), (441, 50), (520, 60), (560, 46)):
        draw_line(gray, (700 - half, y), (700 + half, y))
    return gray


def test_speed_lines_show_no_eye_level_and_hide_none():
    alone = checked(draw_speed_lines(np.full((HEIGHT, WIDTH), 255, np.uint8)))
    assert alone.numbers["panels"][0]["eye_level"] is None and "as speed lines" in alone.not_measured[PANEL.id].reason
    assert checked(draw_speed_lines(draw(CAMERA))).numbers["panels"][0]["eye_level"] is not None


def test_a_blank_panel_is_not_measured_and_says_how_many_segments_it_had():
    result = checked(draw(CAMERA, boxes=()))
    assert result.not_measured == {7: NotMeasured("0 segments found; 8 are needed")}
    assert result.numbers["panels"][0]["eye_level"] is None


@pytest.mark.parametrize(("wavering_px", "is_told"), [(0.0, True), (1.0, False)])
def test_few_lines_tell_an_eye_level_only_if_they_are_ruled(wavering_px, is_told):
    rng = np.random.default_rng(6)
    gray = np.full((HEIGHT, WIDTH), 255, np.uint8)
    for edge in edges_of_box(*BOXES[1]):
        draw_line(gray, *(CAMERA.project(edge) + rng.normal(0, wavering_px, (2, 2))))
    result = checked(gray)
    assert (result.numbers["panels"][0]["eye_level"] is not None) is is_told
    if not is_told:
        assert "too little to tell an eye level" in result.not_measured[PANEL.id].reason


def test_a_panel_left_alone_is_not_measured():
    left = PanelUnderCheck(7, 1, PANEL.polygon, left_alone=True)
    result = checked(draw(CAMERA, bend=(1, 3, 6.0)), panels=(left,))
    assert result.found == ()
    assert "left alone" in result.not_measured[7].reason


def test_a_page_without_panels_is_not_measured():
    assert checked(draw(CAMERA), panels=()) == NotMeasured("No panels are known on this page.")


def test_a_thing_outside_the_cone_of_vision_is_told_with_its_circle_and_what_brings_it_in():
    near = camera_from_angles(480, (WIDTH, HEIGHT), yaw_deg=20)
    (finding,) = checked(draw(near, [*BOXES, ((-1.35, -0.5, -2.6), (0.3, 0.5, 0.3))])).found
    assert (finding.finding, finding.unit, finding.expected, finding.panel) == ("outside-cone", "°", 30.0, 7)
    assert finding.measured > 40
    assert {mark["kind"] for mark in finding.geometry["marks"]} >= {"edge", "limit"}
    (circle,) = [mark["points"] for mark in finding.geometry["marks"] if mark["kind"] == "limit"]
    assert all(0.05 <= x <= 0.95 and 0.05 <= y <= 0.95 for x, y in circle)
    assert "panel widths away" in finding.text


def tiled_floor(seed, size=(640, 480)):
    """A render in tones and grain, and its camera: a floor of light and dark tiles with two dark boards on it."""
    rng = np.random.default_rng(seed)
    camera = camera_from_angles(1.1 * size[0], size, pitch_deg=rng.uniform(-12, -4), yaw_deg=rng.uniform(15, 40))
    x, y = np.meshgrid(np.arange(2 * size[0]) / 2 + 0.25, np.arange(2 * size[1]) / 2 + 0.25)
    rays = np.stack([(x - size[0] / 2) / camera.focal_px, (y - size[1] / 2) / camera.focal_px, np.ones_like(x)], axis=-1)
    rays = rays @ camera.R_world_to_camera
    right, back = (-1.5 * rays[..., k] / np.minimum(rays[..., 1], -1e-6) for k in (0, 2))
    tone = np.where((np.floor(right / 0.8) + np.floor(back / 0.8)) % 2 == 0, 235, 120)
    tone = np.where((rays[..., 1] < 0) & (np.hypot(right, back) < 14), tone, 225).astype(np.uint8)
    gray = cv2.resize(tone, size, interpolation=cv2.INTER_AREA).astype(float)
    for left, depth in ((1.0, -6.0), (3.0, -7.0)):
        board = camera.project(np.array([[left + a, up, depth] for a, up in ((0, -1.5), (0.7, -1.5), (0.7, 0.9), (0, 0.9))]))
        cv2.fillPoly(gray, [np.round(board * 16 - 8).astype(np.int32)], 60.0, cv2.LINE_AA, 4)
    return np.clip(gray + rng.normal(0, 5, gray.shape), 0, 255).astype(np.uint8), camera


@pytest.mark.parametrize("seed", [2, 3, 8, 11, 40, 41, 42, 43])
def test_a_render_in_tones_and_grain_tells_its_camera(seed):
    """The edges of tiles are whole lines, and the many short ones do not run together otherwise."""
    gray, camera = tiled_floor(seed)
    whole = PanelUnderCheck(1, 1, ((0, 0), (1, 0), (1, 1), (0, 1)), framed=False, is_rendered=True)
    (row,) = check(PageUnderCheck(gray, "final", FORMATS["a4"], panels=(whole,))).numbers["panels"]
    misses = [abs(camera.horizon() @ [x * 640, y * 480, 1]) for x, y in row["eye_level"]]
    assert max(misses) < 0.02 * 480
    assert row["focal_px"] == pytest.approx(camera.focal_px, rel=0.05)
