"""Figures that a worker found drawn again: proposed, confirmed or refused by a person, and that taken back."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from django.db import transaction
from django.db.models import F

from board.access import Seat
from board.actions.events import write_event
from board.actions.figures import change_figure, lose_figure, mark_figure, remove_figure
from board.actions.proposal_inputs import queue_proposals
from board.actions.versions import lock_version, save_next_version
from board.errors import NotPossibleNow
from board.models import Figure, FigurePlace, FigureProposal, Panel, Revision
from board.models.figure import LOST
from board.models.figure_proposal import BY_AXIS, CONFIRMED, PROPOSED


@dataclass(frozen=True)
class ProposedFigure:
    panel: int
    source: int
    found_by: str
    marks: dict[str, list[float]]
    doubts: dict[str, float] = field(default_factory=dict)
    sure: float = 0.0


@transaction.atomic
def record_proposals(*, revision: Revision, found: Iterable[ProposedFigure]) -> None:
    """What a person said of one stands, and it is not proposed again; one that waits stays the same row, and can be answered.

    What was said of a figure that was mended is of that picture alone.
    """
    kept = {(one.panel_id, one.source_id): one for one in FigureProposal.objects.filter(panel__page=revision.page)}
    panels = set(Panel.objects.filter(page=revision.page).values_list("pk", flat=True))
    shown = {(one.panel, one.source): one for one in found if one.panel in panels}
    there = set(Figure.objects.filter(pk__in=[source for _, source in shown]).values_list("pk", flat=True))
    gone = [row.pk for pair, row in kept.items() if row.state == PROPOSED and pair not in shown]
    FigureProposal.objects.filter(pk__in=gone, state=PROPOSED).delete()
    new = 0
    for (panel, source), one in shown.items():
        fields = {"revision": revision, "found_by": one.found_by, "marks": one.marks, "doubts": one.doubts, "sure": one.sure}
        row = kept.get((panel, source))
        if row is None and source in there:
            FigureProposal.objects.create(panel_id=panel, source_id=source, **fields)
            new += 1
        elif row is not None and one.found_by == BY_AXIS and row.revision_id != revision.pk:
            again = {"state": PROPOSED, "figure": None, "said_by": None, "version": F("version") + 1}
            new += FigureProposal.objects.filter(pk=row.pk).update(**fields, **again)
        elif row is not None:
            FigureProposal.objects.filter(pk=row.pk, state=PROPOSED).update(**fields)
    if new or gone:
        write_event(board=revision.page.board, kind="figures-proposed", page=revision.page, revision=revision.pk, figures=new)


@transaction.atomic
def answer_proposal(*, seat: Seat, proposal: FigureProposal, state: str, expected_version: int | None) -> FigureProposal:
    """Confirmed, it is a figure as if it had been marked here; proposed again, that is taken back."""
    proposal = lock_version(proposal, expected_version)
    if proposal.state == state:
        return proposal
    if proposal.state == CONFIRMED:
        _take_back(seat, proposal)
    proposal.figure = _marked(seat, proposal) if state == CONFIRMED else None
    proposal.state, proposal.said_by_id = state, None if state == PROPOSED else seat.user.pk
    save_next_version(proposal, "state", "figure", "said_by")
    page = proposal.revision.page
    write_event(board=seat.board, kind="figure-proposal-answered", actor=seat.user, page=page, proposal=proposal.pk, state=state)
    queue_proposals(revision=proposal.revision)
    return proposal


def _take_back(seat: Seat, proposal: FigureProposal) -> None:
    """One that was mended stood before too."""
    if proposal.found_by == BY_AXIS:
        lose_figure(seat=seat, figure=proposal.source, revision=proposal.revision)
    elif proposal.figure is not None:
        remove_figure(seat=seat, figure=proposal.figure)


def _marked(seat: Seat, proposal: FigureProposal) -> Figure | None:
    """The figure that it became; none where it is the one that was marked before."""
    source, revision = proposal.source, proposal.revision
    if proposal.found_by == BY_AXIS:
        _mark_again(seat, proposal)
        return None
    there = FigurePlace.objects.filter(revision=revision, figure__panel=proposal.panel, figure__character=source.character)
    if there.exclude(placed_by=LOST).exists():
        raise NotPossibleNow(f"{source.character.name} is marked in this panel already.")
    return mark_figure(
        seat=seat, revision=revision, character=source.character_id, marks=proposal.marks, doubts=proposal.doubts,
        is_another=True, panel=proposal.panel_id, pose=source.pose, view=source.view, ground_offset_m=source.ground_offset_m,
    )


def _mark_again(seat: Seat, proposal: FigureProposal) -> None:
    source, revision = proposal.source, proposal.revision
    if not FigurePlace.objects.filter(figure=source, revision=revision, placed_by=LOST).exists():
        raise NotPossibleNow(f"{source.character.name} is marked in this panel already.")
    change_figure(seat=seat, figure=source, revision=revision, expected_version=None, marks=proposal.marks,
                  doubts=proposal.doubts, panel=proposal.panel_id)
