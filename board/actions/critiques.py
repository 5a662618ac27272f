"""Peer critique: who reads whom is drawn, what they write is kept with the critique, and all is delivered at one moment.

On a board a classmate's note has no author, and the log no actor. Only the critique's own row knows who wrote it.
"""

import secrets
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from board.actions.critique_notes import pin_points
from board.errors import NotPossibleNow, NotValid
from board.models import Assignment, Board, Criterion, Critique, CritiqueRound, HandIn, Work
from board.models.critique import POINT_KINDS
from board.page_space import read_region
from board.stages.critique_pairs import pair_critics


@transaction.atomic
def open_round(
    *, assignment: Assignment, stage: str, each_reads: int, due_at: datetime, is_anonymous: bool = True
) -> CritiqueRound:
    """Among those who handed the stage in: who did not has nothing to show yet. If it can be so, nobody reads a work twice."""
    works = list(Work.objects.filter(assignment=assignment, hand_ins__stage=stage).distinct().order_by("pk"))
    by_student = {work.enrolment_id: work for work in works}
    opened = CritiqueRound(assignment=assignment, stage=stage, each_reads=each_reads, is_anonymous=is_anonymous, due_at=due_at)
    try:
        readers = pair_critics(list(by_student), each_reads, secrets.randbits(64), works_read(opened))
    except ValueError as error:
        raise NotValid(f"{len(works)} handed this stage in. {error}") from error
    opened.save()
    pairs = [(critic, by_student[student]) for critic, read in readers.items() for student in read]
    add_critiques(opened, pairs, {work.pk: pages_shown(work, stage) for work in works})
    return opened


def works_read(opened: CritiqueRound) -> dict[int, set[int]]:
    """Critic -> whose work they were given to read in any round of its assignment, by their enrolments."""
    read: dict[int, set[int]] = defaultdict(set)
    given = Critique.objects.filter(round__assignment=opened.assignment_id, critic__isnull=False, work__isnull=False)
    for critic, student in given.values_list("critic", "work__enrolment"):
        read[critic].add(student)
    return read


def add_critiques(opened: CritiqueRound, pairs: Iterable[tuple[int, Work]], pages: Mapping[int, list[dict]]) -> None:
    """Of critics with the work that each reads, whose `pages` these are. A critic knows each by another label."""
    given = Critique.objects.filter(round__assignment=opened.assignment_id, critic__isnull=False)
    labels = Counter(given.values_list("critic", flat=True))
    rows = []
    for critic, work in pairs:
        labels[critic] += 1
        rows.append(Critique(round=opened, critic_id=critic, work=work, label=f"Work {labels[critic]}", pages=pages[work.pk]))
    # Drawn, so that their numbers tell nothing of who reads or is read.
    secrets.SystemRandom().shuffle(rows)
    Critique.objects.bulk_create(rows)


@transaction.atomic
def move_deadline(*, opened: CritiqueRound, due_at: datetime) -> CritiqueRound:
    opened = round_still_open(opened)
    opened.due_at = due_at
    opened.save(update_fields=["due_at"])
    return opened


@transaction.atomic
def remove_round(*, opened: CritiqueRound) -> None:
    """One that was drawn by mistake. Raises NotPossibleNow once somebody wrote in it: their words are theirs."""
    opened = round_still_open(opened)
    written = sum(bool(one.points or one.sent_at) for one in opened.critiques.select_for_update(no_key=True))
    if written:
        begun = "1 critique is" if written == 1 else f"{written} critiques are"
        raise NotPossibleNow(f"{begun} begun already, so this round is kept. Move its end, or end it and deliver what is sent.")
    opened.delete()


def round_still_open(opened: CritiqueRound) -> CritiqueRound:
    """Read again under a lock. Raises NotPossibleNow where it is delivered."""
    opened = CritiqueRound.objects.select_for_update(no_key=True).get(pk=opened.pk)
    if opened.delivered_at:
        raise NotPossibleNow("This round is over; its critiques are delivered.")
    return opened


def pages_shown(work: Work, stage: str) -> list[dict]:
    """The pictures as they were handed in."""
    hand_in = HandIn.objects.filter(work=work, stage=stage).latest("pk")
    return [{"page": one["page"], "revision": one["revision"]} for one in hand_in.files]


@transaction.atomic
def write_points(*, critique: Critique, points: Sequence[Mapping[str, Any]]) -> Critique:
    """The whole critique anew, as far as it is written. It can be changed until it is sent."""
    critique = _locked(critique)
    _is_still_open(critique)
    critique.points = [_point(critique, one) for one in points]
    critique.save(update_fields=["points"])
    return critique


def _locked(critique: Critique) -> Critique:
    """Read again under a lock of its round and its own: whoever delivers the round waits, or is waited for. Both are locked by
    themselves: PostgreSQL locks no row that an outer join may not find, and a work may be deleted."""
    rounds = CritiqueRound.objects.select_for_update(of=("self",), no_key=True).select_related("assignment")
    opened = rounds.get(pk=critique.round_id)
    critique = Critique.objects.select_for_update(no_key=True).get(pk=critique.pk)
    critique.round = opened
    return critique


def _is_still_open(critique: Critique) -> None:
    if critique.round.delivered_at:
        raise NotPossibleNow("This round is over; its critiques are delivered.")
    if critique.sent_at:
        raise NotPossibleNow("This critique is sent. Take it back first to change it.")


def _point(critique: Critique, one: Mapping[str, Any]) -> dict[str, Any]:
    page, region, criterion = one.get("page"), one.get("region"), one.get("criterion")
    if page is not None and page not in [shown["page"] for shown in critique.pages]:
        raise NotValid(f"There is no page {page} in this work.")
    if region is not None and page is None:
        raise NotValid("A point on a spot says on which page.")
    if criterion is not None and not Criterion.objects.filter(pk=criterion, assignment=critique.round.assignment).exists():
        raise NotValid("There is no such criterion in the rubric of this assignment.")
    if one["kind"] not in POINT_KINDS:
        raise NotValid("A point says what works, asks for a change, or asks a question.")
    words = {name: str(one.get(name, "")).strip() for name in ("body", "why", "how")}
    return {"kind": one["kind"], **words, "page": page, "region": read_region(region) if region else None, "criterion": criterion}


@transaction.atomic
def send_critique(*, critique: Critique) -> Critique:
    """It asks for both: something that works, and something to change or to think about, with why and how. Sent once more it is as
    it was: the answer to the first may be lost on its way."""
    critique = _locked(critique)
    if critique.sent_at:
        return critique
    _is_still_open(critique)
    if lacking := what_lacks(critique.points):
        raise NotPossibleNow(lacking)
    critique.sent_at = timezone.now()
    critique.save(update_fields=["sent_at"])
    return critique


def what_lacks(points: Sequence[Mapping[str, Any]]) -> str:
    """What a critique needs yet before it can be sent; empty when it helps as it is."""
    kinds = [point["kind"] for point in points if point["body"]]
    if "works" not in kinds:
        return "Say one thing that works, too."
    if not {"change", "ask"} & set(kinds):
        return "Say one thing to change, or ask one question."
    if any(point["kind"] == "change" and not (point["why"] and point["how"]) for point in points if point["body"]):
        return "For each change, say why a reader would feel it, and how it could be done."
    return ""


@transaction.atomic
def take_back_critique(*, critique: Critique) -> Critique:
    critique = _locked(critique)
    if critique.round.delivered_at:
        raise NotPossibleNow("This round is over; its critiques are delivered.")
    critique.sent_at = None
    critique.save(update_fields=["sent_at"])
    return critique


@transaction.atomic
def deliver_round(*, opened: CritiqueRound) -> CritiqueRound:
    """All critiques that were sent, at one moment and in drawn order, so that neither time nor number tells who wrote which."""
    opened = CritiqueRound.objects.select_for_update(of=("self",), no_key=True).select_related("assignment").get(pk=opened.pk)
    if opened.delivered_at:
        return opened
    opened.delivered_at = timezone.now()
    opened.save(update_fields=["delivered_at"])
    sent = list(opened.critiques.filter(sent_at__isnull=False).select_related("work__board", "critic__user"))
    secrets.SystemRandom().shuffle(sent)
    by_board: dict[Board, list[Critique]] = {}
    for critique in sent:
        if critique.work:  # not where it is deleted
            by_board.setdefault(critique.work.board, []).append(critique)
    for board, critiques in by_board.items():
        pin_points(opened=opened, board=board, critiques=critiques)
    return opened


def deliver_due_rounds(now: datetime) -> int:
    """Those whose time is over: nobody waits for critique because an instructor is away."""
    due = list(CritiqueRound.objects.filter(delivered_at__isnull=True, due_at__lte=now))
    for opened in due:
        deliver_round(opened=opened)
    return len(due)
