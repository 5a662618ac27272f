"""Panels found by a check, and panels corrected by people. Either way a panel keeps its identity from revision to revision."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import inf

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from board.access import Seat
from board.actions.carrying import carry_on, queue_carrying
from board.actions.events import write_event
from board.actions.measuring import measure_page_again, measure_panel_again, queue_ready_checks
from board.actions.notes import shape_around
from board.actions.panel_identity import SAME_PANEL, identify
from board.actions.same_as import measure_same_as_again
from board.actions.shown_shape import shape_shown
from board.actions.standing_panels import page_stands_as
from board.actions.versions import lock_version, save_next_version
from board.check_registry import CHECKS
from board.errors import NotPossibleNow, NotValid
from board.models import Note, Page, Panel, PanelShape, Revision
from board.models.note import ANSWERED, OPEN, REGION, STET
from board.models.panel import is_corrected
from board.models.revision import ready_revision
from board.page_space import box_overlap, read_region


@transaction.atomic
def record_panels(*, revision: Revision, found: list[dict]) -> list[PanelShape]:
    """`found`: [{"polygon", "framed"}] in reading order. A revision whose panels were set by hand keeps those."""
    page = Page.objects.select_for_update(no_key=True).get(pk=revision.page_id)
    standing = list(PanelShape.objects.filter(revision=revision))
    if is_corrected(standing):
        return standing
    known = identify(page, revision, [found_panel["polygon"] for found_panel in found])
    shapes = [
        PanelShape(panel=known[i], revision=revision, order=i + 1, polygon=one["polygon"], is_framed=one.get("framed", True))
        for i, one in enumerate(found)
    ]
    _put_shapes(page, revision, shapes)
    write_event(board=page.board, kind="panels-found", page=page, revision=revision.pk, panels=len(shapes))
    return shapes


@dataclass(frozen=True)
class CarriedPanel:
    """The id of a panel, and its outline on the newer picture, in page coordinates."""

    panel: int
    polygon: list[list[float]]
    framed: bool


@transaction.atomic
def record_carried_panels(*, revision: Revision, before: Revision, carried: Iterable[CarriedPanel]) -> None:
    """Panels that stood by hand on the picture before and were not found on this one, where a worker saw that they still stand.

    They stand by hand here too. Where a new panel was found in the place of one, that one it is, and nothing is carried.
    """
    page = Page.objects.select_for_update(no_key=True).get(pk=revision.page_id)
    row = list(PanelShape.objects.filter(revision=revision).order_by("order"))
    order_before = dict(PanelShape.objects.filter(revision=before).values_list("panel", "order"))
    new = [shape for shape in row if shape.panel_id not in order_before]
    there = {shape.panel_id for shape in row}
    wanted = [one for one in carried if one.panel in order_before and one.panel not in there
              and not any(box_overlap(one.polygon, shape.polygon) >= SAME_PANEL for shape in new)]
    if not wanted or not row or is_corrected(row):
        return
    for one in wanted:
        shape = PanelShape(panel_id=one.panel, polygon=one.polygon, is_framed=one.framed, is_by_hand=True)
        row.insert(_place_in(row, order_before, order_before[one.panel]), shape)
    _put_shapes(page, revision, [_renumbered(shape, revision, order) for order, shape in enumerate(row, start=1)])
    write_event(board=page.board, kind="panels-carried", page=page, revision=revision.pk, panels=len(wanted))
    _measure_again(revision)


@transaction.atomic
def record_shown_panels(*, revision: Revision, shows: dict[int, int]) -> None:
    """Each panel whose drawing a worker found in another one's place is what stands there, with all that is on it.

    `shows`: panel as it was known by its place -> the panel whose drawing stands there. One whose place was taken so, and whose own
    drawing was found nowhere, goes where another one's name was left over. What people corrected stays as they said.
    """
    page = Page.objects.select_for_update(no_key=True).get(pk=revision.page_id)
    row = list(PanelShape.objects.filter(revision=revision).order_by("order"))
    here = {shape.panel_id for shape in row}
    proper = {panel: shown for panel, shown in shows.items() if panel in here}
    known = set(page.panels.values_list("pk", flat=True))
    if not proper or is_corrected(row) or len(set(proper.values())) < len(proper) or not set(proper.values()) <= known:
        return
    spare = [shape.panel_id for shape in row if shape.panel_id in proper and shape.panel_id not in proper.values()]
    for shape in row:
        if shape.panel_id in proper:
            shape.panel_id = proper[shape.panel_id]
        elif shape.panel_id in proper.values():  # whoever took its name left one, or left it to another
            shape.panel_id = spare.pop(0)
    _put_shapes(page, revision, [_renumbered(shape, revision, shape.order) for shape in row])
    write_event(board=page.board, kind="panels-swapped", page=page, revision=revision.pk, panels=len(proper))
    _measure_again(revision)


def _place_in(row: list[PanelShape], order_before: dict[int, int], order: int) -> int:
    """Behind those that it was read after."""
    return max((i + 1 for i, shape in enumerate(row) if order_before.get(shape.panel_id, inf) < order), default=0)


def _renumbered(shape: PanelShape, revision: Revision, order: int) -> PanelShape:
    return PanelShape(panel_id=shape.panel_id, revision=revision, order=order, polygon=shape.polygon, is_framed=shape.is_framed,
                      is_by_hand=shape.is_by_hand)


@transaction.atomic
def correct_panels(
    *, seat: Seat, revision: Revision, panels: list[dict], expected_version: int | None = None
) -> list[PanelShape]:
    """`panels`: [{"polygon", ["id"], ["framed"]}] in reading order; without an id it is a new panel.

    Checks that look at panels run again. `expected_version` is the page's.
    """
    page = lock_version(revision.page, expected_version)
    if revision.panel_id is not None:
        raise NotPossibleNow("This picture is a try at one panel; it has no panels of its own.")
    own = {panel.pk: panel for panel in page.panels.all()}
    named = [one["id"] for one in panels if one.get("id") is not None]
    if len(set(named)) < len(named) or set(named) - set(own):
        raise NotValid("Each panel can be named once, and has to be on this page.")
    shapes = []
    for order, one in enumerate(panels, start=1):
        panel = own[one["id"]] if one.get("id") is not None else Panel.objects.create(page=page, order=order)
        shapes.append(_shape_by_hand(panel, revision, order, one))
    _put_shapes(page, revision, shapes)
    save_next_version(page)
    write_event(board=page.board, kind="panels-corrected", actor=seat.user, page=page, revision=revision.pk, panels=len(shapes))
    _measure_again(revision)
    return shapes


def _shape_by_hand(panel: Panel, revision: Revision, order: int, one: dict) -> PanelShape:
    try:
        polygon = read_region({"polygon": one["polygon"]})["polygon"]
    except ValueError as error:
        raise NotValid(str(error)) from error
    return PanelShape(
        panel=panel, revision=revision, order=order, polygon=polygon, is_framed=one.get("framed", True), is_by_hand=True
    )


def _measure_again(revision: Revision) -> None:
    queue_ready_checks(revision=revision)
    measure_same_as_again(revision=revision)


def _put_shapes(page: Page, revision: Revision, shapes: list[PanelShape]) -> None:
    stood = set(PanelShape.objects.filter(revision=revision).values_list("panel_id", flat=True))
    PanelShape.objects.filter(revision=revision).delete()
    PanelShape.objects.bulk_create(shapes)
    _take_in_notes(revision, shapes)
    if ready_revision(page) == revision:
        page_stands_as(page=page, shapes=shapes, stood=stood)
    else:
        # An older picture, or another try at the page: what it alone has is not on the page as it stands.
        others = page.revisions.exclude(pk=revision.pk)
        only_there = Panel.objects.filter(shapes__revision=revision).exclude(shapes__revision__in=others)
        only_there.update(is_gone=True)
    queue_carrying(revision=revision)
    carry_on(revision=revision)


def _take_in_notes(revision: Revision, shapes: list[PanelShape]) -> None:
    """What people pinned on the picture while no panel was known there is on the one that holds it."""
    for note in Note.objects.filter(revision=revision, panel=None, scope=REGION, check_id=""):
        shape = shape_around(shapes, note.region) if note.region else None
        if shape is not None:
            Note.objects.filter(pk=note.pk).update(panel=shape.panel_id)


@transaction.atomic
def add_panel(*, seat: Seat, page: Page, happens: str = "", said: str = "") -> Panel:
    """A panel that has words but no drawing yet: the first picture will claim it, in order."""
    order = max([panel.order for panel in page.panels.filter(is_gone=False)], default=0) + 1
    panel = Panel.objects.create(page=page, order=order, happens=happens, said=said)
    write_event(board=seat.board, kind="panel-added", actor=seat.user, page=page, panel=panel.pk)
    measure_page_again(page=page)
    return panel


@transaction.atomic
def drop_panel(*, seat: Seat, panel: Panel) -> None:
    """One that is words alone; those after it move up. What is drawn is corrected on its picture, and keeps its history."""
    if panel.shapes.exists():
        raise NotPossibleNow("This panel is drawn. Correct the panels on the picture instead.")
    if Note.objects.filter(panel=panel).exists():
        raise NotPossibleNow("There are notes on this panel.")
    page, number = panel.page, panel.pk
    after = Panel.objects.filter(page=page, order__gt=panel.order, shapes__isnull=True)
    after.update(order=F("order") - 1, version=F("version") + 1)
    panel.delete()
    write_event(board=seat.board, kind="panel-dropped", actor=seat.user, page=page, panel=number)
    measure_page_again(page=page)


@transaction.atomic
def change_panel(*, seat: Seat, panel: Panel, expected_version: int | None, **fields: object) -> Panel:
    """What happens and what is said in it."""
    panel = lock_version(panel, expected_version)
    for name, value in fields.items():
        setattr(panel, name, value)
    save_next_version(panel, *fields)
    write_event(board=seat.board, kind="panel-changed", actor=seat.user, page=panel.page, panel=panel.pk)
    return panel


@transaction.atomic
def leave_panel_alone(*, seat: Seat, panel: Panel, check_id: str, is_left_alone: bool, expected_version: int | None) -> Panel:
    """The distortion is meant: this check no longer looks at this panel, here and on later revisions. What it said gets a stet;
    once it is measured again, that is as it was before."""
    if check_id not in CHECKS:
        raise NotValid(f"There is no check “{check_id}”.")
    panel = lock_version(panel, expected_version)
    panel.left_alone_by = sorted({*panel.left_alone_by, check_id} if is_left_alone else {*panel.left_alone_by} - {check_id})
    save_next_version(panel, "left_alone_by")
    said = Note.objects.filter(panel=panel, check_id=check_id)
    if is_left_alone:
        said.filter(state__in=(OPEN, ANSWERED)).update(
            state_before_left_alone=F("state"), state=STET, closed_by=seat.user, closed_at=timezone.now(), not_measured="",
            version=F("version") + 1,
        )
    else:
        said.filter(state=STET).exclude(state_before_left_alone="").update(
            state=F("state_before_left_alone"), state_before_left_alone="", closed_by=None, closed_at=None, version=F("version") + 1
        )
    kind = "panel-left-alone" if is_left_alone else "panel-measured-again"
    write_event(board=seat.board, kind=kind, actor=seat.user, page=panel.page, panel=panel.pk, check=check_id)
    if shape := shape_shown(panel):
        measure_panel_again(shape=shape)
    return panel
