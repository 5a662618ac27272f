"""A stroke along a line: its share, straightness and width; and frames that share borders."""

import cv2
import numpy as np
import pytest

from board.vision.panel_frames import find_panels
from board.vision.ruled_strokes import measure_stroke

LINE = np.array([[20.0, 100.0], [280.0, 100.0]])


def stroke(width=4, wobble_px=0.0, gap=(0, 0), value=30, ground=250):
    columns = np.arange(300)
    middle = 100 + wobble_px * np.sqrt(2) * np.sin(columns / 9)
    is_inked = np.abs(np.arange(200)[:, None] + 0.5 - middle) < width / 2
    is_inked[:, gap[0] : gap[1]] = False
    return np.where(is_inked, value, ground).astype(np.uint8)


@pytest.mark.parametrize("width", [4, 6])
def test_a_ruled_stroke_covers_the_line_at_its_width_and_value(width):
    found = measure_stroke(stroke(width), LINE, 4, 8)
    assert found.share > 0.98 and found.wobble_px < 0.3
    assert found.value == 30 and abs(found.width_px - width) < 1


def test_wobble_and_gaps_are_measured():
    wavy = measure_stroke(stroke(wobble_px=1.5), LINE, 4, 8)
    broken = measure_stroke(stroke(gap=(80, 145)), LINE, 4, 8)
    assert wavy.wobble_px == pytest.approx(1.5, abs=0.3)
    assert broken.share == pytest.approx(0.75, abs=0.03)


def test_bare_paper_and_an_edge_between_tones_hold_no_stroke():
    paper = np.full((200, 300), 250, np.uint8)
    two_tones = paper.copy()
    two_tones[100:] = 120
    assert measure_stroke(paper, LINE, 4, 8).share == 0
    assert measure_stroke(two_tones, LINE, 4, 8).share == 0


def page_without_gutters(horizon_px=0):
    """A frame of 800 x 1200 px parted by its own border into one panel over two, with a scene in each."""
    gray = np.full((1300, 900), 250, np.uint8)
    cv2.rectangle(gray, (50, 50), (850, 1250), 25, 6)
    for a, b in (((50, 600), (850, 600)), ((450, 600), (450, 1250))):
        cv2.line(gray, a, b, 25, 6)
    cv2.circle(gray, (250, 300), 80, 25, 3)
    cv2.line(gray, (150, 1100), (330, 800), 25, 3)
    if horizon_px:
        cv2.line(gray, (50, 350), (850, 350), 25, horizon_px, cv2.LINE_AA)
    return gray


def test_panels_that_share_a_border_are_parted_at_it():
    panels = find_panels(page_without_gutters()).panels
    boxes = [[50, 50, 850, 600], [50, 600, 450, 1250], [450, 600, 850, 1250]]
    assert len(panels) == 3
    for panel, box in zip(panels, boxes, strict=True):
        assert np.abs(np.concatenate([panel.min(axis=0), panel.max(axis=0)]) - box).max() <= 6


def test_a_thin_line_from_side_to_side_is_no_border():
    assert len(find_panels(page_without_gutters(horizon_px=2)).panels) == 3


@pytest.mark.parametrize(("ends_px", "panels"), [(600, 4), (577, 3)])
def test_the_corner_of_a_house_that_ends_short_of_the_border_is_none(ends_px, panels):
    gray = page_without_gutters()
    cv2.line(gray, (560, 50), (560, ends_px), 25, 6)
    assert len(find_panels(gray).panels) == panels


def test_a_line_that_runs_close_beside_a_stroke_for_a_while_adds_no_wobble():
    gray = stroke(width=3)
    gray[96, 60:150] = 30
    assert measure_stroke(gray, LINE, 4, 8).wobble_px < 0.3


def test_a_floor_from_side_to_side_parts_no_lone_panel_and_a_beam_no_column():
    alone = np.full((1300, 900), 250, np.uint8)
    cv2.rectangle(alone, (50, 50), (850, 1250), 25, 6)
    cv2.line(alone, (50, 800), (850, 800), 25, 6)
    assert len(find_panels(alone).panels) == 1
    with_beam = page_without_gutters()
    cv2.line(with_beam, (450, 760), (850, 760), 25, 6)
    assert len(find_panels(with_beam).panels) == 3


def test_the_rim_of_a_balloon_that_lies_over_a_stroke_adds_no_wobble():
    gray, hidden = stroke(), np.zeros((200, 300), bool)
    gray[:, 130:], hidden[:, 130:] = 250, True
    cv2.ellipse(gray, (210, 128), (80, 30), 0, 0, 360, 30, 3)
    found = measure_stroke(gray, LINE, 4, 8, hidden)
    assert found.wobble_px < 0.3 and found.share > 0.98 and found.hidden > 0.1
    assert measure_stroke(gray, LINE, 4, 8).wobble_px > 0.5


@pytest.mark.parametrize("tone", [30, 38])
def test_a_stroke_is_seen_from_one_side_where_it_borders_a_tone_as_dark_as_it(tone):
    gray = stroke()
    gray[102:, 90:200] = tone
    assert measure_stroke(gray, LINE, 4, 8).share > 0.98


def test_a_dark_tone_beside_a_shared_border_hides_it_not():
    gray = page_without_gutters()
    gray[604:1247, 453:560] = 50
    assert len(find_panels(gray).panels) == 3
