"""Turns what a check found into measured notes. A re-run meets its earlier findings: the same finding keeps its note."""

from collections.abc import Iterable, Mapping
from typing import Protocol

from django.db import transaction
from django.utils import timezone

from board.actions.events import write_event
from board.actions.named_panels import name_panels_anew
from board.actions.unmeasured import Unmeasured, figures_of
from board.check_registry import INFORMING
from board.models import Figure, Finding, Job, Note, Page, Revision
from board.models.job import DONE, NOT_MEASURED
from board.models.note import ANSWERED, GONE, HELD, OPEN, REGION
from board.models.revision import ready_revision
from board.page_space import box_overlap, contains

SAME_FINDING = 0.2  # boxes of evidence sharing this much, in one panel and of one kind, are the same finding
BETTER, WORSE = 0.8, 1.25  # of the miss on the revision before


class Found(Protocol):
    """What `board.check_contract.Finding` carries; the web side does not load that module."""

    @property
    def finding(self) -> str: ...
    @property
    def panel(self) -> int | None: ...
    @property
    def measured(self) -> float: ...
    @property
    def expected(self) -> float: ...
    @property
    def tolerance(self) -> float: ...
    @property
    def unit(self) -> str: ...
    @property
    def confidence(self) -> float: ...
    @property
    def text(self) -> str: ...
    @property
    def geometry(self) -> Mapping: ...


@transaction.atomic
def record_findings(*, job: Job, found: Iterable[Found], unmeasured: Unmeasured | None = None) -> None:
    """Writes findings and notes of one check on one revision; drops what does not speak for the page.

    A note whose fault was not found again is closed as gone; one whose fault was not looked for stays, and says why.
    """
    revision = job.revision
    assert revision is not None
    page = Page.objects.select_for_update(no_key=True).select_related("board").get(pk=revision.page_id)
    if not _speaks_for_the_page(job, page, revision):
        return
    waiting = list(Note.objects.filter(page=page, check_id=job.check_id).exclude(state=HELD))
    for one in sorted(found, key=lambda one: -one.confidence):
        note = _meet(one, waiting)
        if note is not None:
            waiting.remove(note)
        _write_finding(job, page, one, note)
    name_panels_anew(board=page.board, page=page)
    for note in waiting:
        if note.state in (OPEN, ANSWERED):
            _not_found(note, (unmeasured or Unmeasured()).why(revision, note))
    # Nothing here says how much was found: an assignment may show that later, or to its instructor only.
    write_event(board=page.board, kind="check-done", page=page, revision=revision.pk, check=job.check_id)


def _speaks_for_the_page(job: Job, page: Page, revision: Revision) -> bool:
    """Not a picture that waits for its stage, nor another try; and an older one only until the newer is measured. Nor a check that
    was turned off while it was at work."""
    if job.check_id in page.board.checks_off:
        return False
    standing = ready_revision(page)
    if standing is None or standing == revision:
        return True
    if standing.number < revision.number or standing.alternate != revision.alternate:
        return False
    measured = Job.objects.filter(kind="check", check_id=job.check_id, revision=standing, state__in=(DONE, NOT_MEASURED))
    return not measured.exists()


def _meet(one: Found, waiting: list[Note]) -> Note | None:
    """The earlier note of the same kind and panel whose evidence overlaps most; a page-level finding is met by its kind alone."""
    alike = [note for note in waiting if note.finding_kind == one.finding and note.panel_id == one.panel]
    if one.geometry.get("region") is None:
        return alike[0] if alike else None
    scored = [(_likeness(one, note), note) for note in alike if note.region]
    best = max(scored, key=lambda pair: pair[0], default=(0.0, None))
    return best[1] if best[0] >= SAME_FINDING else None


def _likeness(one: Found, note: Note) -> float:
    """Of the same figures it is the same finding, wherever they were marked again; of others that still are there it never is."""
    figures, told = one.geometry.get("figures"), figures_of(note)
    if figures and figures == told:
        return 1.0
    if figures and told and not set(figures) & set(told) and Figure.objects.filter(pk__in=told).exists():
        return 0.0
    return _overlap(one.geometry["region"], note.region or {})


def _overlap(first: Mapping, second: Mapping) -> float:
    if "polygon" in first and "polygon" in second:
        return box_overlap(first["polygon"], second["polygon"])
    if "point" in first and "point" in second:
        near = max(abs(a - b) for a, b in zip(first["point"], second["point"], strict=True))
        return 1.0 if near < 0.02 else 0.0
    outline, point = (first, second) if "polygon" in first else (second, first)
    return float(contains(outline["polygon"], point["point"]))


def _write_finding(job: Job, page: Page, one: Found, note: Note | None) -> None:
    region = one.geometry.get("region")
    if note is None:
        note = Note(board=page.board, page=page, panel_id=one.panel, check_id=job.check_id, finding_kind=one.finding,
                    tone="keep" if one.finding in INFORMING else "try", sent_at=timezone.now())
    note.body, note.region, note.revision = one.text, region, job.revision
    note.scope, note.not_measured = REGION if region else "page", ""
    if note.state == GONE:
        note.state, note.closed_at, note.state_before_left_alone = _state_before(note, job.revision), None, ""
    note.version += 1 if note.pk else 0
    note.save()
    values = {name: getattr(one, name) for name in ("measured", "expected", "tolerance", "unit", "confidence", "text")}
    values |= {"geometry": dict(one.geometry), "job": job, "panel_id": one.panel, "kind": one.finding,
               "trend": _trend(note, job.revision, abs(one.measured - one.expected))}
    Finding.objects.update_or_create(note=note, revision=job.revision, defaults=values)


def _state_before(note: Note, revision: Revision | None) -> str:
    """An answer holds for the pictures on which the fault was told already: after a wrong file it need not be given again."""
    was_told = note.findings.filter(revision=revision).exists()
    return note.state_before_left_alone or OPEN if was_told else OPEN


def _trend(note: Note, revision: Revision | None, miss: float) -> str:
    earlier = note.findings.filter(revision__number__lt=revision.number if revision else 0).order_by("-revision__number").first()
    if earlier is None:
        return "new"
    miss_before = abs(earlier.measured - earlier.expected)
    return "better" if miss < BETTER * miss_before else "worse" if miss > WORSE * miss_before else "same"


def _not_found(note: Note, why_not_measured: str) -> None:
    """What people said of it stays said: a settled note stays settled, a stet stays a stet. What was last measured is kept."""
    if why_not_measured and why_not_measured == note.not_measured:
        return
    note.not_measured, note.version = why_not_measured, note.version + 1
    if not why_not_measured:
        note.state_before_left_alone, note.state, note.closed_at = note.state, GONE, timezone.now()
    note.save(update_fields=["not_measured", "state", "state_before_left_alone", "closed_at", "version"])
