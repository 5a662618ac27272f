"""Panels from edge to edge of the picture, and panels beside each other with a gutter narrower than a hand's breaks in a border."""

import cv2
import numpy as np
import pytest

from board.vision.bled_bands import fill_bands
from board.vision.page_ground import PageGround
from board.vision.page_piece import PieceScale

HEIGHT, WIDTH = 1400, 1000
SCALE = PieceScale.of((HEIGHT, WIDTH))


def page_of(polygons, bare=()):
    """A page on which these polygons (K, 2) are drawn, but for what lies in the `bare` ones."""
    drawn = np.zeros((HEIGHT, WIDTH), np.uint8)
    for value, shapes in ((1, polygons), (0, bare)):
        for shape in shapes:
            cv2.fillPoly(drawn, [np.round(shape).astype(np.int32)], value)
    nothing = np.zeros((HEIGHT, WIDTH), bool)
    return PageGround(np.where(drawn, 60, 255).astype(np.uint8), drawn == 0, drawn == 0, nothing, nothing)


def beside(at_top, at_bottom, gutter_px, top=0.0, bottom=460.0):
    """Two panels beside each other that reach both edges of the page, with a gutter that slants."""
    half = gutter_px / 2
    left = [(0, top), (at_top - half, top), (at_bottom - half, bottom), (0, bottom)]
    right = [(at_top + half, top), (WIDTH, top), (WIDTH, bottom), (at_bottom + half, bottom)]
    return [np.array(left), np.array(right)]


def corners_of(polygons):
    return {frozenset(map(tuple, np.round(polygon, -1).tolist())) for polygon in polygons}


@pytest.mark.parametrize("top", [0.0, 480.0])
@pytest.mark.parametrize("slant_px", [0, 30, -120])
@pytest.mark.parametrize("gutter_px", [4, 6])
def test_panels_beside_each_other_stay_apart_however_narrow_the_gutter(gutter_px, slant_px, top):
    panels = beside(450 + slant_px, 450 - slant_px, gutter_px, top, top + 460)
    below = np.array([(0, top + 480), (WIDTH, top + 480), (WIDTH, HEIGHT), (0, HEIGHT)])
    assert corners_of(fill_bands([*panels, below], page_of([*panels, below]), SCALE)) == corners_of([*panels, below])


def test_parts_of_a_panel_from_edge_to_edge_are_that_panel():
    whole = np.array([(0.0, 0), (WIDTH, 0), (WIDTH, 460), (0, 460)])
    white = np.array([(300, -1), (700, -1), (700, 430), (300, 430)])  # a bare wall up to the edge of the page
    parts = [np.array([(0, 0), (300, 0), (300, 460), (0, 460)]), np.array([(700, 0), (WIDTH, 0), (WIDTH, 460), (700, 460)])]
    assert corners_of(fill_bands(parts, page_of([whole], [white]), SCALE)) == corners_of([whole])


def test_a_break_in_a_border_is_no_gutter():
    whole = np.array([(0.0, 0), (WIDTH, 0), (WIDTH, 460), (0, 460)])
    broken = [np.array([(498, 420), (502, 420), (502, 470), (498, 470)]), np.array([(300, -1), (700, -1), (700, 425), (300, 425)])]
    parts = [np.array([(0, 0), (300, 0), (300, 460), (0, 460)]), np.array([(700, 0), (WIDTH, 0), (WIDTH, 460), (700, 460)])]
    assert corners_of(fill_bands(parts, page_of([whole], broken), SCALE)) == corners_of([whole])


def test_a_border_counts_by_the_width_of_a_long_strip():
    # Of a strip ten pages long a panel as deep as it is wide is no tenth, and its own other border is the nearest.
    high = 10 * WIDTH
    drawn = np.zeros((high, WIDTH), bool)
    panels = [np.array([(0.0, top), (WIDTH, top), (WIDTH, top + 600), (0, top + 600)]) for top in (1000, 4000)]
    drawn[1000:1600], drawn[4000:4600], drawn[2400:3000, 80:500] = True, True, True
    floating = np.array([(80.0, 2400), (500, 2400), (500, 3000), (80, 3000)])
    page = PageGround(np.where(drawn, 60, 255).astype(np.uint8), ~drawn, ~drawn, np.zeros_like(drawn), np.zeros_like(drawn))
    assert corners_of(fill_bands([*panels, floating], page, PieceScale.of(drawn.shape))) == corners_of([*panels, floating])
