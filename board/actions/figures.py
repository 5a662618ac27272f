"""Figures as people mark them: crown and soles at least, tied to a character of the cast."""

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from board.access import Seat
from board.actions.carrying import carry_on
from board.actions.events import write_event
from board.actions.measuring import queue_ready_checks
from board.actions.proposal_inputs import queue_proposals_beside
from board.actions.versions import lock_version, save_next_version
from board.errors import NotPossibleNow, NotValid
from board.figure_landmarks import point_of
from board.models import Character, Figure, FigurePlace, Panel, PanelShape, Revision
from board.models.figure import BY_HAND, LOST
from board.models.revision import READY
from board.page_space import contains

Marks = dict[str, list[float]]
Doubts = dict[str, float]


@transaction.atomic
def mark_figure(
    *, seat: Seat, revision: Revision, character: int, marks: Marks, doubts: Doubts | None = None, is_another: bool = False,
    **fields: Any
) -> Figure:
    """It belongs to the panel that it stands in; where panels overlap or none is there, `panel` names it.

    Where marks of this character in this panel could not be carried here, it is that figure, unless it `is_another`.
    """
    _may_be_marked(revision)
    who, panel = _character_of(seat, character), _panel_of(revision, marks, fields.pop("panel", None))
    figure = None if is_another else _lost_here(revision, who, panel)
    if figure is None:
        figure = Figure(page=revision.page, character=who, panel=panel, marked_by_id=seat.user.pk)
    figure.version += 1 if figure.pk else 0
    for field, value in fields.items():
        setattr(figure, field, value)
    figure.save()
    _place(figure, revision, marks, doubts)
    _tell(seat, figure, revision, "figure-marked")
    return figure


@transaction.atomic
def change_figure(
    *, seat: Seat, figure: Figure, revision: Revision, expected_version: int | None, marks: Marks | None = None,
    doubts: Doubts | None = None, **fields: Any
) -> Figure:
    """New marks are of this revision; all else is of the figure wherever it is drawn."""
    figure = lock_version(figure, expected_version)
    if "character" in fields:
        fields["character"] = _character_of(seat, fields["character"])
    if "panel" in fields or marks is not None:
        standing = marks or FigurePlace.objects.filter(figure=figure, revision=revision).values_list("marks", flat=True).first()
        fields["panel"] = _panel_of(revision, standing or {}, fields.get("panel"))
    for field, value in fields.items():
        setattr(figure, field, value)
    save_next_version(figure, *fields)
    if marks is not None:
        _may_be_marked(revision)
        _place(figure, revision, marks, doubts)
    _tell(seat, figure, revision, "figure-changed")
    return figure


@transaction.atomic
def remove_figure(*, seat: Seat, figure: Figure) -> None:
    """On all revisions; what was measured on them stays told there."""
    number, page = figure.pk, figure.page
    revisions = [place.revision for place in figure.places.select_related("revision__page__board", "revision__picture")]
    figure.delete()
    write_event(board=seat.board, kind="figure-removed", actor=seat.user, page=page, figure=number)
    for revision in revisions:
        queue_ready_checks(revision=revision)
    queue_proposals_beside(page=page)


@transaction.atomic
def lose_figure(*, seat: Seat, figure: Figure, revision: Revision) -> None:
    """Its marks on this picture are taken back; those on earlier ones stand."""
    lost = {"marks": {}, "doubts": {}, "placed_by": LOST, "reason": "The figure was drawn anew. Mark it here."}
    FigurePlace.objects.filter(figure=figure, revision=revision).update(**lost)
    _tell(seat, figure, revision, "figure-changed")


def _lost_here(revision: Revision, who: Character, panel: Panel | None) -> Figure | None:
    lost = FigurePlace.objects.filter(revision=revision, placed_by=LOST, figure__character=who, figure__panel=panel)
    place = lost.select_related("figure").first()
    return place.figure if place else None


def _place(figure: Figure, revision: Revision, marks: Marks, doubts: Doubts | None) -> None:
    """A mark that stays where it was stays as sure as it was."""
    _read(marks)
    before = FigurePlace.objects.filter(figure=figure, revision=revision).first()
    kept = {name: doubt for name, doubt in before.doubts.items() if marks.get(name) == before.marks.get(name)} if before else {}
    known = {name: doubt for name, doubt in {**kept, **(doubts or {})}.items() if name in marks}
    FigurePlace.objects.update_or_create(
        figure=figure, revision=revision, defaults={"marks": marks, "doubts": known, "placed_by": BY_HAND, "reason": ""}
    )


def _tell(seat: Seat, figure: Figure, revision: Revision, kind: str) -> None:
    write_event(board=seat.board, kind=kind, actor=seat.user, page=figure.page, figure=figure.pk, revision=revision.pk)
    for place in figure.places.select_related("revision__page__board", "revision__picture"):
        queue_ready_checks(revision=place.revision)
    carry_on(revision=revision)
    queue_proposals_beside(page=figure.page)


def _may_be_marked(revision: Revision) -> None:
    if revision.state != READY:
        raise NotPossibleNow("This picture is not read yet.")
    if revision.panel_id is not None:
        raise NotPossibleNow("This picture is a try at one panel; figures are marked on the page.")


def _read(marks: Mapping[str, list[float]]) -> None:
    crown, sole = (point_of(marks, name) for name in ("crown", "sole"))  # type: ignore[arg-type]
    if crown is None or sole is None:
        raise NotValid("Mark the crown and the soles at least.")
    if tuple(crown) == tuple(sole):
        raise NotValid("Crown and soles are marked at the same place.")


def _character_of(seat: Seat, pk: int) -> Character:
    character = Character.objects.filter(board=seat.board, pk=pk).first()
    if character is None:
        raise NotValid("There is no such character on this board.")
    return character


def _panel_of(revision: Revision, marks: Mapping[str, list[float]], named: int | None) -> Panel | None:
    shapes = list(PanelShape.objects.filter(revision=revision).select_related("panel"))
    if named is not None:
        shape = next((one for one in shapes if one.panel_id == named), None)
        if shape is None:
            raise NotValid("There is no such panel on this picture.")
        return shape.panel
    ends = [point_of(marks, name) for name in ("sole", "crown")]  # type: ignore[arg-type]
    # The last one drawn lies on top: an inset stands after the panel it lies in.
    holding = [shape for end in ends if end for shape in reversed(shapes) if contains(shape.polygon, end)]
    return holding[0].panel if holding else None
