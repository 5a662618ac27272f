"""A panel's eye level comes back in px from what the perspective check stored."""

import numpy as np
import pytest

from board.not_measured import NotMeasured
from board.page_space import PictureFrame
from board.vision.camera import camera_from_angles
from board.vision.eye_level import PanelEyeLevel, read_eye_level

SIZE = (1000, 1500)
FRAME = PictureFrame(*SIZE)
UP = np.array([0.0, 1.0, 0.0])


def stored(camera, **more):
    a, b, c = camera.horizon()
    upright = camera.vanishing_point(UP) / [*SIZE, 1.0]
    row = {"panel": 7, "eye_level": [[x / SIZE[0], -(a * x + c) / b / SIZE[1]] for x in (100, 900)], "focal_px": camera.focal_px,
           "pitch_deg": camera.pitch_deg, "eye_level_interval_px": 4.0,
           "vanishing_points": [{"point": list(upright / np.linalg.norm(upright)), "role": "upright", "confidence": 0.9}]}
    return {"panels": [{**row, **more}]}


@pytest.mark.parametrize("pitch_deg", [-20, -7, 0.5, 13])
@pytest.mark.parametrize("roll_deg", [-6, 0, 9])
def test_horizon_upright_point_and_tilt_come_back(pitch_deg, roll_deg):
    camera = camera_from_angles(1200.0, SIZE, pitch_deg=pitch_deg, roll_deg=roll_deg)
    level = read_eye_level(stored(camera), 7, FRAME)
    assert isinstance(level, PanelEyeLevel)
    assert level.horizon == pytest.approx(tuple(camera.horizon()), rel=1e-6, abs=1e-9)
    assert np.cross(level.upright, camera.vanishing_point(UP)) == pytest.approx(np.zeros(3), abs=1e-3)
    assert level.tilt_deg == pytest.approx(abs(pitch_deg), abs=1e-3)
    assert level.sigma_px == pytest.approx(4.0 / 1.645)


@pytest.mark.parametrize("pitch_deg", [-20, 0.001, 13])
def test_a_post_does_not_lean_and_a_turned_one_leans_by_its_turn(pitch_deg):
    camera = camera_from_angles(1200.0, SIZE, pitch_deg=pitch_deg, roll_deg=3)
    level = read_eye_level(stored(camera), 7, FRAME)
    sole, crown = camera.project(np.array([[1.0, -1.5, -6], [1.0, 0.3, -6]]))
    cos, sin = np.cos(np.radians(8)), np.sin(np.radians(8))
    turned = sole + np.array([[cos, -sin], [sin, cos]]) @ (crown - sole)
    assert level.lean_deg(tuple(sole), tuple(crown)) == pytest.approx(0, abs=1e-4)
    assert level.lean_deg(tuple(sole), tuple(turned)) == pytest.approx(8, abs=1e-4)


def test_what_was_not_seen_or_not_stored_counts_as_uncertain():
    camera = camera_from_angles(1200.0, SIZE, pitch_deg=-10)
    row = stored(camera)["panels"][0]
    faint = [{**row["vanishing_points"][0], "confidence": 0.2}]
    seen, unseen = (read_eye_level(numbers, 7, FRAME) for numbers in (stored(camera), stored(camera, vanishing_points=faint)))
    bare = read_eye_level(stored(camera, eye_level_interval_px=None, focal_px=None), 7, FRAME)
    assert seen.upright_error < unseen.upright_error == 1.0
    assert bare.sigma_px == pytest.approx(8.0 / 1.645)
    assert bare.focal_px == pytest.approx(0.87 * 800)


@pytest.mark.parametrize("numbers", [{}, {"panels": []}, {"panels": [{"panel": 8, "eye_level": [[0, 0.5], [1, 0.5]]}]},
                                     {"panels": [{"panel": 7, "eye_level": None}]},
                                     {"panels": [{"panel": 7, "eye_level": [[0.5, 0.5], [0.5, 0.5]]}]}])
def test_a_panel_without_an_eye_level_has_none(numbers):
    assert isinstance(read_eye_level(numbers, 7, FRAME), NotMeasured)
