"""Shares, words, turns and what stands out, against a comic worked out by hand."""

from dataclasses import replace

import pytest

from board.pace import PageFacts, PanelFacts, pace_of
from board.pace_remarks import what_stands_out


def box(left, top, right, bottom):
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def words(count: int) -> str:
    return " ".join(["tide"] * count)


def strips(count: int, *, said: str = "") -> tuple[PanelFacts, ...]:
    """A page cut into panels of equal height."""
    return tuple(PanelFacts(at, box(0, at / count, 1, (at + 1) / count), said) for at in range(count))


def told(pages) -> list[tuple]:
    return [(remark.kind, remark.pages, remark.panels) for remark in what_stands_out(pace_of(pages))]


def test_a_comic_worked_out_by_hand():
    """Page 1: half a page, silent, and a triangle of an eighth with 3 + 2 words; page 2 is written and not drawn: 4 words."""
    triangle = ((0.0, 0.5), (0.5, 0.5), (0.0, 1.0))
    level, figure = ((0.0, 0.6), (0.5, 0.7)), ((0.1, 0.7), (0.12, 0.95))
    first = PageFacts((1,), (PanelFacts(1, box(0, 0, 1, 0.5)),
                             PanelFacts(2, triangle, "PIM: Mind the edge!\nOLD WENNA: It's half-built.", level, (figure,))))
    second = PageFacts((2,), (PanelFacts(3, said="The last tide came."),), is_drawn=False)
    comic = pace_of([second, first])
    assert [page.numbers for page in comic.pages] == [(1,), (2,)]
    top, corner = comic.pages[0].panels
    assert (top.share, corner.share, top.words, corner.lines) == (0.5, 0.125, 0, (3, 2))
    # At the middle of its width, 0.25, the level stands at 0.65: 0.15 below the top of a panel 0.5 high; the figure is 0.25 tall.
    assert (corner.eye_level, corner.figure) == (pytest.approx(0.3), pytest.approx(0.5))
    assert (top.eye_level, top.figure) == (None, None)
    assert comic.pages[0].largest is top and comic.pages[0].fullest is corner
    assert comic.pages[1].largest is None and comic.pages[1].panels[0].share is None
    assert (comic.words, comic.panels, comic.numbers) == (9, 3, 2)
    assert (comic.median_words, comic.median_panels, comic.median_largest) == (4.5, 1.5, 0.5)
    assert what_stands_out(comic) == []


def test_the_words_take_a_silent_reader_some_time():
    comic = pace_of([PageFacts((1,), said=words(260))])
    assert comic.fiction_seconds == 60 and round(comic.non_fiction_seconds, 1) == 65.5


def test_a_spread_is_two_pages_to_read():
    comic = pace_of([PageFacts((2, 3), strips(4, said=words(10)))])
    assert (comic.numbers, comic.pages[0].words, comic.median_words, comic.median_panels) == (2, 40, 20, 2)
    assert comic.pages[0].name == "2-3"


@pytest.mark.parametrize("pages", [
    [], [PageFacts((1,))], [PageFacts((1, 2))], [PageFacts((4,), is_drawn=False)],
    [PageFacts((1,), (PanelFacts(1, ((0.2, 0.2),) * 3, "Hold!", ((0, 0.5), (1, 0.5)), (((0.2, 0.1), (0.2, 0.9)),)),))],
    [PageFacts((1,), (PanelFacts(1, (), "", ((0.5, 0), (0.5, 1))), PanelFacts(2, box(0, 0, 1, 1), "", ((0.5, 0), (0.5, 1)))))],
])
def test_what_there_is_little_of_is_told_without_a_slip(pages):
    comic = pace_of(pages)
    assert what_stands_out(comic) == [] and len(comic.turns) == max(0, len(comic.openings) - 1)
    assert all(panel.eye_level is None and panel.figure is None for page in comic.pages for panel in page.panels)


def test_before_and_after_a_turn():
    comic = pace_of([PageFacts((number,)) for number in (1, 2, 3, 4, 7)] + [PageFacts((8, 9)), PageFacts((11,))])
    names = [(turn.before and turn.before.name, turn.after and turn.after.name) for turn in comic.turns]
    # 5, 6 and 10 are missing: what stands beside them at the turn is not known.
    assert names == [("1", "2"), ("3", "4"), (None, None), ("7", "8-9"), ("8-9", None)]


def test_a_page_with_over_twice_the_median_of_words_stands_out():
    pages = [PageFacts((number,), said=words(count)) for number, count in enumerate((20, 20, 20, 41, 0), 1)]
    assert told(pages) == [("many-words", (3,), ())]
    assert what_stands_out(pace_of(pages))[0].text == "Page 4 has 41 words; the median of pages with words is 20."
    assert told([*pages[:2], *pages[3:]]) == []  # three pages with words are too few
    assert told([*pages[:3], PageFacts((4, 5), said=words(41))]) == []
    spread = what_stands_out(pace_of([*pages[:3], PageFacts((4, 5), said=words(84))]))
    assert [remark.text[:56] for remark in spread] == ["Pages 4-5, one picture, have 84 words, 42 a page; the me"]


def test_a_page_with_over_twice_the_median_of_panels_stands_out():
    pages = [PageFacts((number,), tuple(PanelFacts(at) for at in range(count))) for number, count in enumerate((2, 3, 2, 3, 6), 1)]
    assert told(pages) == []
    pages[-1] = replace(pages[-1], panels=(*pages[-1].panels, PanelFacts(7)))
    assert told(pages) == [("many-panels", (4,), ())]


def test_rules_of_thumb_are_called_so():
    long, full = f"PIM: {words(26)}", f"PIM: {words(26)}\nWENNA: {words(25)}"
    pages = [PageFacts((1,), (PanelFacts(1, said=long), PanelFacts(2, said=full), PanelFacts(3, said=f"{words(25)}\n{words(25)}"),
                               PanelFacts(4, said=words(60))))]
    assert told(pages) == [("wordy-panels", (0,), (2, 4)), ("long-lines", (0,), (1,))]
    assert [remark.text for remark in what_stands_out(pace_of(pages))] == [
        "Panels 2 and 4 of page 1 have 51 to 60 words; a rule of thumb is 50 at most in a panel.",
        "Panel 1 of page 1 has a line of 26 words; a rule of thumb is 25 at most in a balloon."]


def test_words_over_a_small_picture_stand_out():
    usual = [PageFacts((number,), strips(4, said=words(10))) for number in (1, 2)]
    small = PageFacts((3,), (PanelFacts(9, box(0, 0, 0.5, 0.5), words(24)), PanelFacts(10, box(0, 0.5, 0.2, 0.8), words(24))))
    assert told([*usual, small]) == [("words-over-picture", (2,), (2,))]
    assert told([usual[0], small]) == []  # six panels with words are too few


def test_a_large_panel_that_faces_another_page_is_seen_with_it():
    pages = [PageFacts((number,), strips(3)) for number in (1, 2, 4, 6)]
    large = PageFacts((5,), (PanelFacts(1, box(0, 0, 1, 0.2)), PanelFacts(2, box(0, 0.2, 1, 1))))
    assert told([*pages, large]) == [("seen-early", (3,), (2,))]
    assert told([*pages, replace(large, numbers=(8,))]) == []  # it stands after a turn
    assert told([*pages[1:], replace(large, numbers=(1,))]) == []


def test_one_beat_over_four_pages_stands_out():
    pages = [PageFacts((number,), strips(6)) for number in range(2, 6)]
    assert told(pages) == [("even-run", (0, 1, 2, 3), ())]
    uneven = (*strips(6)[:5], PanelFacts(6, box(0, 5 / 6, 0.75, 1)))
    assert told([*pages[:3], replace(pages[3], panels=uneven)]) == []
    assert told([*pages[:3], replace(pages[3], numbers=(7,))]) == []  # a page is missing between them
    assert told([replace(page, panels=strips(1)) for page in pages]) == []
    assert told([PageFacts(page.numbers, tuple(PanelFacts(at) for at in range(6))) for page in pages]) == []
