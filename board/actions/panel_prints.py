"""Fingerprints of panels, kept so that a drawing is known again on later pages."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.db import transaction
from django.db.models import Min, Q, QuerySet

from board.access import seat_on, visible_pages
from board.models import Page, Panel, PanelPrint, Revision, SameAs
from board.models.revision import current_revisions
from board.models.same_as import DECLARED, PROPOSED, families


@dataclass(frozen=True)
class KeptPrint:
    high: float
    at: bytes
    bits: bytes


@transaction.atomic
def record_panel_prints(*, revision: Revision, prints: Mapping[int, KeptPrint]) -> None:
    PanelPrint.objects.filter(revision=revision).delete()
    PanelPrint.objects.bulk_create(
        PanelPrint(panel_id=panel, revision=revision, high=kept.high, at=kept.at, bits=kept.bits) for panel, kept in prints.items()
    )


@transaction.atomic
def propose_same_as(*, revision: Revision, pairs: Mapping[int, int]) -> None:
    """Panel -> the earlier one whose view it shows. What was said of a pair stands; a panel that has a model needs no proposal."""
    SameAs.objects.filter(panel__page=revision.page, state=PROPOSED).delete()
    for panel, model in pairs.items():
        is_said = SameAs.objects.filter(Q(panel=panel, state=DECLARED) | Q(panel=panel, model=model) | Q(panel=model, model=panel))
        if not is_said.exists() and Panel.objects.filter(pk=model).exists():
            SameAs.objects.create(panel_id=panel, model_id=model, state=PROPOSED)


def prints_before(revision: Revision) -> QuerySet[PanelPrint]:
    """Those of the pages that came to the board before this one, as they stand now.

    No page is compared with one that its artist may not see.
    """
    pages = seen_by_its_artist(revision.page).exclude(pk=revision.page_id)
    first = Revision.objects.filter(page=revision.page).aggregate(first=Min("uploaded_at"))["first"]
    there = pages.annotate(first=Min("revisions__uploaded_at")).filter(first__lt=first)
    shown = [one.pk for one in current_revisions(there).values()]
    return PanelPrint.objects.filter(revision__in=shown, panel__is_gone=False).select_related("panel__page")


def one_drawing(revision: Revision) -> dict[str, list[int]]:
    """Panel of this page -> the others that people said share its drawing: whichever takes it over, since the page with the model
    may be the later one to be drawn, and those that go back to the same one."""
    rows = SameAs.objects.filter(state=DECLARED, panel__page__board=revision.page.board_id)
    family = families(rows.values_list("panel", "model"))
    own = Panel.objects.filter(page=revision.page, pk__in=family).order_by("pk").values_list("pk", flat=True)
    return {str(panel): sorted(family[panel] - {panel}) for panel in own}


def seen_by_its_artist(page: Page) -> QuerySet[Page]:
    seat = seat_on(page.drawn_by, page.board) if page.drawn_by else None
    return visible_pages(seat) if seat else Page.objects.in_comic().filter(board=page.board)
