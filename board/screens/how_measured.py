"""How each kind of finding is measured; with a board named, by the tolerances that are in force there."""

from collections.abc import Iterator
from functools import cache
from xml.etree import ElementTree

from django.conf import settings
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from board.access import access_board, signed_in
from board.check_registry import CHECKS, CheckEntry
from board.errors import BoardError
from board.how_measured import HOW_MEASURED
from board.models import Board
from board.screens.shell import name_of

SVG = "{http://www.w3.org/2000/svg}"


@login_required
def how_measured_list(request: HttpRequest) -> HttpResponse:
    board = board_named(request)
    checks = [
        {"entry": entry, "kinds": [{"kind": kind, "label": label, "what": HOW_MEASURED[kind].what}
                                   for kind, label in entry.findings.items()]}
        for entry in CHECKS.values() if entry.findings
    ]
    context = {"checks": checks, "board": board, "name": name_of(signed_in(request))}
    return render(request, "board/how_measured_list.html", context)


@login_required
def how_measured(request: HttpRequest, kind: str) -> HttpResponse:
    entry = next((entry for entry in CHECKS.values() if kind in entry.findings), None)
    if entry is None:
        raise Http404("No check here finds this.")
    board = board_named(request)
    context = {
        "kind": kind, "label": entry.findings[kind], "entry": entry, "told": HOW_MEASURED[kind], "figure": caption_of(kind),
        "board": board, "tolerances": list(tolerances_of(kind, entry, board)), "name": name_of(signed_in(request)),
        "others": [(other, label) for other, label in entry.findings.items() if other != kind],
    }
    return render(request, "board/how_measured.html", context)


def board_named(request: HttpRequest) -> Board | None:
    """`?board=`; one that this person may not see is left out, since the page is true without it."""
    try:
        return access_board(signed_in(request), int(request.GET.get("board", ""))).board
    except (ValueError, BoardError):
        return None


def tolerances_of(kind: str, entry: CheckEntry, board: Board | None) -> Iterator[dict]:
    own = board.own_tolerances.get(entry.id, {}) if board else {}
    for name, shown in HOW_MEASURED[kind].tolerances.items():
        usual = entry.tolerances[name]
        yield {
            "label": shown.label, "unit": shown.unit, "value": shown.number(own.get(name, usual)),
            "usual": shown.number(usual) if name in own else None,
        }


@cache
def caption_of(kind: str) -> str:
    """What the drawing of the principle says of itself."""
    title = ElementTree.parse(settings.BASE_DIR / "static" / "principles" / f"{kind}.svg").getroot().find(f"{SVG}title")
    return "" if title is None else title.text or ""
