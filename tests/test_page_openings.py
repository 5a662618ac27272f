"""Which pages lie open together. The browser lays them out by the same table (`tests/js/spreads.test.js`)."""

import json
from pathlib import Path

import pytest

from board.page_openings import Leaf, Opening, bound_side, openings_of

TABLE = json.loads((Path(__file__).parent / "vectors" / "page_openings.json").read_text())


def as_rows(opening: Opening, pages: list[list[int]]) -> list[dict]:
    """As the table has it: what is missing before, then what lies open."""
    gap = [{"gap": list(opening.gap)}] if opening.gap else []
    if len(opening.leaves) == 1:
        return [*gap, {"both": opening.leaves[0].number}]
    even, odd = (half(leaf) for leaf in opening.leaves)
    for leaf in opening.leaves:
        assert leaf.page is None or pages[leaf.page][0] == leaf.number
    return [*gap, {"even": even, "odd": odd}]


def half(leaf: Leaf) -> int | str | None:
    return f"missing {leaf.number}" if leaf.is_missing else leaf.number


@pytest.mark.parametrize("row", TABLE["openings"], ids=lambda row: str(row["pages"]))
def test_pages_lie_open_together(row):
    # A comic may end on an even page: here nothing is missing beside it. On the Wall the next page goes there.
    wanted = [{side: None if str(what).startswith("beyond") else what for side, what in one.items()} for one in row["open"]]
    assert [told for opening in openings_of(row["pages"]) for told in as_rows(opening, row["pages"])] == wanted


@pytest.mark.parametrize("row", TABLE["unbound"], ids=lambda row: str(row["pages"]))
def test_unbound_each_lies_open_alone(row):
    assert [told for opening in openings_of(row["pages"], is_bound=False) for told in as_rows(opening, row["pages"])] == row["open"]


def test_the_first_page_is_bound_where_the_comic_is_read_from():
    assert [bound_side(number, "ltr") for number in (1, 2, 3)] == ["left", "right", "left"]
    assert [bound_side(number, "rtl") for number in (1, 2, 3)] == ["right", "left", "right"]
