"""A drawing is known again at another size, place and turn, and mirrored; another drawing is not taken for it."""

import cv2
import numpy as np
import pytest

from board.vision.drawing_prints import DrawingPrint, known_again, print_of
from tests.vision.drawn_stages import FRAMES, draw_pencil, drawn_shapes


def panel_of(seed):
    left, top, width, height = FRAMES[0]
    return np.ascontiguousarray(draw_pencil(drawn_shapes(seed=seed, per_panel=14))[top:top + height, left:left + width])


@pytest.fixture(scope="module")
def earlier():
    return [print_of(panel_of(seed)) for seed in (3, 4, 5)]


def look_up(panel, earlier):
    return known_again(print_of(panel), print_of(np.ascontiguousarray(panel[:, ::-1])), earlier)


def laid_elsewhere(panel, turn_deg, scale, shift):
    """The panel's drawing moved about its middle, on paper of the same size; the map in panel widths."""
    height, width = panel.shape
    H = np.vstack([cv2.getRotationMatrix2D((width / 2, height / 2), turn_deg, scale), [0, 0, 1]])
    H[:2, 2] += shift
    noise = np.random.default_rng(1).normal(0, 4, panel.shape)
    moved = cv2.warpAffine(panel, H[:2], (width, height), borderValue=255) + noise
    in_widths = np.diag([width, width, 1.0])
    return np.clip(moved, 0, 255).astype(np.uint8), np.linalg.inv(in_widths) @ H @ in_widths


MOVES = [(0, 1, (0, 0)), (4, 0.8, (12, -8)), (-9, 1.3, (-20, 5)), (0, 0.6, (0, 9))]


@pytest.mark.parametrize(("turn_deg", "scale", "shift"), MOVES)
def test_a_drawing_is_known_again_and_where_it_lies(earlier, turn_deg, scale, shift):
    panel, H = laid_elsewhere(panel_of(4), turn_deg, scale, shift)
    known = look_up(panel, earlier)[0]
    assert (known.index, known.is_mirrored) == (1, False)
    points = np.array([[0.3, 0.3, 1], [0.7, 0.6, 1]]).T
    assert np.abs(known.H_before_to_after @ points - H @ points).max() < 0.02


def test_what_is_alike_on_its_left_and_right_is_not_told_as_mirrored():
    """More of it is found in the mirror here, since more of its left is drawn anew as it was."""
    half = panel_of(4)[:, :270]
    earlier = np.hstack([half, half[:, ::-1]])
    panel = earlier.copy()
    panel[:, 200:270] = 255
    panel[:110, 30:240] = 255
    later = np.ascontiguousarray(np.hstack([panel[:, :270], earlier[:, 270:]])[:, ::-1])
    bare = print_of(np.zeros_like(later))
    straight, mirrored = (known_again(print_of(one), bare, [print_of(earlier)]) for one in (later, later[:, ::-1].copy()))
    assert straight and mirrored and mirrored[0].cells > straight[0].cells
    (known,) = look_up(later, [print_of(earlier)])
    assert not known.is_mirrored


def test_a_mirrored_drawing_is_known_again_and_turned_back(earlier):
    known = look_up(np.ascontiguousarray(panel_of(5)[:, ::-1]), earlier)[0]
    assert (known.index, known.is_mirrored) == (2, True)
    assert known.H_before_to_after @ [0.25, 0.5, 1] == pytest.approx([0.75, 0.5, 1], abs=0.02)


@pytest.mark.parametrize("panel", [panel_of(40), np.full((300, 240), 255, np.uint8), np.zeros((9, 9), np.uint8)],
                         ids=["another drawing", "blank", "tiny"])
def test_nothing_else_is_known_again(earlier, panel):
    assert look_up(panel, earlier) == []


def test_what_is_left_out_speaks_for_nothing(earlier):
    panel = panel_of(4)
    everything = np.ones(panel.shape, bool)
    assert len(print_of(panel, everything).at) == 0
    assert known_again(print_of(panel, everything), print_of(panel, everything), earlier) == []


def test_no_panel_before_gives_nothing(earlier):
    assert known_again(earlier[0], earlier[1], []) == []


@pytest.mark.parametrize("wrong", [np.zeros((4, 4, 3), np.uint8), np.zeros((4, 4)), np.zeros((0, 4), np.uint8)])
def test_what_is_no_grey_picture_is_refused(wrong):
    with pytest.raises(ValueError, match="gray"):
        print_of(wrong)


def scattered(rng, count):
    return DrawingPrint(rng.random((count, 2)).astype(np.float32), rng.integers(0, 256, (count, 32), np.uint8), 1.0)


def at_another_stage(rng, before, alike, *, in_place):
    """Another hand: eight points look as they did, `alike` more nearly so, and all others are new; drawn at 80 % of the size."""
    after = scattered(rng, len(before.at))
    at, bits = after.at.copy(), after.bits.copy()
    at[:8 + alike if in_place else 8] = before.at[:8 + alike if in_place else 8] * 0.8 + 0.1
    for k in range(8 + alike):
        flipped = rng.choice(256, 40 if k < 8 else 72, replace=False)
        bits[k] = np.packbits(np.unpackbits(before.bits[k]) ^ np.isin(np.arange(256), flipped))
    return DrawingPrint(at, bits, 1.0)


@pytest.mark.parametrize(("alike", "in_place", "is_known"), [(24, True, True), (4, True, False), (24, False, False)])
def test_where_few_points_look_as_they_did_the_others_are_asked_whether_they_lie_in_place(alike, in_place, is_known):
    rng = np.random.default_rng(5)
    before, nobody = scattered(rng, 90), scattered(rng, 90)
    known = known_again(at_another_stage(rng, before, alike, in_place=in_place), nobody, [before])
    assert len(known) == is_known
    if is_known:
        assert known[0].H_before_to_after == pytest.approx(np.array([[0.8, 0, 0.1], [0, 0.8, 0.1], [0, 0, 1]]), abs=0.01)
