"""How the comic reads from turn to turn: every page as an outline, what stands out, and the numbers as tables."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from board.access import Seat
from board.actions.pace_inputs import read_pace
from board.pace import ComicPace, PagePace, PanelPace
from board.pace_remarks import Remark, what_stands_out
from board.page_openings import Leaf
from board.screens.board_shell import on_board
from board.screens.page_outline import WORDS_ACROSS, outline_of
from board.screens.shell import name_of


@on_board
def pace(request: HttpRequest, seat: Seat) -> HttpResponse:
    comic = read_pace(seat)
    panels = [panel for page in comic.pages for panel in page.panels]
    context = {
        "seat": seat, "board": seat.board, "name": name_of(seat.user),
        "comic": comic, "words": f"{comic.words:,}", "time": reading_time(comic),
        "words_across": WORDS_ACROSS,
        "openings": [{"gap": opening.gap, "leaves": [_leaf(comic, leaf) for leaf in opening.leaves]} for opening in comic.openings],
        "remarks": [_remark(remark, comic.pages[remark.pages[0]]) for remark in what_stands_out(comic)],
        "turns": [_turn(turn.before, turn.after) for turn in comic.turns if turn.before and turn.after],
        "rows": [_row(page) for page in comic.pages], "medians": _medians(comic),
        "has_levels": any(panel.eye_level is not None for panel in panels),
        "has_figures": any(panel.figure is not None for panel in panels),
    }
    return render(request, "board/pace.html", context)


def reading_time(comic: ComicPace) -> str:
    least, most = (max(1, round(seconds / 60)) for seconds in (comic.fiction_seconds, comic.non_fiction_seconds))
    if comic.non_fiction_seconds < 60:
        return "less than a minute"
    return f"about {most} minute{'s' if most > 1 else ''}" if least == most else f"{least} to {most} minutes"


def _leaf(comic: ComicPace, leaf: Leaf) -> dict[str, Any]:
    if leaf.page is None:
        return {"number": leaf.number}
    page = comic.pages[leaf.page]
    return {"page": page, "outline": outline_of(page), "is_spread": len(page.numbers) > 1, "instead": _instead(page)}


def _instead(page: PagePace) -> str:
    """What stands on a page whose panels cannot be drawn."""
    if page.facts.is_drawn:
        return "not read yet"
    count = len(page.panels)
    return f"{count} panel{'s' if count > 1 else ''}" if count else "not drawn yet"


def _remark(remark: Remark, page: PagePace) -> dict[str, Any]:
    """`first`: the panel that is shown first, where it is about panels."""
    first = page.panels[remark.panels[0] - 1].facts.id if remark.panels else None
    return {"text": remark.text, "page": page, "panels": remark.panels, "first": first}


def _turn(before: PagePace, after: PagePace) -> dict[str, Any]:
    return {
        "before": before, "last": _told(before.panels[-1] if before.panels else None),
        "after": after, "first": _told(after.panels[0] if after.panels else None),
    }


def _told(panel: PanelPace | None) -> dict[str, Any]:
    return {"share": percent(panel.share if panel else None), "words": panel.words if panel else None}


def _row(page: PagePace) -> dict[str, Any]:
    largest, fullest = page.largest, page.fullest
    return {"page": page, "largest": percent(largest.share if largest else None), "fullest": fullest.words if fullest else 0}


def _medians(comic: ComicPace) -> dict[str, str]:
    panels, words = ("–" if value is None else f"{value:g}" for value in (comic.median_panels, comic.median_words))
    return {"panels": panels, "words": words, "largest": percent(comic.median_largest)}


def percent(share: float | None) -> str:
    return "–" if share is None else f"{100 * share:.0f} %"
