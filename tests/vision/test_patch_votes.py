import cv2
import numpy as np
import pytest

from board.vision.edge_field import as_channels, edge_field
from board.vision.patch_votes import vote

PATCH_PX, REACH_PX, STEP_PX = 40, 10, 20


@pytest.fixture(scope="module")
def fields():
    """Two edge fields (120, 160) of scribbles on half a sheet, of which one was moved by (4, -3) px."""
    rng, sheet = np.random.default_rng(3), np.full((120, 160), 255, np.uint8)
    for ends in rng.integers((0, 0, 0, 0), (100, 120, 100, 120), (40, 4)).tolist():
        cv2.line(sheet, ends[:2], ends[2:], 40, 2, cv2.LINE_AA)
    moved = cv2.warpAffine(sheet, np.float32([[1, 0, 4], [0, 1, -3]]), (160, 120), borderValue=255)
    return edge_field(sheet), edge_field(moved)


def test_patches_say_how_far_they_have_to_move(fields):
    votes = vote(*fields, PATCH_PX, REACH_PX, STEP_PX)
    inside = votes.likeness > 0.95
    assert inside.sum() >= 8
    assert votes.shift[inside] == pytest.approx(np.tile([4.0, -3.0], (inside.sum(), 1)), abs=0.1)


def test_their_likeness_is_opencvs_normalised_correlation(fields):
    """Source: OpenCV, matchTemplate with TM_CCORR_NORMED."""
    moving, there = as_channels(fields[0]), as_channels(np.pad(fields[1], REACH_PX))
    votes = vote(*fields, PATCH_PX, REACH_PX, STEP_PX)
    for centre, likeness, runner_up in zip(votes.centre, votes.likeness, votes.runner_up, strict=True):
        x, y = np.round(centre - (PATCH_PX - 1) / 2).astype(int)
        window = there[y : y + PATCH_PX + 2 * REACH_PX, x : x + PATCH_PX + 2 * REACH_PX]
        surface = cv2.matchTemplate(window, moving[y : y + PATCH_PX, x : x + PATCH_PX], cv2.TM_CCORR_NORMED)
        assert likeness == pytest.approx(surface.max(), abs=1e-5)
        row, column = np.unravel_index(surface.argmax(), surface.shape)
        near = REACH_PX // 2
        surface[max(0, row - near) : row + near + 1, max(0, column - near) : column + near + 1] = 0
        assert runner_up == pytest.approx(surface.max(), abs=1e-5)


def test_a_bare_patch_says_nothing(fields):
    votes = vote(*fields, PATCH_PX, REACH_PX, STEP_PX)
    assert 0 < len(votes) < 35
    assert votes.centre[:, 0].max() < 140
    assert len(vote(np.zeros_like(fields[0]), fields[1], PATCH_PX, REACH_PX, STEP_PX)) == 0


def test_where_nothing_lies_under_a_patch_it_is_like_nothing(fields):
    votes = vote(fields[0], np.zeros_like(fields[1]), PATCH_PX, REACH_PX, STEP_PX)
    assert len(votes) and not votes.likeness.any() and not votes.worth.any()
