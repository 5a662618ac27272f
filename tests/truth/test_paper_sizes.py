"""The formats and the placing of a picture on paper, against ISO 216, JIS P 0138 and what printers commonly ask for."""

from math import isclose, sqrt

import pytest

from board.page_checks.print_size import place_on_paper
from board.page_format import FORMATS, PageFormat, dpi_at

# ISO 216 (A) and JIS P 0138 (B), in mm.
SIZES_MM = {"a4": (210, 297), "a5": (148, 210), "jis-b5": (182, 257)}
OTHER_SIZES_MM = {"a3": (297, 420), "jis-b4": (257, 364)}
# ISO 216: what a length may miss, up to 150 mm, up to 600 mm, above.
TOLERANCE_MM = ((150, 1.5), (600, 2.0), (float("inf"), 3.0))


def tolerance_mm(length_mm: float) -> float:
    return next(tolerance for limit, tolerance in TOLERANCE_MM if length_mm <= limit)


@pytest.mark.parametrize("name", SIZES_MM)
def test_trim_sizes_are_those_of_the_standard(name):
    assert (FORMATS[name].trim_width_mm, FORMATS[name].trim_height_mm) == SIZES_MM[name]


@pytest.mark.parametrize("name", SIZES_MM)
def test_sides_stand_in_the_ratio_one_to_root_two_within_the_tolerance(name):
    page = FORMATS[name]
    assert abs(page.trim_width_mm * sqrt(2) - page.trim_height_mm) <= tolerance_mm(page.trim_height_mm)


def test_halving_a4_gives_a5_rounded_down_to_whole_millimetres():
    assert FORMATS["a5"].trim_height_mm == FORMATS["a4"].trim_width_mm
    assert FORMATS["a5"].trim_width_mm == FORMATS["a4"].trim_height_mm // 2


@pytest.mark.parametrize(("single", "double"), [("a4", "a3"), ("jis-b5", "jis-b4")])
def test_two_facing_pages_make_the_next_larger_size_within_the_tolerance(single, double):
    spread, (height_mm, width_mm) = FORMATS[single].as_spread(), OTHER_SIZES_MM[double]
    assert abs(spread.trim_width_mm - width_mm) <= tolerance_mm(width_mm)
    assert abs(spread.trim_height_mm - height_mm) <= tolerance_mm(height_mm)


def test_the_us_page_is_given_in_inches():
    # Common practice of printers: trim 6.625 x 10.25 in, 6.875 x 10.5 in with the bleed, live about 6 x 9.5 in.
    page = FORMATS["us-comic"]
    assert isclose(page.trim_width_mm, 6.625 * 25.4) and isclose(page.trim_height_mm, 10.25 * 25.4)
    assert isclose(page.bleed_size_mm[0], 6.875 * 25.4) and isclose(page.bleed_size_mm[1], 10.5 * 25.4)
    assert abs(page.live_size_mm[0] - 6.0 * 25.4) < 4 and abs(page.live_size_mm[1] - 9.5 * 25.4) < 4


def test_pixels_per_inch_of_a4_at_usual_resolutions():
    # 25.4 mm to the inch (exact since 1959): 2480 x 3508 px is what programs export as A4 at 300 dpi.
    assert abs(dpi_at(2480, 210) - 300) < 0.1 and abs(dpi_at(3508, 297) - 300) < 0.1
    assert place_on_paper(2480, 3508, FORMATS["a4"]).has_pixels_for(300)
    assert not place_on_paper(2480, 3508, FORMATS["a4"]).has_pixels_for(301)


@pytest.mark.parametrize("name", FORMATS)
@pytest.mark.parametrize("dpi", [150, 300, 600])
@pytest.mark.parametrize("bleed", [False, True])
def test_a_picture_of_the_exact_size_is_taken_for_it(name, dpi, bleed):
    page = FORMATS[name]
    width_mm, height_mm = page.bleed_size_mm if bleed else (page.trim_width_mm, page.trim_height_mm)
    placed = place_on_paper(round(width_mm / 25.4 * dpi), round(height_mm / 25.4 * dpi), page)
    assert placed.with_bleed is bleed and not placed.could_be_either
    assert abs(placed.dpi - dpi) < 0.2 and placed.has_pixels_for(dpi)


@pytest.mark.parametrize("name", FORMATS)
@pytest.mark.parametrize("dpi", [150, 300, 600])
@pytest.mark.parametrize("bound_at", ["left", "right"])
def test_bleed_at_all_sides_but_the_bound_one_is_told_from_the_other_two(name, dpi, bound_at):
    page = FORMATS[name]
    bleed_mm, (width_mm, height_mm) = page.bleed_mm, page.bleed_size_mm
    placed = place_on_paper(round((width_mm - bleed_mm) / 25.4 * dpi), round(height_mm / 25.4 * dpi), page, bound_at)
    assert placed.bled == {"left", "top", "right", "bottom"} - {bound_at} and not placed.could_be_either
    assert abs(placed.dpi - dpi) < 0.2 and placed.has_pixels_for(dpi)
    for wide_mm, high_mm, bled in ((width_mm, height_mm, True), (page.trim_width_mm, page.trim_height_mm, False)):
        other = place_on_paper(round(wide_mm / 25.4 * dpi), round(high_mm / 25.4 * dpi), page, bound_at)
        assert len(other.bled) == (4 if bled else 0) and not other.could_be_either


def test_a_shape_of_another_size_is_not_measured():
    # US letter (ANSI A), 8.5 x 11 in, is no ISO size.
    assert not place_on_paper(2550, 3300, FORMATS["a4"])
    assert not place_on_paper(3508, 2480, FORMATS["a4"])


def test_a_square_page_does_not_tell_whether_it_has_bleed():
    assert place_on_paper(2000, 2000, PageFormat(200, 200)).could_be_either
