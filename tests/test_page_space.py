"""One table of vectors, run here and by tests/js/page_space.test.js: the two languages agree."""

import json
from pathlib import Path

import pytest

from board import page_space
from board.page_space import PictureFrame

VECTORS = json.loads((Path(__file__).parent / "vectors" / "page_space.json").read_text())
NEAR = {"abs": 1e-12, "rel": 1e-12}


@pytest.mark.parametrize("row", VECTORS["outlines"], ids=lambda row: row["name"])
def test_area_middle_and_bounds_of_an_outline(row: dict) -> None:
    assert page_space.signed_area(row["polygon"]) == pytest.approx(row["signed_area"], **NEAR)
    assert page_space.middle_of({"polygon": row["polygon"]}) == pytest.approx(tuple(row["middle"]), **NEAR)
    assert page_space.bounds(row["polygon"]) == pytest.approx(tuple(row["bounds"]), **NEAR)


@pytest.mark.parametrize("row", VECTORS["outlines"], ids=lambda row: row["name"])
def test_an_outline_encloses_nothing_in_both_languages_or_in_neither(row: dict) -> None:
    assert (page_space.area(row["polygon"]) == 0) == (row["signed_area"] == 0)


@pytest.mark.parametrize("row", VECTORS["inside"])
def test_what_lies_inside_an_outline(row: dict) -> None:
    assert page_space.contains(row["polygon"], row["point"]) is row["contains"]


@pytest.mark.parametrize("row", VECTORS["overlaps"])
def test_overlap_of_two_boxes_is_the_same_either_way_round(row: dict) -> None:
    assert page_space.box_overlap(row["first"], row["second"]) == pytest.approx(row["overlap"], **NEAR)
    assert page_space.box_overlap(row["second"], row["first"]) == pytest.approx(row["overlap"], **NEAR)


@pytest.mark.parametrize("row", VECTORS["pixels"])
def test_page_coordinates_become_pixels_and_come_back(row: dict) -> None:
    frame = PictureFrame(*row["size"])
    assert frame.to_pixels(row["page"]) == pytest.approx(tuple(row["px"]), **NEAR)
    assert frame.to_page(row["px"]) == pytest.approx(tuple(row["page"]), **NEAR)


@pytest.mark.parametrize("row", VECTORS["regions"], ids=lambda row: json.dumps(row["region"])[:40])
def test_a_region_is_read_or_refused_with_a_sentence(row: dict) -> None:
    if "refusal" in row:
        with pytest.raises(ValueError) as refused:
            page_space.read_region(row["region"])
        assert str(refused.value) == row["refusal"]
    else:
        assert page_space.read_region(row["region"]) == row["read"]
