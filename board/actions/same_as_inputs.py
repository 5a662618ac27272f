"""What the check of same-as panels works from: where the earlier panel stands on the newest picture of its page."""

from typing import Any

from board.models import PanelShape, Revision, SameAs
from board.models.revision import ready_revision
from board.models.same_as import DECLARED


def has_same_as(revision: Revision) -> bool:
    return SameAs.objects.filter(panel__shapes__revision=revision, state=DECLARED).exists()


def same_as_inputs(revision: Revision) -> dict[str, dict[str, Any]]:
    """Panel id -> its model; a model that stands on no picture is left out. A model on the same page is seen on this revision."""
    rows = SameAs.objects.filter(panel__shapes__revision=revision, state=DECLARED).select_related("model__page")
    found = {}
    for row in rows:
        is_here = row.model.page_id == revision.page_id
        shown = revision if is_here else ready_revision(row.model.page)
        shape = PanelShape.objects.filter(panel=row.model, revision=shown).first() if shown else None
        if shape is not None and shown is not None:
            found[str(row.panel_id)] = {
                "panel": row.model_id, "order": shape.order, "polygon": shape.polygon, "revision": shown.pk,
                "sha256": shown.picture.sha256, "page_number": None if is_here else row.model.page.number,
                "is_spread": row.model.page.is_spread,
            }
    return found
