"""What an instructor sees of many works at once. The number of queries does not grow with the works."""

from collections import Counter, defaultdict
from collections.abc import Iterable
from typing import Any

from django.db.models import Count, Q, QuerySet, Sum
from django.db.models.functions import Coalesce

from api.principles import principle_of
from board.access import measured_is_shown
from board.check_registry import INFORMING, label_of_finding
from board.models import AssignmentStage, Extension, HandIn, Note, RubricMark, Work
from board.models.assignment import AT_ONCE
from board.models.note import OPEN
from board.stages.deadlines import effective_deadline

Row = dict[str, Any]
BY_PEOPLE = ""


def notes_of_works(works: QuerySet[Work], *, is_for_student: bool = False) -> QuerySet[Note]:
    """The open ones. A student counts what they see on their own board, and no more."""
    notes = Note.objects.filter(board__work__in=works.order_by().values("pk"), state=OPEN)
    return notes.filter(Q(board__measured_shown=AT_ONCE) | measured_is_shown()) if is_for_student else notes


def table_rows(works: QuerySet[Work], open_notes: QuerySet[Note] | None = None) -> list[Row]:
    """One row for each work, in the order that they come in."""
    notes = _notes(notes_of_works(works) if open_notes is None else open_notes)
    within = works.order_by().values("pk")
    stages, (marks, comments) = _stages(within), _marks(within)
    spent = Coalesce(Sum("board__pages__revisions__minutes_spent"), 0)
    return [
        {
            "work": work.pk, "board": work.board_id, "assignment": work.assignment_id, "enrolment": work.enrolment_id,
            "student": work.enrolment.shown_name, "stages": stages(work),
            "findings": {kind: count for kind, count in notes[work.board_id].items() if kind != BY_PEOPLE},
            "open_notes": notes[work.board_id][BY_PEOPLE], "marks": marks[work.pk], "comments": comments[work.pk],
            "minutes_spent": work.minutes_spent,
        }
        for work in works.select_related("enrolment__user").annotate(minutes_spent=spent)
    ]


def _notes(notes: QuerySet[Note]) -> dict[int, Counter[str]]:
    """Board id -> open notes by the kind of their finding; people's under "".

    What only informs, and what is to be kept, waits for nobody: it is not counted, as it does not stand among what is to be done.
    """
    counts: dict[int, Counter[str]] = defaultdict(Counter)
    rows = notes.exclude(finding_kind__in=INFORMING).exclude(tone="keep").order_by().values("board", "finding_kind")
    for row in rows.annotate(count=Count("pk")):
        counts[row["board"]][row["finding_kind"]] += row["count"]
    return counts


def _marks(within: QuerySet) -> tuple[dict[int, dict[str, int]], dict[int, dict[str, str]]]:
    """Work id -> {criterion id: level}, and -> {criterion id: comment}, where there is one. JSON has no other keys than text."""
    marks: dict[int, dict[str, int]] = defaultdict(dict)
    comments: dict[int, dict[str, str]] = defaultdict(dict)
    for one in RubricMark.objects.filter(work__in=within):
        if one.level is not None:
            marks[one.work_id][str(one.criterion_id)] = one.level
        if one.comment:
            comments[one.work_id][str(one.criterion_id)] = one.comment
    return marks, comments


def _stages(within: QuerySet) -> Any:
    """(work) -> its stages with deadline and last hand-in."""
    asked: dict[int, list[AssignmentStage]] = defaultdict(list)
    for one in AssignmentStage.objects.filter(assignment__works__in=within).distinct():
        asked[one.assignment_id].append(one)
    later = {(one.work_id, one.stage): one.due_at for one in Extension.objects.filter(work__in=within)}
    hand_ins: dict[tuple[int, str], list[HandIn]] = defaultdict(list)
    for hand_in in HandIn.objects.filter(work__in=within).order_by("pk").defer("files"):
        hand_ins[hand_in.work_id, hand_in.stage].append(hand_in)
    return lambda work: [
        _stage(one, later.get((work.pk, one.stage)), hand_ins[work.pk, one.stage]) for one in asked[work.assignment_id]
    ]


def _stage(asked: AssignmentStage, later: Any, hand_ins: list[HandIn]) -> Row:
    """The last hand-in counts; where it is late, one before that was in time is told too."""
    hand_in = hand_ins[-1] if hand_ins else None
    in_time = [one for one in hand_ins if not one.minutes_late] if hand_in and hand_in.minutes_late else []
    return {
        "stage": asked.stage, "due_at": effective_deadline(asked.due_at, later), "is_extended": later is not None,
        "hand_in": hand_in.pk if hand_in else None, "handed_in_at": hand_in.handed_in_at if hand_in else None,
        "minutes_late": hand_in.minutes_late if hand_in else 0,
        "before_in_time": in_time[-1].pk if in_time else None, "before_in_time_at": in_time[-1].handed_in_at if in_time else None,
    }


def common_faults(rows: Iterable[Row]) -> list[Row]:
    """Kinds of findings by how many students have them: what the whole class could be told."""
    students: Counter[str] = Counter()
    findings: Counter[str] = Counter()
    for row in rows:
        students.update(row["findings"].keys())
        findings.update(row["findings"])
    return [
        {"kind": kind, "label": label_of_finding(kind), "students": count, "findings": findings[kind],
         "principle": principle_of(kind)}
        for kind, count in sorted(students.items(), key=lambda pair: (-pair[1], pair[0]))
    ]
