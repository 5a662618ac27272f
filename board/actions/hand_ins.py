"""Handing in a whole stage of an assignment. Whether it is taken is decided by `board.stages.deadlines`."""

import hashlib
from collections.abc import Collection, Iterable
from datetime import datetime, timedelta

from django.db import transaction
from django.db.models import F, Max
from django.utils import timezone

from board.access import ClassSeat
from board.actions.classes import is_still_running
from board.actions.events import write_event
from board.actions.measuring import measure_page_again
from board.actions.row_locks import hold_board, hold_pages
from board.actions.versions import save_next_version
from board.errors import MoveRefused
from board.models import Assignment, Extension, HandIn, Job, Page, Revision, Work
from board.models.revision import RECEIVED, ready_revision, refused_uploads, shown_revisions
from board.stages.deadlines import HandInFacts, effective_deadline, minutes_late, refusal_of_hand_in
from board.stages.order import STAGES

# So long after its last picture was read a hand-in still counts from when that was uploaded: a browser that waits asks every two
# seconds, a person who was told to wait comes back. Own choice.
JUST_READ = timedelta(minutes=2)


def deadline_of(work: Work, stage: str) -> datetime | None:
    """The student's own: the assignment's, or their extension's."""
    asked = work.assignment.stages.filter(stage=stage).first()
    if asked is None:
        return None
    extension = work.extensions.filter(stage=stage).first()
    return effective_deadline(asked.due_at, extension.due_at if extension else None)


def facts_of_hand_in(work: Work, stage: str, now: datetime) -> HandInFacts:
    pages = list(Page.objects.filter(board=work.board_id))
    pictures = pictures_at(pages, stage)
    refused = refused_uploads(pages, stage=stage, panel=None, alternate=F("page__chosen_alternate"))
    not_opened = [page for page in pages if page.pk in refused and page.pk in pictures]
    last, school_class = work.hand_ins.filter(stage=stage).last(), work.assignment.school_class
    return HandInFacts(
        now=counts_from(now, pictures.values()), due_at=deadline_of(work, stage),
        grace_minutes=work.assignment.grace_minutes, late_days=work.assignment.late_days,
        pages_without_picture=tuple(page.number for page in pages if page.pk not in pictures),
        pages_being_read=tuple(page.number for page in pages if page.pk in pictures and pictures[page.pk].state == RECEIVED),
        pages_not_opened=tuple(page.number for page in not_opened if refused[page.pk].number > pictures[page.pk].number),
        pages_at_later_stage=tuple(page.number for page in pages if STAGES.index(page.stage) > STAGES.index(stage)),
        is_same_as_last=bool(last and last.digest == digest_of(files_of(pages, pictures)) and all(p.handed_in_at for p in pages)),
        class_ended_on=school_class.ends_on if school_class.is_over(now) else None,
    )


def counts_from(now: datetime, pictures: Collection[Revision]) -> datetime:
    """The moment by which a hand-in is told in time or late: nobody is late by waiting until their last picture was read."""
    read_at = Job.objects.filter(kind="intake", revision__in=pictures).aggregate(last=Max("finished_at"))["last"]
    waited = any(one.state == RECEIVED for one in pictures) or bool(read_at and now - read_at <= JUST_READ)
    return min(now, max(one.uploaded_at for one in pictures)) if waited and pictures else now


def pictures_at(pages: Iterable[Page], stage: str) -> dict[int, Revision]:
    """Page id -> the newest picture of its chosen alternate at this stage."""
    chosen = {page.pk: page.chosen_alternate for page in pages}
    shown: dict[int, Revision] = {}
    for revision in shown_revisions(chosen).filter(stage=stage).select_related("picture"):
        if revision.alternate == chosen[revision.page_id]:
            shown.setdefault(revision.page_id, revision)
    return shown


def files_of(pages: Iterable[Page], pictures: dict[int, Revision]) -> list[dict]:
    return [
        {"page": page.number, "revision": pictures[page.pk].pk, "sha256": pictures[page.pk].picture.sha256}
        for page in pages if page.pk in pictures
    ]


def digest_of(files: Iterable[dict]) -> str:
    return hashlib.sha256("".join(f"{one['page']} {one['sha256']}\n" for one in files).encode()).hexdigest()


def has_newer_pictures(work: Work, hand_in: HandIn) -> bool:
    """Whether any page shows another picture at that stage than was handed in."""
    handed_in = {one["sha256"] for one in hand_in.files}
    shown = pictures_at(Page.objects.filter(board=work.board_id), hand_in.stage)
    return any(revision.picture.sha256 not in handed_in for revision in shown.values())


@transaction.atomic
def hand_in_stage(*, seat: ClassSeat, work: Work, stage: str) -> HandIn:
    """All pages together. Handing in again before the time is over makes another receipt; the last one counts."""
    hold_pages(Page.objects.filter(board=work.board_id).values_list("pk", flat=True))
    hold_board(work.board_id)
    now = timezone.now()
    facts = facts_of_hand_in(work, stage, now)
    if refusal := refusal_of_hand_in(facts):
        raise MoveRefused(refusal.reason, code=refusal.code)
    assert facts.due_at is not None
    pages = list(Page.objects.filter(board=work.board_id))
    files = files_of(pages, pictures_at(pages, stage))
    hand_in = HandIn.objects.create(
        work=work, stage=stage, number=(work.hand_ins.aggregate(last=Max("number"))["last"] or 0) + 1, handed_in_at=facts.now,
        due_at=facts.due_at, minutes_late=minutes_late(facts.now, facts.due_at, facts.grace_minutes), files=files,
        digest=digest_of(files),
    )
    for page in pages:
        _move(page, stage, now)
    write_event(board=work.board, kind="stage-handed-in", actor=seat.user, hand_in=hand_in.pk, stage=stage)
    return hand_in


def _move(page: Page, stage: str, now: datetime) -> None:
    """A class moves on together: the next stage's hand-in closes the one before, signed off or not."""
    before = ready_revision(page)
    page.stage, page.handed_in_at = stage, now
    save_next_version(page, "stage", "handed_in_at")
    if ready_revision(page) != before:
        measure_page_again(page=page, afresh=True)


@transaction.atomic
def extend(*, work: Work, stage: str, due_at: datetime) -> Extension:
    """What is handed in already counts by it too: late work can be given its time afterwards, also in a class that is over.

    Raises NotPossibleNow there if nothing is handed in: more time would promise what cannot be kept.
    """
    if not work.hand_ins.filter(stage=stage).exists():
        is_still_running(work.assignment.school_class)
    before = Extension.objects.filter(work=work, stage=stage).first()
    extension = Extension.objects.update_or_create(work=work, stage=stage, defaults={"due_at": due_at})[0]
    _reckon_lateness_anew(work, stage, before.due_at if before else None)
    return extension


@transaction.atomic
def take_back_extension(*, extension: Extension) -> None:
    extension.delete()
    _reckon_lateness_anew(extension.work, extension.stage, extension.due_at)


def _reckon_lateness_anew(work: Work, stage: str, extended_to: datetime | None) -> None:
    """By the deadline that holds now, where it gives more time or what gave it, `extended_to`, is taken back."""
    due_at = deadline_of(work, stage)
    for hand_in in work.hand_ins.filter(stage=stage, due_at__isnull=False):
        if due_at and hand_in.due_at and (due_at > hand_in.due_at or hand_in.due_at == extended_to):
            hand_in.due_at = due_at
            hand_in.minutes_late = minutes_late(hand_in.handed_in_at, due_at, work.assignment.grace_minutes)
            hand_in.save(update_fields=["due_at", "minutes_late"])


def give_time(assignment: Assignment) -> None:
    """What is handed in counts by its deadline and grace as they are now, where that gives time; none is taken back."""
    asked = dict(assignment.stages.values_list("stage", "due_at"))
    later = {(one.work_id, one.stage): one.due_at for one in Extension.objects.filter(work__assignment=assignment)}
    hand_ins = HandIn.objects.filter(work__assignment=assignment, stage__in=asked, due_at__isnull=False)
    for hand_in in hand_ins.defer("files"):
        before = hand_in.due_at, hand_in.minutes_late
        assert hand_in.due_at is not None
        due_at = max(hand_in.due_at, effective_deadline(asked[hand_in.stage], later.get((hand_in.work_id, hand_in.stage))))
        late = min(hand_in.minutes_late, minutes_late(hand_in.handed_in_at, due_at, assignment.grace_minutes))
        if (due_at, late) != before:
            hand_in.due_at, hand_in.minutes_late = due_at, late
            hand_in.save(update_fields=["due_at", "minutes_late"])
