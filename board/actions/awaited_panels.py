"""The panels that a page should have and that a picture of it has not: written and never drawn, or drawn on earlier pictures."""

from typing import Any

from board.models import Job, Note, Panel, PanelShape, Revision
from board.models.job import UNFINISHED
from board.models.note import ANSWERED, OPEN
from board.models.panel import is_corrected
from board.models.revision import whole_pages


def awaited_panels(revision: Revision) -> list[dict[str, Any]]:
    """As the check gets them: {"id", "order"}, and of one that was drawn where and when, {"polygon" in page coordinates, "revision"
    by number}. Nothing is awaited on a picture without any panel, or of one panel alone."""
    shapes = list(PanelShape.objects.filter(revision=revision))
    if not shapes or revision.panel_id is not None:
        return []
    missing = Panel.objects.filter(page=revision.page_id).exclude(pk__in=[shape.panel_id for shape in shapes])
    never_drawn = missing.filter(is_gone=False, shapes__isnull=True).order_by("order", "pk")
    written = [{"id": panel.pk, "order": panel.order} for panel in never_drawn]
    return written + [_was(shape) for shape in _drawn_before(revision, shapes, missing.values_list("pk", flat=True))]


def are_told(revision: Revision) -> bool:
    """Whether a note says that the page lacks some: then it is looked again, whether they are there now or not."""
    return Note.objects.filter(page=revision.page_id, finding_kind="panel-missing", state__in=(OPEN, ANSWERED)).exists()


def is_carrying(revision: Revision) -> bool:
    """Whether panels that stood by hand on the picture before may still be carried to this one."""
    return Job.objects.filter(kind="carry-notes", revision=revision, state__in=UNFINISHED).exists()


def _was(shape: PanelShape) -> dict[str, Any]:
    return {"id": shape.panel_id, "order": shape.order, "polygon": shape.polygon, "revision": shape.revision.number}


def _drawn_before(revision: Revision, shapes: list[PanelShape], missing: Any) -> list[PanelShape]:
    """Where each was drawn last. Once a person said what panels a picture has, nobody waits for what it had not."""
    if is_corrected(shapes):
        return []
    earlier = whole_pages(revision).filter(number__lt=revision.number, alternate=revision.alternate)
    last: dict[int, PanelShape] = {}
    for before in earlier.order_by("number").prefetch_related("shapes__revision"):
        there = {shape.panel_id: shape for shape in before.shapes.all()}
        last = there if is_corrected(there.values()) else {**last, **there}
    return sorted((shape for panel, shape in last.items() if panel in missing), key=lambda shape: (shape.order, shape.panel_id))
