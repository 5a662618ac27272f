"""What is said, by line and speaker, and counted. The browser counts by the same table (`tests/js/spoken_words.test.js`)."""

import json
from pathlib import Path

import pytest

from board.spoken_words import count_words, spoken_lines, words_said

TABLE = json.loads((Path(__file__).parent / "vectors" / "spoken_words.json").read_text())


@pytest.mark.parametrize(("said", "lines"), TABLE["lines"])
def test_lines_are_taken_apart_by_who_speaks(said, lines):
    assert [[line.who, line.speaker, line.words] for line in spoken_lines(said)] == lines


@pytest.mark.parametrize(("text", "words"), TABLE["counts"])
def test_words_are_counted_as_they_are_read(text, words):
    assert count_words(text) == words


def test_who_speaks_is_not_read_aloud():
    assert words_said("OLD WENNA (from below): Pull it up.\nSFX: KRAK") == 4
