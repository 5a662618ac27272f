"""One character that stands in the cast under two names becomes one."""

from typing import Any

from django.db import transaction
from django.db.models import F

from board.access import Seat
from board.actions.events import write_event
from board.actions.figure_doubles import fold_doubles
from board.actions.measuring import measure_figures_again
from board.actions.proposal_inputs import queue_proposals_beside
from board.actions.row_locks import hold_pages
from board.actions.versions import save_next_version
from board.errors import NotValid
from board.models import Board, Character, Figure, FigureProposal, ModelSheet, Page, Panel

FILLED_IN = ("height_m", "age_band", "preset")


@transaction.atomic
def merge_characters(*, seat: Seat, kept: Character, other: int) -> Character:
    """All that was marked and stood as `other` is `kept`'s from then on, its name, key and measures apart: of those `kept` takes
    what it has not itself, and where both have a sheet of one view from one page, its own goes on holding."""
    posted = list(Panel.objects.filter(page__board=seat.board, figure_posts__isnull=False).order_by("page", "pk"))
    stood = [panel for panel in posted if any(post.get("character") == other for post in _posts_of(panel))]
    marked = set(Figure.objects.filter(character=other).values_list("page", flat=True))
    hold_pages(sorted(marked | {panel.page_id for panel in stood}))
    board = Board.objects.select_for_update(no_key=True).get(pk=seat.board.pk)
    both = Character.objects.select_for_update().filter(board=board, pk__in=(kept.pk, other)).in_bulk()
    if len(both) < 2:
        raise NotValid("Name another character of this board.")
    kept, gone = both[kept.pk], both[other]
    FigureProposal.objects.filter(source__character=gone).update(version=F("version") + 1)
    came = list(Figure.objects.filter(character=gone).values_list("pk", flat=True))
    Figure.objects.filter(pk__in=came).update(character=kept, version=F("version") + 1)
    fold_doubles(came)
    _take_sheets(kept, gone)
    for panel in Panel.objects.select_for_update(no_key=True).filter(pk__in=[one.pk for one in stood]).order_by("pk"):
        _take_posts(seat, panel, kept, gone)
    for field in FILLED_IN:
        setattr(kept, field, getattr(kept, field) or getattr(gone, field))
    number = gone.pk
    gone.delete()
    save_next_version(kept, *FILLED_IN)
    write_event(board=board, kind="characters-merged", actor=seat.user, character=kept.pk, merged=number)
    measure_figures_again(board=board, character=kept)
    for page in Page.objects.in_comic().filter(pk__in=marked):
        queue_proposals_beside(page=page)
    return kept


def _take_sheets(kept: Character, gone: Character) -> None:
    """Of two sheets that begin on one page the one that was added last holds: those of `kept` that meet another are added anew."""
    coming = set(gone.sheets.values_list("view", "from_page"))
    met = [sheet for sheet in kept.sheets.order_by("pk") if (sheet.view, sheet.from_page) in coming]
    ModelSheet.objects.filter(character=gone).update(character=kept, version=F("version") + 1)
    for sheet in met:
        sheet.delete()
        sheet.save(force_insert=True)


def _posts_of(panel: Panel) -> list[dict[str, Any]]:
    return (panel.figure_posts or {}).get("posts", [])


def _take_posts(seat: Seat, panel: Panel, kept: Character, gone: Character) -> None:
    renamed = [{**post, "character": kept.pk} if post.get("character") == gone.pk else post for post in _posts_of(panel)]
    panel.figure_posts = {**(panel.figure_posts or {}), "posts": renamed}
    save_next_version(panel, "figure_posts")
    write_event(board=seat.board, kind="panel-figure-posts-set", actor=seat.user, page=panel.page, panel=panel.pk)
