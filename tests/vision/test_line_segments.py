"""Line segments: found where they are drawn, to a fraction of a pixel, one for each line, and none where nothing is drawn."""

import cv2
import numpy as np
import pytest

from board.vision.line_segments import DrawnLines, find_lines, find_segments

SIZE = (900, 700)


def blank():
    return np.full(SIZE[::-1], 255, np.uint8)


def stroke(gray, start, end, width_px=3, tone=40):
    """Drawn at sixteenths of a pixel; OpenCV's whole numbers are the pixels' centres."""
    ends = [tuple(int(v) for v in np.round((np.array(point) - 0.5) * 16)) for point in (start, end)]
    cv2.line(gray, *ends, tone, width_px, cv2.LINE_AA, 4)


def miss(segment, start, end):
    """Degrees between a segment and the line drawn, px from its middle to that line, and how much of the line it covers."""
    start, end = np.array(start, float), np.array(end, float)
    along = (end - start) / np.hypot(*(end - start))
    own = segment[2:] - segment[:2]
    turn = np.degrees(np.arcsin(abs(own[0] * along[1] - own[1] * along[0]) / np.hypot(*own)))
    off = (segment[:2] + segment[2:]) / 2 - start
    return turn, abs(off[0] * along[1] - off[1] * along[0]), np.hypot(*own) / np.hypot(*(end - start))


@pytest.mark.parametrize("angle_deg", [0, 7, 33, 45, 71, 90, 128])
@pytest.mark.parametrize("width_px", [1, 3, 5])
def test_a_stroke_is_one_segment_along_its_middle(angle_deg, width_px):
    gray, half = blank(), 200 * np.array([np.cos(np.radians(angle_deg)), np.sin(np.radians(angle_deg))])
    start, end = np.array([450.3, 350.7]) - half, np.array([450.3, 350.7]) + half
    stroke(gray, start, end, width_px)
    (segment,) = find_segments(gray)
    turn, off, share = miss(segment, start, end)
    assert turn < 0.2
    assert off < 0.5
    assert 0.95 < share < 1.05


@pytest.mark.parametrize("angle_deg", [0, 12, 77])
def test_the_edge_of_a_tone_stands_where_it_is(angle_deg):
    gray, centre, turn = blank(), np.array([450.0, 350.0]), np.radians(angle_deg)
    along, across = np.array([np.cos(turn), np.sin(turn)]), np.array([-np.sin(turn), np.cos(turn)])
    corners = [centre - 220 * along, centre + 220 * along, centre + 220 * along + 150 * across, centre - 220 * along + 150 * across]
    cv2.fillPoly(gray, [np.round((np.array(corners) - 0.5) * 16).astype(int)], 120, cv2.LINE_AA, 4)
    best = min((miss(s, corners[0], corners[1]) for s in find_segments(gray)), key=lambda m: m[1] + m[0])
    assert best[0] < 0.3
    assert best[1] < 1.0
    assert best[2] > 0.9


@pytest.mark.parametrize("seed", range(4))
def test_where_tones_meet_in_grain_the_edge_is_one_line_and_no_stroke_beside_it(seed):
    """In a render or a photograph: the picture curves at the dark foot of an edge as at a stroke."""
    rng, gray = np.random.default_rng(seed), np.full(SIZE[::-1], 240.0)
    corners = np.array([(150, 180), (760, 150), (730, 560), (190, 520)]) + rng.uniform(-40, 40, (4, 2))
    cv2.fillPoly(gray, [np.round((corners - 0.5) * 16).astype(int)], 110.0, cv2.LINE_AA, 4)
    gray = np.clip(gray + rng.normal(0, 6, gray.shape), 0, 255).astype(np.uint8)
    segments = find_lines(gray, is_toned=True).segments
    for start, end in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        turn, off, share = min((miss(one, start, end) for one in segments), key=lambda m: m[0] + m[1] - m[2])
        assert turn < 0.3 and off < 1.0 and share > 0.85  # as cv2 fills, half a pixel wider
    assert len(segments) <= 6


@pytest.mark.parametrize("width_px", [1, 3, 6])
def test_a_stroke_among_tones_is_still_a_stroke(width_px):
    gray, ends = np.full(SIZE[::-1], 200, np.uint8), ((100.0, 200.0), (800.0, 330.0))
    gray[:, 500:] = 150
    stroke(gray, *ends, width_px)
    turn, off, share = miss(find_lines(gray, is_toned=True).segments[0], *ends)
    assert turn < 0.2 and off < 0.5 and share > 0.95


def test_a_broken_line_is_one_segment():
    gray, ends = blank(), np.array([(100.0, 200.0), (800.0, 330.0)])
    for a, b in ((0.0, 0.32), (0.325, 0.7), (0.705, 1.0)):
        stroke(gray, ends[0] + a * (ends[1] - ends[0]), ends[0] + b * (ends[1] - ends[0]))
    (segment,) = find_segments(gray)
    assert miss(segment, *ends)[2] > 0.97


def test_two_lines_that_cross_at_a_small_angle_are_both_found():
    gray, lines = blank(), [((120.0, 300.0), (780.0, 340.0)), ((120.0, 345.0), (780.0, 295.0))]
    for ends in lines:
        stroke(gray, *ends, 2)
    found = find_segments(gray)
    for ends in lines:
        # Where they run into each other it cannot be told whose ink it is.
        longest = max(share for turn, off, share in (miss(segment, *ends) for segment in found) if turn < 0.5 and off < 1.5)
        assert longest > 0.35


def test_a_line_gone_over_twice_is_one_that_spreads_more():
    once, twice = blank(), blank()
    stroke(once, (100, 200), (700, 260))
    stroke(twice, (100, 199), (700, 262))
    stroke(twice, (102, 202), (698, 258))
    (single,), (double,) = (find_lines(gray).segments for gray in (once, twice))
    assert miss(double, (100, 200.5), (700, 260))[0] < 0.3
    assert miss(double, single[:2], single[2:])[1] < 1.0
    assert find_lines(twice).spread_px[0] > 2 * find_lines(once).spread_px[0]


def test_the_two_sides_of_a_broad_brush_stroke_are_one_line():
    gray = blank()
    stroke(gray, (100, 200), (700, 260), 10)
    (segment,) = find_segments(gray)
    assert miss(segment, (100, 200), (700, 260))[1] < 0.5


def test_lines_that_stand_apart_stay_apart():
    gray = blank()
    for y in (200, 215, 230):
        stroke(gray, (100, y), (800, y + 20))
    assert len(find_segments(gray)) == 3


def test_the_longest_comes_first():
    gray = blank()
    stroke(gray, (100, 100), (300, 120))
    stroke(gray, (100, 300), (800, 350))
    lengths = np.hypot(*(find_segments(gray)[:, 2:] - find_segments(gray)[:, :2]).T)
    assert (np.diff(lengths) <= 0).all()


@pytest.mark.parametrize("noise", [2, 6])
def test_the_grain_of_paper_and_jpeg_leave_the_lines_and_add_none(noise):
    gray, lines = blank() - 12, [((80, 90), (500, 180)), ((600, 100), (640, 600)), ((100, 600), (800, 420))]
    for start, end in lines:
        stroke(gray, start, end)
    grain = np.random.default_rng(1).normal(0, noise, gray.shape)
    gray = np.clip(gray + grain, 0, 255).astype(np.uint8)
    gray = cv2.imdecode(cv2.imencode(".jpg", gray, [cv2.IMWRITE_JPEG_QUALITY, 80])[1], cv2.IMREAD_GRAYSCALE)
    found = find_segments(gray)
    assert len(found) == len(lines)
    for start, end in lines:
        turn, off, share = min((miss(s, start, end) for s in found), key=lambda m: m[0] + m[1])
        assert (turn < 0.5, off < 1.5, share > 0.9) == (True, True, True)


def test_a_large_scan_is_measured_in_its_own_pixels():
    gray = np.full((2600, 2100), 255, np.uint8)
    ends = (300.0, 400.0), (1700.0, 1900.0)
    stroke(gray, *ends, width_px=6)
    (segment,) = find_segments(gray)
    turn, off, share = miss(segment, *ends)
    assert turn < 0.1
    assert off < 1.0
    assert share > 0.98


@pytest.mark.parametrize("shape", [(400, 600), (3, 900), (1, 1)])
def test_a_blank_picture_has_none(shape):
    assert find_segments(np.full(shape, 255, np.uint8)).shape == (0, 4)


def test_a_circle_is_not_a_line():
    gray = blank()
    cv2.circle(gray, (450, 350), 120, 40, 3, cv2.LINE_AA)
    found = find_segments(gray)
    assert not len(found) or np.hypot(*(found[:, 2:] - found[:, :2]).T).max() < 70


@pytest.mark.parametrize("tones", [(255, 120), (120, 255), (170, 110)])
@pytest.mark.parametrize("angle_deg", [3, 28, 84])
def test_a_stroke_between_two_tones_is_found_along_its_middle(angle_deg, tones):
    turn = np.radians(angle_deg)
    along, across = np.array([np.cos(turn), np.sin(turn)]), np.array([-np.sin(turn), np.cos(turn)])
    centre = np.array([450.3, 350.7])
    yy, xx = np.mgrid[: SIZE[1], : SIZE[0]] + 0.5
    gray = np.where((xx - centre[0]) * across[0] + (yy - centre[1]) * across[1] < 0, *tones).astype(np.uint8)
    start, end = centre - 900 * along, centre + 900 * along
    stroke(gray, start, end, 5)
    nearest = min((miss(s, start, end) for s in find_segments(gray)[:4]), key=lambda m: m[0] + m[1])
    assert nearest[0] < 0.1
    assert nearest[1] < 0.5


def test_a_line_drawn_twice_is_less_sure_of_its_direction_than_one_drawn_once_and_a_longer_one_is_surer():
    lines = DrawnLines(np.array([[0.0, 0, 100, 0], [0, 0, 100, 0], [0, 0, 400, 0]]), np.array([0.3, 1.5, 1.5]))
    once, twice, longer = lines.doubt_deg
    assert once < longer < twice
    assert twice == pytest.approx(np.degrees(2 * 1.5 / 100))
