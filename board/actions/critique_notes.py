"""The points of delivered critiques, as notes on the board of whom they are for."""

from collections.abc import Sequence
from typing import Any

from django.db import transaction
from django.db.models import F

from board.actions.carrying import carry_on
from board.actions.events import write_event
from board.actions.notes import panel_at
from board.actions.unused_files import drop_review_sheets
from board.models import Board, Critique, CritiqueRound, Enrolment, Note, ReviewSheet, Revision
from board.models.critique import TONE_OF_POINT
from board.models.note import BOARD, PAGE, REGION

UNNAMED = "a classmate"


def pin_points(*, opened: CritiqueRound, board: Board, critiques: Sequence[Critique]) -> list[Note]:
    """All together, told of once by nobody."""
    notes = [_pin(opened, board, critique, point) for critique in critiques for point in critique.points if point["body"]]
    write_event(board=board, kind="critique-delivered", notes=[note.pk for note in notes])
    # Its artist may have drawn the page anew while the round ran.
    for revision in {note.revision for note in notes if note.revision}:
        carry_on(revision=revision)
    return notes


def _pin(opened: CritiqueRound, board: Board, critique: Critique, point: dict[str, Any]) -> Note:
    """On the page of the picture that was read, whatever number it has by now."""
    shown = _picture_meant(board, critique, point)
    page = shown.page if shown else None
    region = point["region"] if shown else None
    revision = shown if region else None
    return Note.objects.create(
        board=board, page=page, revision=revision, region=region, scope=BOARD if page is None else REGION if region
        else PAGE, panel=panel_at(revision, region) if revision and region else None, tone=TONE_OF_POINT[point["kind"]],
        body=words_of(point), criterion_id=point["criterion"], pen_name=pen_name_of(opened, critique), critique=critique,
        sent_at=opened.delivered_at,
    )


def _picture_meant(board: Board, critique: Critique, point: dict[str, Any]) -> Revision | None:
    """What is said of a work of one page as a whole is said of that page: there its artist works."""
    number = critique.pages[0]["page"] if point["page"] is None and len(critique.pages) == 1 else point["page"]
    pk = next((shown["revision"] for shown in critique.pages if shown["page"] == number), 0)
    return Revision.objects.filter(pk=pk, page__board=board).select_related("page__board").first()


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
