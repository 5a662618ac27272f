"""Which parts of a page its script names by their numbers, and what becomes of each: what is not named stays."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from board.comic_script import ScriptPage
from board.models import Page, Panel
from board.slip_words import listed

OWN = 0  # the page's own words, among those of its panels by number
BARE = ("", "")
# How a panel that the drawing has not stands among the page's own words: nothing of the script is lost.
BESIDE = re.compile(r"Panel (\d+): ")

Words = tuple[str, str]  # what happens, what is said


@dataclass(frozen=True)
class PageParts:
    """A page of the board and its standing panels, in order. One that was drawn gets no panel by a script."""

    page: Page | None
    panels: Sequence[Panel]
    is_drawn: bool

    def is_beside(self, number: int) -> bool:
        return self.is_drawn and number > len(self.panels)

    def here(self) -> dict[int, Words]:
        own, said = BARE
        beside: dict[int, Words] = {}
        if self.page is not None:
            own, beside = self._own_and_beside(self.page.happens)
            said = self.page.said
        return {OWN: (own, said)} | beside | {at: (panel.happens, panel.said) for at, panel in enumerate(self.panels, 1)}

    def _own_and_beside(self, happens: str) -> tuple[str, dict[int, Words]]:
        own: list[str] = []
        beside: dict[int, list[str]] = {}
        lines = own
        for line in happens.splitlines():
            heading = BESIDE.match(line)
            if heading and self.is_beside(number := int(heading[1])):
                lines = beside.setdefault(number, [])
                line = line[heading.end():]
            lines.append(line)
        return "\n".join(own).strip(), {number: ("\n".join(some), "") for number, some in beside.items()}

    def named(self, script: ScriptPage) -> dict[int, Words]:
        """What a script gives, by number. Where it has all panels it is the whole page, and what it has not is to be bare."""
        given = {panel.number: (panel.happens, panel.said) for panel in script.panels}
        given |= {number: ("\n".join(filter(None, words)), "") for number, words in given.items() if self.is_beside(number)}
        if is_whole(script) and len(given) >= len(self.panels):
            return dict.fromkeys(filter(self.is_beside, self.here()), BARE) | given | {OWN: (script.happens, script.said)}
        return given | ({OWN: (script.happens, script.said)} if script.happens or script.said else {})

    def after(self, script: ScriptPage) -> dict[int, Words]:
        """All words of the page once the script is taken over, bare panels that it makes before one that it names among them."""
        words = self.here() | self.named(script)
        made = range(1, max(words) + 1) if not self.is_drawn else ()
        return dict.fromkeys(made, BARE) | words

    def happens_after(self, words: dict[int, Words]) -> str:
        """What happens on the page, with the panels that its drawing has not."""
        beside = [f"Panel {number}: {words[number][0]}" for number in sorted(words) if self.is_beside(number) and words[number][0]]
        return "\n".join([words[OWN][0], *beside]).strip()

    def told(self, script: ScriptPage) -> list[str]:
        """What goes where, in sentences, where the numbers of the panels are not 1, 2, 3 and so on."""
        numbers = [panel.number for panel in script.panels]
        told = []
        if script.panels_before:
            first = script.panels_before + 1
            told.append(f"The script counts its panels on from page to page: its panel {first} is the first of this page.")
        if numbers != sorted(numbers):
            told.append(f"The panels stand in the order {listed([str(number) for number in numbers])}; each goes by its number.")
        if not is_whole(script):
            told += self._told_of_a_part(set(numbers))
        return told

    def _told_of_a_part(self, named: set[int]) -> list[str]:
        standing = range(1, len(self.panels) + 1)
        bare = [] if self.is_drawn else [number for number in range(len(self.panels) + 1, max(named)) if number not in named]
        beside = sorted(filter(self.is_beside, named))
        return [words for words in (
            _told(named & set(standing), "gets these words", "get these words"),
            _told(set(standing) - named, "stays as it is", "stay as they are"),
            _told(bare, "is made without words", "are made without words"),
            beside and f"The picture has no {_panels(beside)}; the words stand with those of the page.",
        ) if words]


def is_whole(script: ScriptPage) -> bool:
    """No panel is left out before the last that it has."""
    return {panel.number for panel in script.panels} == set(range(1, len(script.panels) + 1))


def _told(numbers: Iterable[int], does_one: str, do_many: str) -> str:
    listing = sorted(numbers)
    return f"{_panels(listing).capitalize()} {does_one if len(listing) == 1 else do_many}." if listing else ""


def _panels(numbers: Sequence[int]) -> str:
    return f"panel{'s' if len(numbers) > 1 else ''} {listed([str(number) for number in numbers])}"
