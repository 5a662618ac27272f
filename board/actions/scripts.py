"""A script taken over: pages that are not here yet are made, with their panels; those that are get its words."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.db import transaction

from board.access import Seat, visible_pages
from board.actions.events import write_event
from board.actions.one_at_a_time import PAGE_NUMBERS, one_at_a_time
from board.actions.pages import add_page
from board.actions.versions import save_next_version
from board.comic_script import Script, ScriptPage, ScriptPanel, read_script, write_script
from board.errors import NotValid
from board.models import Board, Page, Panel

ADD, WRITE, WRITTEN, SAME, NOTHING = DEEDS = ("add", "write", "written", "same", "nothing")


def script_text(seat: Seat) -> str:
    """The script of the comic as it stands, for this person: what `take_script_over` takes. No words are left out: those of panels
    that the newest picture has not stand below the others of their page."""
    pages = visible_pages(seat).order_by("number").prefetch_related("panels")
    return write_script(seat.board.title, (_as_script(page) for page in pages))


def _as_script(page: Page) -> ScriptPage:
    lost = [panel for panel in page.panels.all() if panel.is_gone and (panel.happens or panel.said)]
    panels = [ScriptPanel(panel.happens, panel.said, panel.is_gone) for panel in (*_standing(page), *lost)]
    return ScriptPage(line=0, numbers=page.numbers, happens=page.happens, said=page.said, panels=panels)


@dataclass(frozen=True)
class PlannedPage:
    script: ScriptPage
    page: Page | None
    panels_here: int  # that the page has already
    does: str  # make the page, write on it, other words "written" there already, the same words, or nothing, since it has faults

    @property
    def faults(self) -> list[str]:
        return self.script.faults


def plan_script(*, board: Board, text: str) -> tuple[Script, list[PlannedPage]]:
    """What taking it over would do. Nothing is written. Raises NotValid where it is no script."""
    try:
        script = read_script(text)
    except ValueError as error:
        raise NotValid(str(error)) from error
    pages = list(Page.objects.in_comic().filter(board=board).prefetch_related("panels"))
    by_number = {number: page for page in pages for number in page.numbers}
    return script, [_planned(one, by_number) for one in script.pages]


def _planned(script: ScriptPage, by_number: dict[int, Page]) -> PlannedPage:
    there = {by_number[number].pk: by_number[number] for number in script.numbers if number in by_number}
    page = next(iter(there.values()), None)
    if page is not None and page.numbers != script.numbers:
        script.faults.append(f"On the board there is page {page.numbers_text} instead.")
    panels = _standing(page) if page else []
    if page is None or script.faults:
        return PlannedPage(script, page, len(panels), NOTHING if script.faults else ADD)
    has_words = bool(page.happens or page.said or any(panel.happens or panel.said for panel in panels))
    does = SAME if _has_them(page, panels, script) else WRITTEN if has_words else WRITE
    return PlannedPage(script, page, len(panels), does)


def _has_them(page: Page, panels: Sequence[Panel], script: ScriptPage) -> bool:
    """Whether the words on the page are the script's, however they are broken into lines."""
    here = [(page.happens, page.said), *((panel.happens, panel.said) for panel in panels)]
    given = [(script.happens, script.said), *((panel.happens, panel.said) for panel in script.panels)]
    return [[text.split() for text in words] for words in here] == [[text.split() for text in words] for words in given]


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
        _write(page, one.script)
    write_event(board=seat.board, kind="script-taken-over", actor=seat.user, pages=len(done))
    return done


def _write(page: Page, script: ScriptPage) -> None:
    panels = _standing(page)
    is_drawn = any(panel.shapes.exists() for panel in panels)
    for panel, words in zip(panels, script.panels, strict=False):
        panel.happens, panel.said = words.happens, words.said
        save_next_version(panel, "happens", "said")
    more = script.panels[len(panels):]
    if not is_drawn:
        # A panel has words before it has a drawing: the first picture claims it, in order.
        numbered = enumerate(more, len(panels) + 1)
        Panel.objects.bulk_create(Panel(page=page, order=order, happens=one.happens, said=one.said) for order, one in numbered)
        more = []
    page.happens = "\n".join([script.happens, *_as_lines(more, len(panels) + 1)]).strip()
    page.said = script.said
    save_next_version(page, "happens", "said")


def _as_lines(panels: Iterable[ScriptPanel], first: int) -> list[str]:
    """Of panels that the drawing has not: nothing of the script is lost."""
    return [f"Panel {order}: " + "\n".join(words for words in (panel.happens, panel.said) if words)
            for order, panel in enumerate(panels, first)]
