"""A page photographed by an exact pinhole camera, laid flat again."""

import cv2
import numpy as np
import pytest

from board.not_measured import NotMeasured
from board.vision.straightening import page_size_px, side_ratio, straighten

PHOTO = (3000, 4000)  # width, height in px
A5 = (148.0, 210.0)
FOCAL_PX = 3200.0


def photographed(tilt_deg: float, turn_deg: float = 0.0, roll_deg: float = 0.0) -> np.ndarray:
    """The corners (4, 2) px of an A5 page before a camera: turned about its own axes, 300 mm away."""
    tilt, turn, roll = np.radians([tilt_deg, turn_deg, roll_deg])
    about_x = np.array([[1, 0, 0], [0, np.cos(tilt), -np.sin(tilt)], [0, np.sin(tilt), np.cos(tilt)]])
    about_y = np.array([[np.cos(turn), 0, np.sin(turn)], [0, 1, 0], [-np.sin(turn), 0, np.cos(turn)]])
    about_z = np.array([[np.cos(roll), -np.sin(roll), 0], [np.sin(roll), np.cos(roll), 0], [0, 0, 1]])
    w, h = A5[0] / 2, A5[1] / 2
    page = np.array([[-w, -h, 0], [w, -h, 0], [w, h, 0], [-w, h, 0]]) @ (about_z @ about_y @ about_x).T + [0, 0, 300]
    return FOCAL_PX * page[:, :2] / page[:, 2:] + np.array(PHOTO) / 2


@pytest.mark.parametrize(("tilt", "turn", "roll"), [(0, 0, 0), (25, 0, 0), (0, -20, 5), (20, 15, 8), (-30, 12, -10)])
def test_the_ratio_of_the_sides_is_the_papers_own(tilt, turn, roll):
    tolerance = 1e-6 if tilt and turn else 0.02  # with one pair of edges parallel the focal length is a guess
    assert side_ratio(photographed(tilt, turn, roll), PHOTO) == pytest.approx(148 / 210, rel=tolerance)


@pytest.mark.parametrize("seed", range(5))
def test_corners_set_by_hand_tell_it_within_some_percent(seed):
    corners = photographed(24, 14, 4) + np.random.default_rng(seed).normal(0, 4, (4, 2))
    assert side_ratio(corners, PHOTO) == pytest.approx(148 / 210, rel=0.03)


def test_what_is_drawn_comes_out_where_it_was_drawn():
    page = np.full((840, 592), 255, np.uint8)
    spots = [(100, 120), (480, 200), (300, 700)]
    for spot in spots:
        cv2.circle(page, spot, 12, 0, -1)
    corners = photographed(22, 12, 6) / 3
    flat = np.array([[0, 0], [592, 0], [592, 840], [0, 840]], np.float32)
    H_page_to_photo = cv2.getPerspectiveTransform(flat - np.float32(0.5), (corners - 0.5).astype(np.float32))
    photo = cv2.warpPerspective(page, H_page_to_photo, (1000, 1333), borderValue=90)
    result = straighten(photo, corners)
    height, width = result.shape
    assert width / height == pytest.approx(592 / 840, rel=0.01)
    back = cv2.resize(result, (592, 840), interpolation=cv2.INTER_AREA)
    for x, y in spots:
        rows, columns = np.nonzero(back[y - 40 : y + 40, x - 40 : x + 40] < 120)
        assert (columns.mean() + 0.5, rows.mean() + 0.5) == pytest.approx((40, 40), abs=1.5)


def test_no_side_loses_pixels_and_none_grows_past_the_limit():
    corners = photographed(20, 10)
    width, height = page_size_px(corners, PHOTO)
    assert height >= max(np.linalg.norm(corners[0] - corners[3]), np.linalg.norm(corners[1] - corners[2])) - 1
    assert max(page_size_px(corners, PHOTO, longest_px=500)) == 500


@pytest.mark.parametrize("corners", [
    [[10, 10], [90, 90], [90, 10], [10, 90]],  # crossed
    [[10, 10], [10, 90], [90, 90], [90, 10]],  # the other way round: it would come out mirrored
    [[10, 10], [50, 50], [90, 90], [10, 90]],  # three in a line
    [[10, 10], [14, 10], [14, 14], [10, 14]],  # a speck
])
def test_corners_that_hold_no_page_are_told(corners):
    assert isinstance(straighten(np.zeros((100, 100), np.uint8), np.array(corners, float)), NotMeasured)
