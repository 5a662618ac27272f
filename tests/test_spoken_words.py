"""What is said, by line and speaker, and counted."""

import pytest

from board.spoken_words import SpokenLine, count_words, spoken_lines, words_said


def test_lines_are_taken_apart_by_who_speaks():
    said = "PIM (off): Mind the edge!\n\nCAPTION: The last tide.\nIt is 7:30 by the clock.\nwhoever: small letters name nobody"
    assert spoken_lines(said) == [
        SpokenLine("PIM (off)", "Mind the edge!"), SpokenLine("CAPTION", "The last tide."),
        SpokenLine("", "It is 7:30 by the clock."), SpokenLine("", "whoever: small letters name nobody"),
    ]
    assert [line.speaker for line in spoken_lines(said)][:2] == ["PIM", "CAPTION"]


@pytest.mark.parametrize(("text", "words"), [
    ("", 0), ("Don't — it’s half-built!", 3), ("…", 0), ("Tide at 7 o'clock", 4), ("Où est l’écluse ?", 3), ("A1 B2", 2),
])
def test_words_are_counted_as_they_are_read(text, words):
    assert count_words(text) == words


def test_who_speaks_is_not_read_aloud():
    assert words_said("OLD WENNA (from below): Pull it up.\nSFX: KRAK") == 4
