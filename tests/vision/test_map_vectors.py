"""The map between two revisions over the table that the browser's twin is held to as well."""

import json
from pathlib import Path

import numpy as np
import pytest

from board.vision.page_registration import PageRegistration

VECTORS = json.loads((Path(__file__).resolve().parent.parent / "vectors" / "page_map.json").read_text())


@pytest.mark.parametrize("row", VECTORS["steps"], ids=lambda row: row["name"])
def test_points_go_where_the_table_says(row):
    registration = PageRegistration.from_numbers(row["step"])
    before, after = (np.array([point[side] for point in row["points"]]) for side in ("before", "after"))
    assert registration.map_points(before) == pytest.approx(after, abs=1e-9)


@pytest.mark.parametrize("row", VECTORS["chains"], ids=lambda row: row["name"])
def test_maps_follow_one_another_in_page_coordinates(row):
    for point in row["points"]:
        at = np.array(point["before"])
        for step in row["steps"]:
            at = PageRegistration.from_numbers(step).map_points(at * step["size_before"])[0] / step["size_after"]
        assert at == pytest.approx(point["after"], abs=1e-9)
