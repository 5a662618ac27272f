"""The Latin part of each typeface is served as a file of its own, small, with all that the stylesheet says is in it."""

from pathlib import Path

import pytest
from django.conf import settings
from fontTools import subset
from fontTools.subset import parse_unicodes
from fontTools.ttLib import TTFont

from board.font_files import FONTS, LATIN, FontFinder, font_path, latin_of


@pytest.mark.parametrize(("source", "served"), [*FONTS.items()][-1:])
def test_the_latin_part_is_small_and_lacks_no_letter_of_it(source, served):
    whole, part = font_path(*source), Path(FontFinder().find(served.replace(".ttf", ".woff2")))
    assert part.stat().st_size < 30_000
    asked = set(parse_unicodes(LATIN.replace("U+", "").replace(" ", "")))
    assert set(TTFont(part).getBestCmap()) == asked & set(TTFont(whole).getBestCmap())


def test_who_asks_while_it_is_made_is_never_given_half_of_it(settings, tmp_path, monkeypatch):
    settings.VAR_DIR = tmp_path
    whole, there = subset.save_font, []

    def in_two_steps(font, path, options):
        Path(path).write_bytes(b"half")
        there.extend((tmp_path / "fonts").glob("*.woff2"))
        whole(font, path, options)

    monkeypatch.setattr(subset, "save_font", in_two_steps)
    made = latin_of(font_path("fontpkg_ibm_plex_mono", "IBMPlexMono-Regular.ttf"))
    assert there == []
    assert list((tmp_path / "fonts").iterdir()) == [made] and TTFont(made).getBestCmap()


def test_the_stylesheet_asks_for_each_part_by_the_letters_that_are_in_it():
    css = (Path(settings.BASE_DIR) / "static/css/base.css").read_text()
    assert css.count(f"unicode-range: {LATIN};") == css.count('format("woff2")') == len(FONTS)
    assert all(f'url("../{served}")' in css for served in FONTS.values())


def test_no_character_is_looked_for_in_both():
    css = (Path(settings.BASE_DIR) / "static/css/base.css").read_text()
    rest = css.split('format("truetype")')[1].split("unicode-range: ")[1].split(";")[0]
    assert css.count(f"unicode-range: {rest};") == css.count('format("truetype")') == len(FONTS)
    counted = parse_unicodes(f"{LATIN}, {rest}".replace("U+", "").replace(" ", ""))
    assert sorted(counted) == list(range(0x110000))
