"""Against OpenCV's own count of the same."""

import cv2
import numpy as np
import pytest

from board.vision.connected_parts import connected_parts


@pytest.mark.parametrize("connectivity", [4, 8])
@pytest.mark.parametrize("share", [0.0, 0.02, 0.4, 0.6, 1.0])
def test_labels_boxes_and_areas_are_those_of_opencv(share, connectivity):
    mask = np.random.default_rng(3).random((60, 47)) < share
    count, labels, stats, _ = cv2.connectedComponentsWithStats(mask.astype(np.uint8), connectivity=connectivity)
    of, boxes = connected_parts(mask, connectivity)
    assert np.array_equal(of, labels)
    assert len(boxes) == count and np.array_equal(boxes[1:], stats[1:])


def test_a_cut_of_a_larger_mask_will_do():
    mask = np.zeros((20, 30), bool)
    mask[4:9, 10:25] = True
    assert connected_parts(mask[2:7, 12:20], 8)[1][1:].tolist() == [[0, 2, 8, 3, 24]]
