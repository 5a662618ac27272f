"""On which picture a panel is corrected by hand."""

from board.errors import NotValid
from board.models import Panel, PanelShape, Revision
from board.models.revision import ready_revision


def shape_shown(panel: Panel, revision: Revision | None = None) -> PanelShape | None:
    """Its place on the picture named; else on the page as it stands, since a newer one may wait for its stage or be another try.
    Where the page as it stands lacks it, on the newest that has it."""
    shapes = panel.shapes.select_related("revision__picture", "revision__page__board", "panel__still__picture")
    if revision is not None:
        if shape := shapes.filter(revision=revision).first():
            return shape
        raise NotValid("This panel is not on that picture.")
    there = shapes.filter(revision__withdrawn_at__isnull=True).order_by("-revision__number")
    return there.filter(revision=ready_revision(panel.page)).first() or there.first()
