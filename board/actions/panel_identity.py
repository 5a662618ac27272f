"""Which panel of the page each frame of a picture is: identity from revision to revision."""

from board.actions.carrying import revision_before
from board.models import Page, Panel, PanelShape, Revision
from board.models.revision import whole_pages
from board.page_space import box_overlap

# Two frames are the same panel when their boxes share this much. Own choice.
SAME_PANEL = 0.35
# One that stood on an earlier picture and not on the one before is known again only in its old place: what took a panel's place
# since may be another one. Own choice.
OLD_PLACE = 0.7


def identify(page: Page, revision: Revision, polygons: list[list]) -> list[Panel]:
    """A panel for each polygon, in their order: by overlap with the picture before, then by place in the order, else a new one.

    A panel that the picture before had lost, by a slip or by a wrong file, comes back with all that is on it.
    """
    shapes, known = _earlier_shapes(revision), dict[int, Panel]()
    for earlier, least in ((shapes, OLD_PLACE), (_older_shapes(revision), OLD_PLACE), (shapes, SAME_PANEL)):
        _by_overlap(polygons, earlier, least, known)
    used = {panel.pk for panel in known.values()}
    spare = [panel for panel in _panels_that_stand(page, shapes) if panel.pk not in used]
    known |= _by_order([i for i in range(len(polygons)) if i not in known], spare)
    return [known.get(i) or Panel.objects.create(page=page, order=i + 1) for i in range(len(polygons))]


def _earlier_shapes(revision: Revision) -> list[PanelShape]:
    before = revision_before(revision)
    pictures = [revision.pk, *([before.pk] if before else [])]
    return list(PanelShape.objects.filter(revision__in=pictures).select_related("panel"))


def _older_shapes(revision: Revision) -> list[PanelShape]:
    """On earlier pictures of this try at the page; the newest first, which of two that lie alike is taken."""
    older = whole_pages(revision).filter(number__lt=revision.number, alternate=revision.alternate)
    return list(PanelShape.objects.filter(revision__in=older).select_related("panel").order_by("-revision__number", "order"))


def _by_overlap(polygons: list[list], shapes: list[PanelShape], least: float, known: dict[int, Panel]) -> None:
    """Adds to what is `known`, by place among the polygons: the pairs that overlap most come first; each panel is given once."""
    pairs = [(box_overlap(polygon, shape.polygon), i, shape.panel) for i, polygon in enumerate(polygons) for shape in shapes]
    for overlap, i, panel in sorted(pairs, key=lambda pair: -pair[0]):
        if overlap >= least and i not in known and panel not in known.values():
            known[i] = panel


def _panels_that_stand(page: Page, shapes: list[PanelShape]) -> list[Panel]:
    """On the picture before, or written but never drawn: a panel has words before it has a drawing."""
    drawn = {shape.panel_id for shape in shapes}
    panels = Panel.objects.filter(page=page, is_gone=False).order_by("order", "pk").prefetch_related("shapes")
    return [panel for panel in panels if panel.pk in drawn or not panel.shapes.all()]


def _by_order(left: list[int], spare: list[Panel]) -> dict[int, Panel]:
    """Where as many are left over on both sides the page was laid out anew, and they go in order; else by the same number."""
    if len(left) == len(spare):
        return dict(zip(left, spare, strict=True))
    numbered = {panel.order: panel for panel in spare if not panel.shapes.all()}
    return {i: numbered[i + 1] for i in left if i + 1 in numbered}
