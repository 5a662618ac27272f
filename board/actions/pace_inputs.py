"""What a comic's pace is told from, as one person may see it: as many queries for many pages as for few."""

from collections import defaultdict
from collections.abc import Mapping

from django.db.models import Exists, OuterRef, Q

from board.access import Seat, stages_with_numbers, visible_pages
from board.actions.given_places import given_on
from board.models import FigurePlace, Job, Page, Panel, PanelShape
from board.models.figure import LOST
from board.models.job import DONE
from board.models.revision import current_revisions
from board.pace import ComicPace, PageFacts, PanelFacts, pace_of
from board.page_space import Point

Line = tuple[Point, Point]
OnRevision = tuple[int, int]  # revision, panel
SOLES = ("sole", "sole-left", "sole-right")


def read_pace(seat: Seat) -> ComicPace:
    pages = list(visible_pages(seat))
    rows = _Rows(seat, pages)
    return pace_of((rows.facts_of(page) for page in pages), is_bound=seat.board.is_bound)


class _Rows:
    def __init__(self, seat: Seat, pages: list[Page]) -> None:
        self.format = seat.board.format
        self.current = current_revisions(pages)
        shown = [revision.pk for revision in self.current.values()]
        self.shapes = {(shape.revision_id, shape.panel_id): shape for shape in PanelShape.objects.filter(revision__in=shown)}
        self.panels = _panels(pages, shown)
        stages = stages_with_numbers(seat)
        self.levels = _eye_levels([one.pk for one in self.current.values() if one.stage in stages])
        self.figures = _figures(shown)

    def facts_of(self, page: Page) -> PageFacts:
        revision = self.current.get(page.pk)
        on = revision.pk if revision else 0
        shapes = [self.shapes.get((on, panel.pk)) for panel in self.panels[page.pk]]
        panels = zip(self.panels[page.pk], shapes, strict=True)
        in_order = sorted(panels, key=lambda pair: (pair[1].order if pair[1] else pair[0].order, pair[0].order))
        picture = revision.picture if revision else None
        size = (picture.width_px, picture.height_px) if picture else (None, None)
        width, height = size[0] or self.format.trim_width_mm * len(page.numbers), size[1] or self.format.trim_height_mm
        return PageFacts(page.numbers, tuple(self._panel(panel, shape) for panel, shape in in_order), page.said, width / height,
                         page.pk, revision is not None)

    def _panel(self, panel: Panel, shape: PanelShape | None) -> PanelFacts:
        if shape is None:
            return PanelFacts(panel.pk, said=panel.said)
        at, shape.panel = (shape.revision_id, panel.pk), panel
        polygon = tuple((x, y) for x, y in shape.polygon)
        return PanelFacts(panel.pk, polygon, panel.said, self.levels.get(at) or _by_hand(shape), tuple(self.figures[at]))


def _panels(pages: list[Page], shown: list[int]) -> Mapping[int, list[Panel]]:
    """By page: those that stand on the current picture, and those that were written and never drawn."""
    shapes = PanelShape.objects.filter(panel=OuterRef("pk"))
    is_here, is_written = Exists(shapes.filter(revision__in=shown)), Q(is_gone=False) & ~Exists(shapes)
    # Where a newer picture than the current one has taken all panels over, or the current one's are not found yet.
    waits = Q(is_gone=False) & ~Exists(PanelShape.objects.filter(revision__in=shown, revision__page=OuterRef("page")))
    by_page: dict[int, list[Panel]] = defaultdict(list)
    for panel in Panel.objects.filter(is_here | is_written | waits, page__in=[page.pk for page in pages]):
        by_page[panel.page_id].append(panel)
    return by_page


def _eye_levels(revisions: list[int]) -> dict[OnRevision, Line]:
    """As the check of perspective told them of these pictures."""
    jobs = Job.objects.filter(revision__in=revisions, kind="check", check_id="perspective", state=DONE)
    return {(revision, row["panel"]): _line(row["eye_level"])
            for revision, rows in jobs.values_list("revision_id", "numbers__panels") for row in rows or () if row.get("eye_level")}


def _by_hand(shape: PanelShape) -> Line | None:
    """What somebody set is known, even where the check measured nothing or did not run yet."""
    given = given_on(shape) if shape.panel.given_perspective else {}
    return _line(given["eye_level"]) if "eye_level" in given else None


def _line(points: list[list[float]]) -> Line:
    (x0, y0), (x1, y1) = points
    return (x0, y0), (x1, y1)


def _figures(revisions: list[int]) -> Mapping[OnRevision, list[Line]]:
    """Crown and lowest sole of each figure that was marked in a panel."""
    places = FigurePlace.objects.filter(revision__in=revisions, figure__panel__isnull=False).exclude(placed_by=LOST)
    found: dict[OnRevision, list[Line]] = defaultdict(list)
    for revision, panel, marks in places.values_list("revision_id", "figure__panel_id", "marks"):
        soles = [marks[name] for name in SOLES if name in marks]
        if soles and "crown" in marks:
            found[revision, panel].append(_line([marks["crown"], max(soles, key=lambda sole: sole[1])]))
    return found
