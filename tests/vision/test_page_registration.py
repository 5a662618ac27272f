"""Points of one stage found again on the next, where the exact map is known."""

import json

import cv2
import numpy as np
import pytest

from board.vision.local_warp import LocalWarp, still, undone
from board.vision.page_registration import PageRegistration, register_pages
from tests.vision.drawn_stages import (
    HEIGHT,
    WIDTH,
    draw_painted,
    draw_pencil,
    drawn_shapes,
    mapped,
    noisy,
    page_points,
    scanned,
    shaded,
    turned,
)  # fmt: skip

DIAGONAL = np.hypot(WIDTH, HEIGHT)


@pytest.fixture(scope="module")
def stages() -> tuple[np.ndarray, np.ndarray]:
    shapes = drawn_shapes(seed=3)
    return draw_pencil(shapes), draw_painted(shapes)


def misses_percent(registration: PageRegistration, H_page_to_before: np.ndarray, size_before=(WIDTH, HEIGHT)) -> np.ndarray:
    """Errors, in percent of the diagonal, at the page points that before shows; after is the page itself."""
    points = page_points()
    before = mapped(H_page_to_before, points)
    seen = ((before > 0) & (before < size_before)).all(1)
    return 100 * np.hypot(*(registration.map_points(before[seen]) - points[seen]).T) / DIAGONAL


def test_a_painted_page_over_its_pencil_leaves_every_point_where_it_is(stages):
    registration = register_pages(*stages)
    assert misses_percent(registration, np.eye(3)).max() < 0.1
    assert registration.quality > 0.9


@pytest.mark.parametrize("turn_deg", [-9, -3, 1, 3, 7])
def test_a_turned_and_scaled_pencil_is_found_to_a_twentieth_of_a_percent(stages, turn_deg):
    H = turned(turn_deg, scale=0.9, shift=(12, -20))
    misses = misses_percent(register_pages(scanned(stages[0], H), stages[1]), H)
    assert np.median(misses) < 0.05
    assert misses.max() < 0.2


def test_a_steep_tilt_is_found(stages):
    H = turned(2, scale=0.85, tilt=(0.2, -0.1))
    assert misses_percent(register_pages(scanned(stages[0], H), stages[1]), H).max() < 0.2


@pytest.mark.parametrize("seed", [1, 2])
def test_noise_and_slanting_light_do_not_move_it(stages, seed):
    H = turned(-2, scale=1.05, shift=(8, 6))
    before = noisy(shaded(scanned(stages[0], H)), seed)
    misses = misses_percent(register_pages(before, stages[1]), H)
    assert np.median(misses) < 0.08
    assert misses.max() < 0.4


def test_half_a_page_is_found_on_the_whole(stages):
    H = turned(1.5, shift=(0, -HEIGHT // 2))
    size = WIDTH, HEIGHT // 2
    assert misses_percent(register_pages(scanned(stages[0], H, size), stages[1]), H, size).max() < 0.3


def test_a_small_thumbnail_is_found_on_a_large_final(stages):
    thumbnail = cv2.resize(stages[0], (200, 280), interpolation=cv2.INTER_AREA)
    final = cv2.resize(stages[1], (WIDTH * 3, HEIGHT * 3), interpolation=cv2.INTER_LINEAR)
    points = page_points()
    off = register_pages(thumbnail, final).map_points(points / 3) - points * 3
    assert np.hypot(*off.T).max() / (3 * DIAGONAL) < 0.003


@pytest.mark.parametrize("quarters", [1, 2, 3])
def test_a_page_scanned_on_its_side_or_upside_down_is_found(stages, quarters):
    before = np.ascontiguousarray(np.rot90(stages[0], quarters))
    corner = np.array([[WIDTH / 2, HEIGHT / 2], [100.0, 60.0]])
    for turn in range(quarters):
        x, y = corner.T
        width = WIDTH if turn % 2 == 0 else HEIGHT
        corner = np.stack([y, width - x], -1)
    off = register_pages(before, stages[1]).map_points(corner) - [[WIDTH / 2, HEIGHT / 2], [100.0, 60.0]]
    assert np.abs(off).max() < 2


def test_curled_paper_is_followed_where_no_plane_can(stages):
    height_px = 6.0
    x, y = np.meshgrid(np.arange(WIDTH, dtype=np.float32), np.arange(HEIGHT, dtype=np.float32))
    before = cv2.remap(stages[0], x, y + np.float32(height_px) * np.sin(2 * np.pi * x / WIDTH), cv2.INTER_LINEAR, borderValue=255)
    points = page_points()
    lying = points - np.stack([np.zeros(len(points)), height_px * np.sin(2 * np.pi * points[:, 0] / WIDTH)], -1)
    off = register_pages(before, stages[1]).map_points(lying) - points
    assert np.median(np.hypot(*off.T)) < 1.0


def test_a_page_with_a_panel_drawn_from_scratch_is_held_by_the_others(stages):
    other = drawn_shapes(seed=9)
    redrawn = draw_painted([*drawn_shapes(seed=3)[:3], other[3]])
    H = turned(2, shift=(5, 5))
    registration = register_pages(scanned(stages[0], H), redrawn)
    points = page_points()[page_points()[:, 1] < 540]
    assert np.hypot(*(registration.map_points(mapped(H, points)) - points).T).max() / DIAGONAL < 0.003


@pytest.mark.parametrize("before", [
    np.full((HEIGHT, WIDTH), 255, np.uint8),
    np.zeros((1, 1), np.uint8),
    np.random.default_rng(0).integers(0, 256, (HEIGHT // 2, WIDTH // 2)).astype(np.uint8),
], ids=["blank", "one pixel", "noise"])  # fmt: skip
def test_where_nothing_is_in_common_the_map_is_plain_scaling(stages, before):
    registration = register_pages(before, stages[1])
    height, width = before.shape
    assert registration.quality < 0.05
    assert registration.map_points([[width / 2, height / 4]]) == pytest.approx(np.array([[WIDTH / 2, HEIGHT / 4]]))


def test_another_page_is_not_taken_for_this_one(stages):
    frames = ((40, 40, 300, 300), (360, 40, 200, 500), (40, 360, 300, 440), (360, 560, 200, 240))
    other = draw_pencil(drawn_shapes(seed=77, frames=frames), frames)
    assert register_pages(other, stages[1]).quality < 0.05


def test_a_stored_map_carries_points_as_the_fresh_one_did(stages):
    fresh = register_pages(scanned(stages[0], turned(2, tilt=(0.05, 0))), stages[1])
    stored = PageRegistration.from_numbers(json.loads(json.dumps(fresh.to_numbers())))
    assert np.array_equal(stored.map_points(page_points()), fresh.map_points(page_points()))
    assert (stored.quality, stored.size_before, stored.size_after) == (fresh.quality, fresh.size_before, fresh.size_after)


def test_no_points_give_no_points(stages):
    assert register_pages(*stages).map_points(np.zeros((0, 2))).shape == (0, 2)


def test_a_colour_picture_is_refused(stages):
    with pytest.raises(ValueError, match="two gray pictures"):
        register_pages(np.zeros((10, 10, 3), np.uint8), stages[1])


def test_a_local_warp_undoes_itself():
    # As paper curls: neighbouring nodes go almost the same way.
    rough = np.random.default_rng(2).uniform(-20, 20, still((WIDTH, HEIGHT)).nodes.shape)
    nodes = cv2.GaussianBlur(rough, (0, 0), 1.5)
    warp = LocalWarp((WIDTH, HEIGHT), nodes)
    points = page_points(200)
    there = points + warp.at(points)
    back = there + undone(warp).at(there)
    assert np.abs(there - points).max() > 3
    assert np.abs(back - points).max() < 0.3
