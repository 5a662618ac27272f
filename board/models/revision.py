from collections.abc import Iterable

from django.conf import settings
from django.db import models
from django.db.models import Exists, OuterRef
from django.db.models.functions import Coalesce

from board.models.page import STAGE_CHOICES, Page
from board.read_once import read_once
from board.stages.order import stages_up_to

RECEIVED, READY, REFUSED = "received", "ready", "refused"


class Revision(models.Model):
    """One uploaded picture at a stage: never changed, never overwritten, ordered by arrival."""

    page = models.ForeignKey("board.Page", on_delete=models.CASCADE, related_name="revisions")
    number = models.PositiveIntegerField()  # 1, 2, 3… on its page, by arrival
    stage = models.CharField(max_length=10, choices=STAGE_CHOICES)
    alternate = models.CharField(max_length=2, default="A")
    # Only for a try at one panel of the page; its page coordinates are then those of the panel's own picture.
    panel = models.ForeignKey("board.Panel", on_delete=models.CASCADE, null=True, blank=True, related_name="tries")
    picture = models.ForeignKey("board.Picture", on_delete=models.PROTECT, related_name="revisions")
    file_name = models.CharField(max_length=200, blank=True)
    # Of a page that was photographed: the file as it came, and where the corners of the paper lie on it. `picture` is the page laid
    # flat (until a worker did that, still the photograph).
    photo = models.ForeignKey(
        "board.Picture", on_delete=models.PROTECT, null=True, blank=True, related_name="photographed_revisions"
    )
    photo_corners = models.JSONField(null=True, blank=True)
    state = models.CharField(max_length=10, choices=[(s, s) for s in (RECEIVED, READY, REFUSED)], default=RECEIVED)
    reason = models.CharField(max_length=500, blank=True)
    uploaded_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    uploaded_at = models.DateTimeField(auto_now_add=True)
    minutes_spent = models.PositiveIntegerField(null=True, blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    withdrawn_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+")
    # Where a sheet of thumbnails was cut: {"sheet": id, "polygon": […]}.
    cut_from = models.JSONField(null=True, blank=True)

    class Meta:
        ordering = ["number"]
        constraints = [models.UniqueConstraint(fields=["page", "number"], name="revisions_are_numbered_by_arrival")]

    def __str__(self) -> str:
        return f"{self.page}, revision {self.number}"


def whole_pages(revision: Revision) -> "models.QuerySet[Revision]":
    """The pictures that notes are carried between: of the page, or of the same panel's tries."""
    return Revision.objects.filter(page_id=revision.page_id, panel=revision.panel, state=READY, withdrawn_at__isnull=True)


def shown_revisions(page_ids: Iterable[int]) -> "models.QuerySet[Revision]":
    """Pictures of the whole page that were not withdrawn or refused, newest first."""
    revisions = Revision.objects.filter(page_id__in=page_ids, panel__isnull=True, withdrawn_at__isnull=True)
    return revisions.exclude(state=REFUSED).order_by("-number")


def chosen_tries(page_ids: Iterable[int]) -> "dict[int, Revision]":
    """Panel id -> the newest picture of the try that is chosen at it, for panels drawn alone that stand on these pages."""
    tries = Revision.objects.filter(page_id__in=page_ids, panel__is_gone=False, alternate=models.F("panel__chosen_alternate"),
                                    state=READY, withdrawn_at__isnull=True)
    return {one.panel_id: one for one in tries.select_related("picture", "panel").order_by("number") if one.panel_id}


def current_revision(page: Page) -> Revision | None:
    """What the Desk shows of the page."""
    return _pick_current(page, list(shown_revisions([page.pk])))


@read_once
def ready_revision(page: Page) -> Revision | None:
    """The same, among those that were decoded: whose panels and findings are the page's."""
    return _pick_current(page, [revision for revision in shown_revisions([page.pk]) if revision.state == READY])


def current_revisions(pages: Iterable[Page]) -> dict[int, Revision]:
    """Page id -> its current revision, for many pages in two queries."""
    return _current_revisions(*pages)


@read_once
def _current_revisions(*pages: Page) -> dict[int, Revision]:
    shown: dict[int, list[Revision]] = {}
    for revision in shown_revisions([page.pk for page in pages]).only("page_id", "stage", "alternate", "number"):
        shown.setdefault(revision.page_id, []).append(revision)
    picked = [current.pk for page in pages if (current := _pick_current(page, shown.get(page.pk, [])))]
    whole = Revision.objects.select_related("picture", "uploaded_by").prefetch_related("picture__renditions").filter(pk__in=picked)
    return {revision.page_id: revision for revision in whole}


def refused_uploads(pages: Iterable[Page], **of: object) -> dict[int, Revision]:
    """Page id -> the last of its pictures that could not be opened: not withdrawn, and nothing newer was read in its place.

    `of`: what is asked of them besides, their stage for example.
    """
    uploads = Revision.objects.annotate(drawn=Coalesce("panel_id", 0)).filter(withdrawn_at__isnull=True)
    in_its_place = {name: OuterRef(name) for name in ("page", "stage", "alternate", "drawn")}
    newer = uploads.filter(**in_its_place, number__gt=OuterRef("number"), state=READY)
    refused = uploads.filter(~Exists(newer), page__in=[page.pk for page in pages], state=REFUSED, **of)
    return {revision.page_id: revision for revision in refused.order_by("number")}


def _pick_current(page: Page, newest_first: list[Revision]) -> Revision | None:
    """The newest of the chosen alternate at the page's stage; before one is there, of the stage before.

    A picture uploaded ahead of its stage is kept and waits.
    """
    of_alternate = [revision for revision in newest_first if revision.alternate == page.chosen_alternate]
    for stage in reversed(stages_up_to(page.stage)):
        for revision in of_alternate:
            if revision.stage == stage:
                return revision
    return of_alternate[0] if of_alternate else None
