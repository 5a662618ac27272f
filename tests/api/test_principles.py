"""Every kind of finding that is said to be drawn has its drawing, and no drawing lies about."""

from pathlib import Path
from xml.etree import ElementTree

from api.principles import DRAWN
from board.check_registry import CHECKS

FOLDER = Path(__file__).resolve().parent.parent.parent / "static" / "principles"


def test_what_is_named_is_drawn_and_what_is_drawn_is_a_finding():
    files = {path.stem for path in FOLDER.glob("*.svg")}
    assert files == DRAWN
    assert {kind for entry in CHECKS.values() for kind in entry.findings} >= DRAWN


def test_each_says_in_words_what_it_shows():
    for path in FOLDER.glob("*.svg"):
        title = ElementTree.parse(path).getroot().find("{http://www.w3.org/2000/svg}title")
        assert title is not None and len(title.text or "") > 20, path.name
