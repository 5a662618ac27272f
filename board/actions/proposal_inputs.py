"""Where figures that are marked in one panel may be drawn again: in panels that take its drawing over, or that use it again; and in
the same panel, where its drawing was mended."""

from typing import Any

from board.actions.jobs import queue_job
from board.actions.panel_prints import seen_by_its_artist
from board.models import Figure, FigurePlace, FigureProposal, Job, Page, Panel, PanelShape, Revision, SameAs
from board.models.figure import LOST
from board.models.figure_proposal import BY_AXIS, BY_REUSE, BY_SAME_AS, REFUSED_FIGURE
from board.models.job import DONE
from board.models.revision import READY, current_revisions, ready_revision
from board.models.same_as import DECLARED, families

VERSION = 4  # raised whenever the answers change
MOST_PAIRS = 4  # for one panel

Pairs = dict[tuple[int, int], str]  # a panel of the page, and the other one -> how they were found to show one drawing


def queue_proposals(*, revision: Revision) -> Job | None:
    """Queued again when figures are marked in the other panels, or in these; for the picture that counts alone."""
    if not Figure.objects.filter(page__board=revision.page.board_id).exists() or ready_revision(revision.page) != revision:
        return None
    pairs, key = _mended_as_input(revision) + _pairs_as_input(revision), f"proposals/revision/{revision.pk}"
    if not pairs and not Job.objects.filter(key=key).exists():
        return None
    inputs = {"version": VERSION, "sha256": revision.picture.sha256, "pairs": pairs}
    return queue_job(board=revision.page.board, kind="proposals", key=key, revision=revision, inputs=inputs)


def queue_proposals_beside(*, page: Page) -> None:
    """On the other pages whose panels show a drawing of this one."""
    panels = {other for _, other in pairs_on(page)}
    for other in Page.objects.in_comic().filter(panels__in=panels).exclude(pk=page.pk).select_related("board").distinct():
        shown = ready_revision(other)
        if shown is not None:
            queue_proposals(revision=shown)


def pairs_on(page: Page) -> Pairs:
    """Both ways round: what was marked later is told to the earlier panel too."""
    own = set(Panel.objects.filter(page=page, is_gone=False).values_list("pk", flat=True))
    found: Pairs = {}
    for drawing in _used_again(page):
        found |= {(panel, other): BY_REUSE for panel in drawing & own for other in drawing - {panel}}
    rows = SameAs.objects.filter(state=DECLARED, panel__page__board=page.board_id)
    for family in set(families(rows.values_list("panel", "model")).values()):
        found |= {(panel, other): BY_SAME_AS for panel in family & own for other in family - {panel}}
    return found


def _used_again(page: Page) -> list[set[int]]:
    """Panels that show one drawing: the earliest, and all that were found to use it."""
    revisions = [one.pk for one in current_revisions(page.board.pages.in_comic()).values()]
    rows = Job.objects.filter(check_id="reuse", state=DONE, revision__in=revisions).values_list("numbers", flat=True)
    drawings: dict[int, set[int]] = {}
    for numbers in rows:
        for row in numbers.get("panels", []):
            drawings.setdefault(row["earlier"], {row["earlier"]}).add(row["panel"])
    return list(drawings.values())


def _pairs_as_input(revision: Revision) -> list[dict[str, Any]]:
    """With the figures that may be proposed: of who stands in the panel already, or was refused there, none is."""
    pairs = pairs_on(revision.page)
    if not pairs:
        return []
    shapes = {shape.panel_id: shape.polygon for shape in PanelShape.objects.filter(revision=revision)}
    taken = set(FigurePlace.objects.filter(revision=revision).exclude(placed_by=LOST)
                .values_list("figure__panel", "figure__character"))
    taken |= set(FigureProposal.objects.filter(panel__page=revision.page, state=REFUSED_FIGURE).exclude(found_by=BY_AXIS)
                 .values_list("panel", "source__character"))
    rows: list[dict[str, Any]] = []
    seen = set(Panel.objects.filter(page__in=seen_by_its_artist(revision.page), is_gone=False).values_list("pk", flat=True))
    for (panel, other), found_by in sorted(pairs.items()):
        is_wanted = panel in shapes and other in seen and sum(row["panel"] == panel for row in rows) < MOST_PAIRS
        there = _other_as_input(other, revision) if is_wanted else None
        if there is None:
            continue
        figures = [one for one in there["figures"] if (panel, one["character"]) not in taken]
        if figures:
            rows.append({"panel": panel, "polygon": shapes[panel], "found_by": found_by, "other": {**there, "figures": figures}})
    return rows


def _mended_as_input(revision: Revision) -> list[dict[str, Any]]:
    """The figures whose marks could not be carried here, as they last stood. Those that were refused on this picture are not asked
    about again on it."""
    shapes = {shape.panel_id: shape.polygon for shape in PanelShape.objects.filter(revision=revision)}
    refused = FigureProposal.objects.filter(revision=revision, found_by=BY_AXIS, state=REFUSED_FIGURE).values("source")
    lost = FigurePlace.objects.filter(revision=revision, placed_by=LOST, figure__panel__in=shapes).exclude(figure__in=refused)
    rows = []
    for figure in Figure.objects.filter(places__in=lost).order_by("pk"):
        stood = figure.places.exclude(placed_by=LOST).filter(
            revision__number__lt=revision.number, revision__state=READY, revision__withdrawn_at__isnull=True)
        place = stood.select_related("revision__picture").order_by("-revision__number").first()
        shape = PanelShape.objects.filter(panel=figure.panel_id, revision=place.revision).first() if place else None
        if place is not None and shape is not None:
            one = {"figure": figure.pk, "character": figure.character_id, "marks": place.marks, "doubts": place.doubts}
            was = {"panel": shape.panel_id, "revision": place.revision_id, "sha256": place.revision.picture.sha256,
                   "polygon": shape.polygon, "figures": [one]}
            rows.append({"panel": shape.panel_id, "polygon": shapes[shape.panel_id], "found_by": BY_AXIS, "other": was})
    return rows


def _other_as_input(panel: int, revision: Revision) -> dict[str, Any] | None:
    page = Page.objects.select_related("board").filter(panels=panel).first()
    shown = revision if page == revision.page else ready_revision(page) if page else None
    shape = PanelShape.objects.filter(panel=panel, revision=shown).first() if shown else None
    if shown is None or shape is None:
        return None
    places = FigurePlace.objects.filter(revision=shown, figure__panel=panel).exclude(placed_by=LOST).order_by("figure")
    figures = [{"figure": place.figure_id, "character": character, "marks": place.marks, "doubts": place.doubts}
               for place, character in zip(places, places.values_list("figure__character", flat=True), strict=True)]
    return {"panel": panel, "revision": shown.pk, "sha256": shown.picture.sha256, "polygon": shape.polygon, "figures": figures}
