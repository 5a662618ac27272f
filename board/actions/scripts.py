"""A script taken over: pages that are not here yet are made, with their panels; those that are get its words."""

from dataclasses import dataclass

from django.db import transaction
from django.db.models import Exists, OuterRef, Prefetch

from board.access import Seat, visible_pages
from board.actions.events import write_event
from board.actions.one_at_a_time import PAGE_NUMBERS, one_at_a_time
from board.actions.pages import add_page
from board.actions.script_parts import BARE, OWN, PageParts, Words
from board.actions.versions import save_next_version
from board.comic_script import MOST_PANELS, Script, ScriptPage, ScriptPanel, count_anew, counts_on, read_script, write_script
from board.errors import NotValid
from board.models import Board, Page, Panel, PanelShape

ADD, WRITE, WRITTEN, SAME, NOTHING = DEEDS = ("add", "write", "written", "same", "nothing")


def script_text(seat: Seat) -> str:
    """The script of the comic as it stands, for this person: what `take_script_over` takes. No words are left out: those of panels
    that the newest picture has not stand below the others of their page."""
    pages = visible_pages(seat).order_by("number").prefetch_related("panels")
    return write_script(seat.board.title, (_as_script(page) for page in pages))


def _as_script(page: Page) -> ScriptPage:
    lost = [panel for panel in page.panels.all() if panel.is_gone and (panel.happens or panel.said)]
    panels = [ScriptPanel(number, panel.happens, panel.said, panel.is_gone)
              for number, panel in enumerate((*_standing(page), *lost), 1)]
    return ScriptPage(line=0, numbers=page.numbers, happens=page.happens, said=page.said, panels=panels)


@dataclass(frozen=True)
class PlannedPage:
    script: ScriptPage
    parts: PageParts
    does: str  # make the page, write on it, other words "written" there already, the same words, or nothing, since it has faults

    @property
    def page(self) -> Page | None:
        return self.parts.page

    @property
    def panels_here(self) -> int:
        """That the page has already."""
        return len(self.parts.panels)

    @property
    def told(self) -> list[str]:
        return [] if self.faults else self.parts.told(self.script)

    @property
    def faults(self) -> list[str]:
        return self.script.faults


def plan_script(*, board: Board, text: str) -> tuple[Script, list[PlannedPage]]:
    """What taking it over would do. Nothing is written. Raises NotValid where it is no script."""
    try:
        script = read_script(text)
    except ValueError as error:
        raise NotValid(str(error)) from error
    panels = Panel.objects.annotate(is_drawn=Exists(PanelShape.objects.filter(panel=OuterRef("pk"))))
    pages = list(Page.objects.in_comic().filter(board=board).prefetch_related(Prefetch("panels", panels)))
    by_number = {number: page for page in pages for number in page.numbers}
    parts = [_parts(_page_here(one, by_number)) for one in script.pages]
    if counts_on(script.pages) and all(map(_may_count_on, script.pages, parts)):
        count_anew(script.pages)
    return script, list(map(_planned, script.pages, parts))


def _page_here(script: ScriptPage, by_number: dict[int, Page]) -> Page | None:
    return next((by_number[number] for number in script.numbers if number in by_number), None)


def _parts(page: Page | None) -> PageParts:
    panels = _standing(page) if page else []
    return PageParts(page, panels, any(getattr(panel, "is_drawn", False) for panel in panels))


def _may_count_on(script: ScriptPage, parts: PageParts) -> bool:
    """Panel 3 of a page with five, alone, may be that one as well: over words that are there nothing is guessed."""
    return not any(any(words) for words in parts.here().values()) or len(script.panels) == len(parts.panels)


def _planned(script: ScriptPage, parts: PageParts) -> PlannedPage:
    page = parts.page
    if page is not None and page.numbers != script.numbers:
        script.faults.append(f"On the board there is page {page.numbers_text} instead.")
    if len(script.panels) <= MOST_PANELS < max((panel.number for panel in script.panels), default=0):
        script.faults.append(f"A page has at most {MOST_PANELS} panels.")
    if page is None or script.faults:
        return PlannedPage(script, parts, NOTHING if script.faults else ADD)
    here, named = parts.here(), parts.named(script)
    is_same = all(number in here and _split(here[number]) == _split(words) for number, words in named.items())
    has_words = any(any(here.get(number, BARE)) for number in named)
    return PlannedPage(script, parts, SAME if is_same else WRITTEN if has_words else WRITE)


def _split(words: Words) -> list[list[str]]:
    """They are the same however they are broken into lines."""
    return [text.split() for text in words]


def _standing(page: Page) -> list[Panel]:
    return [panel for panel in page.panels.all() if not panel.is_gone]


@transaction.atomic
def take_script_over(*, seat: Seat, text: str, replaces: bool = False) -> list[PlannedPage]:
    """What was done, page by page. `replaces`: other words there give way; else such pages are left. Whole or not at all."""
    one_at_a_time(PAGE_NUMBERS, seat.board)
    script, planned = plan_script(board=seat.board, text=text)
    if faulty := {f"line {one.line}": one.faults for one in script.pages if one.faults}:
        raise NotValid("Some pages of the script cannot be taken over; nothing was written.", errors=faulty)
    done = [one for one in planned if one.does in (ADD, WRITE) or one.does == WRITTEN and replaces]
    for one in done:
        page = one.page or add_page(seat=seat, number=one.script.numbers[0], is_spread=len(one.script.numbers) > 1)
        _write(page, one.parts, one.script)
    write_event(board=seat.board, kind="script-taken-over", actor=seat.user, pages=len(done))
    return done


def _write(page: Page, parts: PageParts, script: ScriptPage) -> None:
    named, after = parts.named(script), parts.after(script)
    for number, panel in enumerate(parts.panels, 1):
        if number in named:
            panel.happens, panel.said = named[number]
            save_next_version(panel, "happens", "said")
    if not parts.is_drawn:
        # A panel has words before it has a drawing: the first picture claims it, in order.
        Panel.objects.bulk_create(Panel(page=page, order=order, happens=after[order][0], said=after[order][1])
                                  for order in range(len(parts.panels) + 1, max(after) + 1))
    words = (parts.happens_after(after), after[OWN][1])
    if OWN in named or words != (page.happens, page.said):
        page.happens, page.said = words
        save_next_version(page, "happens", "said")
