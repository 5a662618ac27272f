"""Queues the work on a picture: intake first, then renditions and checks, each check after those it builds on.

The digest of a job covers all that its answer depends on, so a corrected panel, a changed tolerance or a new version of the check
queues exactly the checks that look at it.
"""

from collections.abc import Iterable

from django.db.models import Q

from board.actions.awaited_panels import are_told, awaited_panels, is_carrying
from board.actions.figure_inputs import TREND, figure_inputs, heads_by_page
from board.actions.given_places import given_on
from board.actions.jobs import queue_job
from board.actions.panel_prints import one_drawing
from board.actions.proposal_inputs import queue_proposals
from board.actions.same_as_inputs import has_same_as, same_as_inputs
from board.actions.still_inputs import has_placed_still, still_inputs
from board.check_registry import CHECKS, CheckEntry, checks_for
from board.models import Board, Character, Figure, FigurePlace, Job, Note, Page, PanelShape, Reference, Revision
from board.models.job import UNFINISHED
from board.models.note import ANSWERED, OPEN
from board.models.revision import READY, current_revision, current_revisions, ready_revision
from board.page_openings import bound_side
from board.read_once import read_once, reading_once


def queue_intake(*, revision: Revision) -> Job:
    return queue_job(
        board=revision.page.board, kind="intake", key=f"intake/revision/{revision.pk}", revision=revision,
        inputs={"sha256": revision.picture.sha256},
    )


def queue_renditions(*, revision: Revision) -> Job:
    return queue_job(
        board=revision.page.board, kind="renditions", key=f"renditions/revision/{revision.pk}", revision=revision,
        inputs={"sha256": revision.picture.sha256},
    )


def queue_ready_checks(*, revision: Revision, afresh: bool = False) -> list[Job]:
    """Queues each check of the revision's stage whose inputs are there and have changed; `afresh`, changed or not.

    Afresh, nothing waits: the panels of the last time are there, and should they come out otherwise, the digest changes.
    """
    if revision.state != READY:
        return []
    with reading_once({}):  # what several checks build on; nothing of it is written once it was read
        return _queue_ready_checks(revision, afresh)


def _queue_ready_checks(revision: Revision, afresh: bool) -> list[Job]:
    rows = Job.objects.filter(revision=revision, kind="check")
    states = dict(rows.values_list("check_id", "state"))
    jobs = []
    has_figures = FigurePlace.objects.filter(revision=revision).exists()
    off = revision.page.board.checks_off
    for entry in checks_for(revision.stage):
        if entry.id in off:
            continue
        if not all(_is_there(check, states, revision.stage, afresh) for check in entry.after):
            continue
        if entry.needs_figures and not has_figures and entry.id not in states:
            continue  # nobody marked any, and nothing that was measured has to be taken back
        if entry.needs_same_as and entry.id not in states and not has_same_as(revision):
            continue
        if entry.needs_still and entry.id not in states and not has_placed_still(revision):
            continue
        if entry.needs_awaited and not _is_asked_what_is_there(revision, entry.id in states):
            continue
        job = _queue_check(revision, entry, afresh)
        jobs.append(job)
        states[entry.id] = job.state
    queue_proposals(revision=revision)
    return jobs


def _is_asked_what_is_there(revision: Revision, was_asked: bool) -> bool:
    """Which panels a picture has is known once those by hand were carried to it."""
    return not is_carrying(revision) and (was_asked or are_told(revision) or bool(awaited_panels(revision)))


def _is_there(check: str, states: dict[str, str], stage: str, afresh: bool) -> bool:
    """Whether what `check` gives can be built on. A check that is not run at this stage keeps nobody waiting."""
    if stage not in CHECKS[check].stages:
        return True
    return check in states and (afresh or states[check] not in UNFINISHED)


def _queue_check(revision: Revision, entry: CheckEntry, afresh: bool) -> Job:
    return queue_job(
        board=revision.page.board, kind="check", key=f"check/{entry.id}/revision/{revision.pk}", revision=revision,
        check_id=entry.id, inputs=inputs_of_check(revision, entry), force=afresh,
    )


def inputs_of_check(revision: Revision, entry: CheckEntry) -> dict:
    board = revision.page.board
    inputs: dict = {
        "version": entry.version,
        "tolerances": {**entry.tolerances, **board.own_tolerances.get(entry.id, {})},
        "format": [board.trim_width_mm, board.trim_height_mm, board.bleed_mm, board.safe_mm],
        "reading": board.reading,
        "is_spread": revision.page.is_spread,
        "stage": revision.stage,
        "sha256": revision.picture.sha256,
    }
    if "panels" in entry.after:
        inputs["panels"] = panels_as_input(revision, entry.id)
    if entry.needs_figures:
        inputs |= figure_inputs(revision, entry.id)
    if entry.needs_awaited:
        inputs["awaited"] = awaited_panels(revision)
    if entry.needs_prints:
        inputs |= {"number": revision.page.number, "one_drawing": one_drawing(revision)}
    if entry.needs_same_as:
        inputs["same_as"] = same_as_inputs(revision)
    if entry.needs_still:
        inputs |= still_inputs(revision)
    if entry.needs_bound_side:
        inputs["bound_at"] = _bound_at(revision.page)
    return inputs


def _bound_at(page: Page) -> str | None:
    return bound_side(page.number, page.board.reading) if page.board.is_bound and not page.is_spread else None


def panels_as_input(revision: Revision, check_id: str = "") -> list[dict]:
    return [
        {
            "id": shape.panel_id, "order": shape.order, "polygon": shape.polygon, "framed": shape.is_framed,
            "left_alone": check_id in shape.panel.left_alone_by,
            **({"given": given_on(shape)} if check_id == "perspective" and shape.panel.given_perspective else {}),
        }
        for shape in _shapes_on(revision)
    ]


@read_once
def _shapes_on(revision: Revision) -> list[PanelShape]:
    return list(PanelShape.objects.filter(revision=revision).select_related("panel"))


def measure_page_again(*, page: Page, afresh: bool = False) -> list[Job]:
    revision = current_revision(page)
    return queue_ready_checks(revision=revision, afresh=afresh) if revision else []


def measure_panel_again(*, shape: PanelShape) -> None:
    """On the picture that it was corrected on, on the page as it stands, and on those since: one may wait for its stage."""
    own = Revision.objects.filter(shapes__panel=shape.panel_id, state=READY, withdrawn_at__isnull=True)
    standing = ready_revision(shape.revision.page)
    since = min(one.number for one in (shape.revision, standing) if one)
    for revision in own.filter(number__gte=since).select_related("picture", "page__board"):
        queue_ready_checks(revision=revision)


def measure_board_again(*, board: Board, afresh: bool = False) -> None:
    for page in Page.objects.in_comic().filter(board=board):
        measure_page_again(page=page, afresh=afresh)


def measure_sides_again(*, board: Board, pages: Iterable[int]) -> None:
    """What hangs on the side that each is bound at, of pages that have other numbers now. Where it is the same side, nothing is
    queued."""
    numbered = Page.objects.in_comic().select_related("board").in_bulk(set(pages))
    asked = [entry for entry in CHECKS.values() if entry.needs_bound_side and entry.id not in board.checks_off]
    for revision in current_revisions(numbered.values()).values():
        revision.page = numbered[revision.page_id]
        measured = set(Job.objects.filter(revision=revision, kind="check").values_list("check_id", flat=True))
        for entry in asked:
            if entry.id in measured:
                _queue_check(revision, entry, afresh=False)


def measure_still_again(*, still: Reference) -> None:
    """On the pages where it lies under a panel."""
    for page in Page.objects.filter(panels__still=still, panels__still_place__isnull=False).distinct():
        measure_page_again(page=page)


def measure_figures_again(*, board: Board, character: Character | None = None, pages: Iterable[int] = ()) -> None:
    """On each page that has figures of this character, or on the pages named."""
    named = Figure.objects.filter(character=character).values_list("page", flat=True) if character else pages
    for page in Page.objects.in_comic().filter(board=board, pk__in=set(named)):
        measure_page_again(page=page)


def measure_trends_again(*, revision: Revision) -> None:
    """A drift is told on the last page where its character was measured. There, and wherever one is told already, it is looked for
    again when another page was measured."""
    board = revision.page.board
    cast = Character.objects.filter(board=board).values_list("pk", flat=True)
    last = {rows[-1][0] for rows in heads_by_page(board, cast).values()}
    told = Note.objects.filter(board=board, finding_kind=TREND, state__in=(OPEN, ANSWERED)).values("page")
    comic = Page.objects.in_comic().filter(board=board).exclude(pk=revision.page_id)
    for page in comic.filter(Q(number__in=last) | Q(pk__in=told)).order_by("number"):
        measure_page_again(page=page)
