from board.screens.to_do_parts import part_from, parts_of


def test_whole_pages_make_a_part_until_one_more_would_be_too_much():
    parts = parts_of([3, 1, 1, 3, 3, 0, 12], enough=3)
    assert [(part.name, part.notes) for part in parts] == [("the board and page 1", 3), ("page 3", 3), ("page 12", 1)]
    assert [part.name for part in parts_of([0, 4, 9, 10], enough=2)] == ["the board and page 4", "pages 9 to 10"]
    assert [part.name for part in parts_of([0, 0, 2], enough=1)] == ["the board", "page 2"]  # a page is never cut
    assert parts_of([], enough=3) == []


def test_a_page_without_notes_leads_to_the_part_it_would_be_in():
    parts = parts_of([2, 3, 8], enough=2)
    assert [part_from(parts, page).name for page in (0, 2, 7, 8, 99)] == ["pages 2 to 3"] * 3 + ["page 8"] * 2
    assert part_from([], 4) is None
