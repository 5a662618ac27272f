"""Same-as panels: declared, confirmed, refused and taken back by people."""

from django.db import transaction

from board.access import Seat
from board.actions.events import write_event
from board.actions.measuring import measure_page_again
from board.actions.proposal_inputs import queue_proposals_beside
from board.actions.versions import lock_version, save_next_version
from board.errors import NotValid
from board.models import Page, Panel, Revision, SameAs
from board.models.same_as import DECLARED, PROPOSED, REFUSED_SAME_AS, families


@transaction.atomic
def declare_same_as(*, seat: Seat, panel: Panel, model: Panel, expected_version: int | None) -> SameAs:
    """In place of what the panel was declared the same as before; a proposal of the same pair is confirmed by it."""
    if model.page.board_id != panel.page.board_id or model.pk == panel.pk:
        raise NotValid("A panel can be the same as another panel of its board.")
    if panel.pk in _models_of(model):
        raise NotValid("That panel already takes its drawing over from this one.")
    panel, before = lock_version(panel, expected_version), _family_of(panel)
    SameAs.objects.filter(panel=panel, state=DECLARED).exclude(model=model).delete()
    SameAs.objects.filter(panel=model, model=panel, state=PROPOSED).delete()
    row, _ = SameAs.objects.update_or_create(panel=panel, model=model, defaults={"state": DECLARED, "said_by_id": seat.user.pk})
    _tell(seat, panel, "same-as-declared", before | _family_of(panel))
    return row


@transaction.atomic
def refuse_same_as(*, seat: Seat, panel: Panel, model: Panel, expected_version: int | None) -> None:
    """What was declared is taken back, what was proposed is refused: neither is proposed again."""
    panel, before = lock_version(panel, expected_version), _family_of(panel)
    SameAs.objects.update_or_create(panel=panel, model=model, defaults={"state": REFUSED_SAME_AS, "said_by_id": seat.user.pk})
    _tell(seat, panel, "same-as-refused", before | {model.pk})


def measure_same_as_again(*, revision: Revision) -> None:
    """Of the panels on other pages that take over a drawing of this one."""
    taken_over = SameAs.objects.filter(model__page=revision.page, state=DECLARED).exclude(panel__page=revision.page)
    for page in Page.objects.filter(pk__in=taken_over.values("panel__page")).select_related("board"):
        measure_page_again(page=page)


def _models_of(panel: Panel) -> set[int]:
    """The panels that this one goes back to, over any number of steps."""
    seen: set[int] = {panel.pk}
    waiting = [panel.pk]
    while waiting:
        models = set(SameAs.objects.filter(panel__in=waiting, state=DECLARED).values_list("model", flat=True)) - seen
        seen |= models
        waiting = list(models)
    return seen


def _family_of(panel: Panel) -> frozenset[int]:
    rows = SameAs.objects.filter(state=DECLARED, panel__page__board=panel.page.board_id)
    return families(rows.values_list("panel", "model")).get(panel.pk, frozenset({panel.pk}))


def _tell(seat: Seat, panel: Panel, kind: str, family: frozenset[int]) -> None:
    save_next_version(panel)
    write_event(board=seat.board, kind=kind, actor=seat.user, page=panel.page, panel=panel.pk)
    for page in Page.objects.filter(panels__in=family).select_related("board").distinct():
        measure_page_again(page=page)
    queue_proposals_beside(page=panel.page)
