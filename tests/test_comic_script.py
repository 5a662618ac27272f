"""A script as it is commonly typed (common practice, no source) becomes pages and panels with their words."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as some

from board.comic_script import ScriptPage, ScriptPanel, read_script, write_script

SCRIPT = """HIGH WATER
by nobody

PAGE ONE (three panels)
Night at the quay.

PANEL 1
Wide. Rain on the mill.
CAPTION: The last night of the spring tides.
PIM (off): Mind the edge!

Panel 2: Close on Odda.
She does not turn.

ODDA
(whispering)
It has not come in
yet.

PANEL THREE
SFX: krrk
PIM: A long sentence that
    goes on below it.
Then the wheel stops.

Pages 2-3
One picture over both.

Panel 1 - The flood.
"""


def test_pages_and_panels_with_what_happens_and_what_is_said():
    script = read_script(SCRIPT)
    first, spread = script.pages
    assert (first.line, first.numbers, first.happens, first.said) == (4, (1,), "Night at the quay.", "")
    assert [(panel.happens, panel.said) for panel in first.panels] == [
        ("Wide. Rain on the mill.", "CAPTION: The last night of the spring tides.\nPIM (off): Mind the edge!"),
        ("Close on Odda.\nShe does not turn.", "ODDA: (whispering) It has not come in yet."),
        ("Then the wheel stops.", "SFX: krrk\nPIM: A long sentence that goes on below it."),
    ]
    assert (spread.numbers, spread.happens) == ((2, 3), "One picture over both.")
    assert [panel.happens for panel in spread.panels] == ["The flood."]
    assert script.before == ["HIGH WATER", "by nobody"]
    assert not first.faults and not spread.faults


@pytest.mark.parametrize(("line", "numbers"), [
    ("Page 4", (4,)), ("PAGE 4.", (4,)), ("page 4:", (4,)), ("## Page 12 — 5 panels", (12,)), ("**PAGE TWENTY-ONE**", (21,)),
    ("PAGE NINETEEN", (19,)), ("Pages 8 and 9", (8, 9)), ("PAGES FOUR-FIVE", (4, 5)), ("Page Ninety nine (six panels)", (99,)),
    ("— PAGE 7 —", (7,)),
])
def test_headings_of_pages_as_people_type_them(line, numbers):
    (page,) = read_script(f"{line}\nPanel 1\nRain.").pages
    assert (page.numbers, page.happens, page.faults) == (numbers, "", [])
    assert [panel.happens for panel in page.panels] == ["Rain."]


@pytest.mark.parametrize("line", ["Page 3 of her diary lies open.", "Panel beaters hammer.", "Panel 2 is torn off the cart.",
                                  "They turn the page.", "PIM WALKS ON. THE QUAY IS BARE."])
def test_what_happens_may_speak_of_pages_and_panels(line):
    (page,) = read_script(f"Page 1\nPanel 1\n{line}\nRain.").pages
    assert [panel.happens for panel in page.panels] == [f"{line}\nRain."]


@pytest.mark.parametrize(("line", "said"), [
    ("PIM: No.", "PIM: No."), ("PIM (SHOUTING): No!", "PIM (SHOUTING): No!"), ("OLD WOMAN 2: No.", "OLD WOMAN 2: No."),
    ("ÅSE: Nei.", "ÅSE: Nei."), ("ΠΙΜ: Όχι.", "ΠΙΜ: Όχι."), ("ピム：だめ。", "ピム: だめ。"),
    ("MRS. O'DOWD: No.", "MRS. O'DOWD: No."),
])
def test_who_speaks_is_a_name_in_capitals(line, said):
    (page,) = read_script(f"Page 1\nPanel 1\n{line}").pages
    assert (page.panels[0].happens, page.panels[0].said) == ("", said)


@pytest.mark.parametrize("line", ["He says: no.", "Note: the door is left.", "At 10:30 the tide turns."])
def test_a_colon_alone_is_no_speech(line):
    (page,) = read_script(f"Page 1\nPanel 1\n{line}").pages
    assert (page.panels[0].happens, page.panels[0].said) == (line, "")


def test_a_panel_keeps_the_number_that_was_typed():
    (page,) = read_script("Page 6\nPanel 3\nA\nPANEL TWENTY-ONE. B\n## Panel 2: C").pages
    assert [(panel.number, panel.happens) for panel in page.panels] == [(3, "A"), (21, "B"), (2, "C")]


def test_words_before_the_first_panel_are_the_pages_own():
    (page,) = read_script("Page 1\nA double gutter.\nCAPTION: Later.\n").pages
    assert (page.happens, page.said, page.panels) == ("A double gutter.", "CAPTION: Later.", [])


@pytest.mark.parametrize(("text", "words"), [
    ("Page 1\nPage 1", "begins on line 1 already"), ("Pages 2-3\nPage 3", "begins on line 1 already"),
    ("Pages 2-7", "two that follow each other"), ("Page 0", "one number"),
    ("Page 1\n" + "Panel 1\n" * 61, "at most 60 panels"), ("Page 1\nPanel 2\nPanel 2", "Panel 2 stands 2 times"),
    ("Page 1\nPanel 0", "counted from 1"), ("Page 1\n" + "x" * 20_001, "longer than 20000"),
])
def test_what_cannot_be_taken_over_is_said_page_by_page(text, words):
    assert words in " ".join(read_script(text).pages[-1].faults)


@pytest.mark.parametrize("text", ["", "Panel 1\nRain.", "A story about a mill."])
def test_without_a_page_it_is_no_script(text):
    with pytest.raises(ValueError, match="No line begins a page"):
        read_script(text)


def test_line_ends_and_marks_of_other_machines_do_no_harm():
    (page,) = read_script("\ufeffPage\u00a01\r\nPanel 1\r\nRain.\r\n").pages
    assert (page.numbers, page.panels[0].happens) == ((1,), "Rain.")


WORDS = some.text("abcdefgh ,.'-é:1", min_size=1, max_size=30).map(lambda text: " ".join(text.split()))
LINES = some.lists(WORDS.map(lambda words: f"so {words}".strip()), max_size=3)
LOUD = some.sampled_from(["NIGHT", "CLOSE ON: the wheel", "Panel 7", "Page 3: the ford", "- a dash", "12"])
HAPPENS = some.builds(lambda loud, lines: "\n".join([*loud, *lines]), some.lists(LOUD, max_size=1), LINES)
NAMES = some.sampled_from(["PIM", "OLD WENNA (from below)", "CAPTION", "SFX", "ÉGLANTINE"])
SAID = some.lists(some.builds("{}: {}".format, NAMES, WORDS.filter(bool)), max_size=3).map("\n".join)
PANELS = some.lists(some.tuples(HAPPENS, SAID), max_size=4).map(
    lambda panels: [ScriptPanel(number, *words) for number, words in enumerate(panels, 1)])


@given(some.lists(some.tuples(HAPPENS, SAID, PANELS, some.booleans()), min_size=1, max_size=4))
def test_what_is_written_reads_as_the_same_pages(parts):
    pages = [ScriptPage(0, (3 * i + 1, 3 * i + 2) if is_spread else (3 * i + 1,), happens, said, panels)
             for i, (happens, said, panels, is_spread) in enumerate(parts)]
    for title in ("High water", "Page One"):
        assert [replace(page, line=0) for page in read_script(write_script(title, pages)).pages] == pages


def test_a_panel_that_the_newest_picture_has_not_is_written_as_such_and_read_as_any_other():
    page = ScriptPage(0, (1,), panels=[ScriptPanel(1, "Rain."), ScriptPanel(2, "NIGHT", "PIM: Too late.", was_drawn=True)])
    text = write_script("", [page])
    assert "PANEL 1\nRain." in text and "PANEL 2 (not on the newest picture): NIGHT\nPIM: Too late." in text
    [back] = read_script(text).pages
    assert back.panels == [ScriptPanel(1, "Rain."), ScriptPanel(2, "NIGHT", "PIM: Too late.")]


def test_words_that_name_nobody_come_back_as_what_happens():
    page = ScriptPage(0, (1,), "Rain.", "Mind the edge!\nPIM: Too late.")
    [back] = read_script(write_script("", [page])).pages
    assert (back.happens, back.said) == ("Rain.\nMind the edge!", "PIM: Too late.")
