"""Reads and writes a comic's script: pages, panels, what happens and what is said in them, as scripts are commonly typed.

Common practice, no source: a line "Page 4" or "PAGES 4-5" begins a page, "Panel 2" that panel of it; what somebody says stands
behind their name in capitals, after a colon or on the lines below it; all else is what happens.
"""

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field

from board.spoken_words import SPEECH, is_speaker

MOST_PAGES, MOST_PANELS = 500, 60
LONGEST_WORDS = 20_000

ONES = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen", "fourteen",
        "fifteen", "sixteen", "seventeen", "eighteen", "nineteen")
TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
NUMBERS = {word: number for number, word in enumerate(ONES, 1)}
NUMBERS |= {word: 10 * (at + 2) for at, word in enumerate(TENS)}
NUMBERS |= {f"{tens} {one}": 10 * (at + 2) + number for at, tens in enumerate(TENS) for number, one in enumerate(ONES[:9], 1)}

NUMBER = r"\d{1,4}|(?:" + "|".join(TENS) + r")(?:[- ](?:" + "|".join(ONES[:9]) + r"))?|" + "|".join(reversed(ONES))
# What stands behind the number is a mark or nothing: "Page 3 of her diary lies open" is what happens.
REST = r"\s*(?:$|[-:.,–—(\[*_#)].*)"
TO_LAST = rf"(?:\s*(?:[-–—&/]|and|to)\s*(?P<last>{NUMBER}))?"
PAGE = re.compile(rf"[\W_]*pages?\s+(?P<first>{NUMBER}){TO_LAST}(?P<rest>{REST})$", re.IGNORECASE)
PANEL = re.compile(rf"[\W_]*panel\s+(?P<number>{NUMBER})(?P<rest>{REST})$", re.IGNORECASE)
LOUD_PANEL = re.compile(rf"[\W_]*PANEL\s+(?P<number>(?i:{NUMBER}))\b(?P<rest>.*)$")
HOW_MANY = re.compile(rf"[(\[]?\s*(?:{NUMBER})\s+panels?\s*[)\]]?", re.IGNORECASE)
MARKS = " \t-–—*_#"  # around a heading
NOT_DRAWN = "(not on the newest picture)"  # behind a panel's heading; read as nothing


@dataclass
class ScriptPanel:
    """`number`: which panel of the page is meant. `was_drawn`: it stood on an earlier picture and not on the newest, which is
    written and not read."""

    number: int
    happens: str = ""
    said: str = ""
    was_drawn: bool = False


@dataclass
class ScriptPage:
    """`numbers`: two for facing pages that are one picture. `panels_before`: how many its panels' numbers had counted on from.
    `faults`: why it cannot be taken over."""

    line: int
    numbers: tuple[int, ...]
    happens: str = ""
    said: str = ""
    panels: list[ScriptPanel] = field(default_factory=list)
    panels_before: int = 0
    faults: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Script:
    pages: list[ScriptPage]
    before: list[str]  # lines before the first page: a title, a cast


def read_script(text: str) -> Script:
    """The pages in the order they stand in. Raises ValueError where no line begins a page, or there are too many."""
    reader = _Reader()
    lines = [line.replace("\u00a0", " ").rstrip() for line in text.removeprefix("\ufeff").splitlines()]
    for number, line in enumerate(lines, 1):
        reader.read(number, line, lines[number] if number < len(lines) else "")
    if not reader.pages:
        raise ValueError("No line begins a page. A page begins with a line like “Page 1”, a panel with one like “Panel 1”.")
    if len(reader.pages) > MOST_PAGES:
        raise ValueError(f"A script has at most {MOST_PAGES} pages.")
    _find_faults(reader.pages)
    return Script(reader.pages, reader.before)


def counts_on(pages: Iterable[ScriptPage]) -> bool:
    """Whether the panels are numbered through the whole script, and not anew on each page."""
    with_panels = [page for page in pages if page.panels]
    numbers = [panel.number for page in with_panels for panel in page.panels]
    return 1 < len(with_panels) < len(numbers) and numbers == list(range(1, len(numbers) + 1))


def count_anew(pages: Iterable[ScriptPage]) -> None:
    """Of a script that counts on: its panels get the numbers that they have on their own page."""
    for page in pages:
        page.panels_before = page.panels[0].number - 1 if page.panels else 0
        for panel in page.panels:
            panel.number -= page.panels_before


def write_script(title: str, pages: Iterable[ScriptPage]) -> str:
    """A text that `read_script` reads as the same pages. Bare lines go, and a line of what is said that names nobody is read as
    what happens, since a script tells the two apart by the names."""
    head = [] if PAGE.match(title) else [title, ""]  # "Page One" is a title, and would begin a page
    return "\n".join([*head, *(line for page in pages for line in _lines_of_page(page))])


def _lines_of_page(page: ScriptPage) -> list[str]:
    heading = f"PAGE{'S' if len(page.numbers) > 1 else ''} {'-'.join(map(str, page.numbers))}"
    headings = [f"PANEL {panel.number}{f' {NOT_DRAWN}' if panel.was_drawn else ''}" for panel in page.panels]
    panels = (line for heading, panel in zip(headings, page.panels, strict=True) for line in _lines_of(heading, panel))
    return [*_lines_of(heading, page), *panels]


def _lines_of(heading: str, part: ScriptPage | ScriptPanel) -> list[str]:
    happens, said = ([line.strip() for line in text.splitlines() if line.strip()] for text in (part.happens, part.said))
    if happens and _would_begin(happens[0]):
        heading = f"{heading}: {happens.pop(0)}"  # behind a heading all is what happens
    return [heading, *happens, *([""] if happens and said else []), *said, ""]


def _would_begin(line: str) -> bool:
    speech = SPEECH.match(line)
    return is_speaker(speech["who"] if speech else line) or _begins(line)


class _Reader:
    def __init__(self) -> None:
        self.pages: list[ScriptPage] = []
        self.before: list[str] = []
        self.speaks = False  # the lines that follow may go on with what somebody says
        self.follows_name = False  # their words stand below the name: to the next bare line all is said
        self.is_fresh = True  # the line before was bare, or began something

    def read(self, number: int, line: str, following: str) -> None:
        words = line.strip()
        if not words:
            self.speaks, self.is_fresh = False, True
        elif heading := PAGE.match(words):
            self._begin_page(number, heading)
        elif not self.pages:
            self.before.append(words)
        elif heading := PANEL.match(words) or LOUD_PANEL.match(words):
            self.pages[-1].panels.append(ScriptPanel(_number(heading["number"])))
            self._after_heading(heading["rest"])
        elif (speech := SPEECH.match(words)) and is_speaker(speech["who"]):
            self._say(f"{speech['who'].strip()}: {speech['words']}".strip())
        elif self.is_fresh and following.strip() and is_speaker(words) and not _begins(following):
            self._say(f"{words}:")
        elif self.speaks and (line[:1].isspace() or self.follows_name):
            self._here.said += f" {words}"
        else:
            self.speaks = self.is_fresh = False
            self._here.happens = f"{self._here.happens}\n{words}".strip()

    @property
    def _here(self) -> ScriptPage | ScriptPanel:
        page = self.pages[-1]
        return page.panels[-1] if page.panels else page

    def _begin_page(self, number: int, heading: re.Match) -> None:
        first = _number(heading["first"])
        last = _number(heading["last"]) if heading["last"] else first
        self.pages.append(ScriptPage(number, (first,) if last == first else (first, last)))
        self._after_heading(HOW_MANY.sub("", heading["rest"]))

    def _after_heading(self, rest: str) -> None:
        self.speaks, self.is_fresh = False, True
        self._here.happens = rest.replace(NOT_DRAWN, "").lstrip(MARKS + ":.,").rstrip(MARKS)

    def _say(self, words: str) -> None:
        self.speaks, self.is_fresh, self.follows_name = True, False, words.endswith(":")
        self._here.said = f"{self._here.said}\n{words}".strip()


def _number(words: str) -> int:
    return int(words) if words.isdecimal() else NUMBERS[words.lower().replace("-", " ")]


def _begins(line: str) -> bool:
    words = line.strip()
    return bool(PAGE.match(words) or PANEL.match(words) or LOUD_PANEL.match(words))


def _find_faults(pages: list[ScriptPage]) -> None:
    taken: dict[int, int] = {}
    for page in pages:
        first, last = page.numbers[0], page.numbers[-1]
        if first < 1 or last - first > 1 or last < first:
            page.faults.append("A page has one number; facing pages drawn as one picture have two that follow each other.")
        for number in page.numbers:
            if number in taken:
                page.faults.append(f"Page {number} begins on line {taken[number]} already.")
            taken.setdefault(number, page.line)
        if len(page.panels) > MOST_PANELS:
            page.faults.append(f"A page has at most {MOST_PANELS} panels.")
        times = Counter(panel.number for panel in page.panels)
        page.faults += [f"Panel {number} stands {count} times on this page." for number, count in times.items() if count > 1]
        if 0 in times:
            page.faults.append("Panels are counted from 1.")
        parts: list[ScriptPage | ScriptPanel] = [page, *page.panels]
        if max(len(words) for part in parts for words in (part.happens, part.said)) > LONGEST_WORDS:
            page.faults.append(f"What happens, or what is said, is longer than {LONGEST_WORDS} letters.")
