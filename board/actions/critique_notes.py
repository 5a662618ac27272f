"""The points of delivered critiques, as notes on the board of whom they are for."""

from collections.abc import Sequence
from typing import Any

from django.db import transaction
from django.db.models import F

from board.actions.events import write_event
from board.actions.notes import panel_at
from board.actions.unused_files import drop_review_sheets
from board.models import Board, Critique, CritiqueRound, Enrolment, Note, Page, ReviewSheet, Revision
from board.models.critique import TONE_OF_POINT
from board.models.note import BOARD, PAGE, REGION

UNNAMED = "a classmate"


def pin_points(*, opened: CritiqueRound, board: Board, critiques: Sequence[Critique]) -> list[Note]:
    """All together, told of once by nobody."""
    pages = {page.number: page for page in Page.objects.filter(board=board)}
    notes = [
        _pin(opened, board, critique, point, pages) for critique in critiques for point in critique.points if point["body"]
    ]
    write_event(board=board, kind="critique-delivered", notes=[note.pk for note in notes])
    return notes


def _pin(opened: CritiqueRound, board: Board, critique: Critique, point: dict[str, Any], pages: dict[int, Page]) -> Note:
    number, region = _page_meant(critique, point), point["region"]
    page = pages.get(number) if number else None
    revision = _revision(board, critique, point["page"]) if region else None
    region = region if revision else None
    return Note.objects.create(
        board=board, page=page, revision=revision, region=region, scope=BOARD if page is None else REGION if region
        else PAGE, panel=panel_at(revision, region) if revision and region else None, tone=TONE_OF_POINT[point["kind"]],
        body=words_of(point), criterion_id=point["criterion"], pen_name=pen_name_of(opened, critique), critique=critique,
        sent_at=opened.delivered_at,
    )


def _page_meant(critique: Critique, point: dict[str, Any]) -> int | None:
    """What is said of a work of one page as a whole is said of that page: there its artist works."""
    return critique.pages[0]["page"] if point["page"] is None and len(critique.pages) == 1 else point["page"]


def _revision(board: Board, critique: Critique, number: int | None) -> Revision | None:
    pk = next((shown["revision"] for shown in critique.pages if shown["page"] == number), 0)
    return Revision.objects.filter(pk=pk, page__board=board).first()


def pen_name_of(opened: CritiqueRound, critique: Critique) -> str:
    if opened.is_anonymous or critique.critic is None:
        return UNNAMED
    return critique.critic.shown_name[:60]


@transaction.atomic
def sign_anew(critic: Enrolment, name: str) -> None:
    """What classmates were given by this critic under a name is signed `name` from now on; sheets printed before go."""
    given = Note.objects.filter(critique__critic=critic, critique__round__is_anonymous=False).exclude(pen_name=name[:60])
    notes, boards = (set(given.values_list(field, flat=True)) for field in ("pk", "board"))
    drop_review_sheets(ReviewSheet.objects.filter(board__in=boards))
    Note.objects.filter(pk__in=notes).update(pen_name=name[:60], version=F("version") + 1)


def words_of(point: dict[str, Any]) -> str:
    """What, why and how, each on a line of its own."""
    parts = [point["body"], point["why"] and f"Why: {point['why']}", point["how"] and f"How: {point['how']}"]
    return "\n".join(part for part in parts if part)
