"""Where a still lies under the panel that was drawn from it; where another set's still, or a bare one, lies nowhere."""

import cv2
import numpy as np
import pytest

from board.not_measured import NotMeasured
from board.vision.camera import camera_from_angles
from board.vision.still_registration import register_still

SIZE = WIDTH, HEIGHT = 640, 460
CAMERA = camera_from_angles(560, SIZE, yaw_deg=24, pitch_deg=-5)
BOXES = [((-4.0, -1.6, -9.0), (2.0, 2.6, 2.0)), ((1.2, -1.6, -7.0), (1.4, 0.9, 1.2)), ((-0.8, -1.6, -12.0), (1.6, 3.4, 2.5)),
         ((3.6, -1.6, -13.0), (2.0, 1.8, 2.0)), ((-2.2, -1.6, -5.6), (0.9, 0.8, 0.9)), ((0.6, -1.6, -17.0), (5.0, 5.0, 1.0))]
OTHER_BOXES = [((-1.0, -1.6, -6.0), (2.4, 1.2, 1.0)), ((2.6, -1.6, -10.0), (1.0, 4.0, 1.0)), ((-6.0, -1.6, -14.0), (3.0, 2.2, 2.0)),
               ((-3.0, -1.6, -8.0), (0.8, 2.9, 0.8)), ((1.0, -1.6, -16.0), (4.0, 2.0, 1.0))]
FACES = ((0, 1, 3, 2), (4, 5, 7, 6), (0, 1, 5, 4), (2, 3, 7, 6), (0, 2, 6, 4), (1, 3, 7, 5))


def picture(boxes, as_tones):
    """Boxes far to near: as the tones of a render, or as their outlines."""
    gray = np.full((HEIGHT, WIDTH), 225 if as_tones else 255, np.uint8)
    for corner, size in sorted(boxes, key=lambda box: box[0][2]):
        corners = np.array([np.array(corner) + np.array(size) * [i >> 2, i >> 1 & 1, i & 1] for i in range(8)])
        seen = np.round((CAMERA.project(corners) - 0.5) * 16).astype(np.int32)
        depth = [np.linalg.norm(corners[list(face)].mean(0)) for face in FACES]
        for k in np.argsort(depth)[::-1][3:]:
            cv2.fillConvexPoly(gray, seen[list(FACES[k])], (95, 95, 190, 190, 140, 140)[k] if as_tones else 255, cv2.LINE_AA, 4)
            if not as_tones:
                cv2.polylines(gray, [seen[list(FACES[k])]], True, 60, 2, cv2.LINE_AA, 4)
    return gray


def laid(still, S):
    """The still from which the panel is seen by S: taken wider, turned or shifted."""
    return cv2.warpAffine(still, np.linalg.inv(S)[:2], SIZE, borderMode=cv2.BORDER_REPLICATE)


def similarity(scale, turn_deg, shift):
    c, s = scale * np.cos(np.radians(turn_deg)), scale * np.sin(np.radians(turn_deg))
    middle = np.array([WIDTH, HEIGHT]) / 2
    return np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]]) + [[0, 0, v] for v in (*(middle - [[c, -s], [s, c]] @ middle + shift), 0)]


def panel_of(boxes):
    """With somebody standing in front."""
    panel = picture(boxes, as_tones=False)
    cv2.ellipse(panel, (350, 330), (40, 120), 0, 0, 360, 235, -1)
    cv2.ellipse(panel, (350, 330), (40, 120), 0, 0, 360, 30, 2)
    cv2.rectangle(panel, (0, 0), (WIDTH - 1, HEIGHT - 1), 0, 5)
    return panel


@pytest.mark.parametrize(("scale", "turn_deg", "shift"), [(1, 0, (0, 0)), (1.2, 3, (25, -18)), (0.8, -4, (-30, 12))])
def test_the_still_is_found_under_what_was_drawn_from_it(scale, turn_deg, shift):
    S = similarity(scale, turn_deg, shift)
    found = register_still(laid(picture(BOXES, as_tones=True), S), panel_of(BOXES))
    assert not isinstance(found, NotMeasured)
    points = np.array([[100, 100, 1], [500, 350, 1]]).T
    assert np.abs((found.S_still_to_panel @ np.linalg.inv(S) @ points - points)[:2]).max() < 0.01 * WIDTH
    assert found.false_alarms < -4 and len(found.at) >= 2


def test_from_near_it_is_found_nearer():
    near = similarity(1.02, 0.5, (7, -5))
    found = register_still(picture(BOXES, as_tones=True), panel_of(BOXES), near)
    assert not isinstance(found, NotMeasured)
    assert np.abs(found.S_still_to_panel - np.eye(3))[:2, 2].max() < 0.01 * WIDTH


NOT_ITS_OWN = [picture(OTHER_BOXES, as_tones=True), np.full((200, 300), 180, np.uint8), np.zeros((9, 9), np.uint8)]


@pytest.mark.parametrize("still", NOT_ITS_OWN, ids=["another set", "bare", "tiny"])
def test_where_nothing_matches_nothing_is_placed(still):
    assert isinstance(register_still(still, panel_of(BOXES)), NotMeasured)


def test_anything_but_gray_pictures_is_refused():
    with pytest.raises(ValueError, match="gray"):
        register_still(np.zeros((40, 40, 3), np.uint8), panel_of(BOXES))
