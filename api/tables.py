"""The instructor's table of an assignment, a student's progress over assignments, and the table as a file."""

from collections.abc import Callable
from operator import itemgetter
from typing import Any

from django.http import HttpResponse
from django.utils import timezone
from django.utils.http import content_disposition_header
from django.utils.text import slugify
from drf_spectacular.utils import OpenApiParameter
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import json_field
from api.choices import BOOLEANS, not_one_of
from api.class_table import Row, common_faults, notes_of_works, table_rows
from api.endpoint import Endpoint
from api.needs import instructs
from api.picture_answers import AnyAccept
from board.access import access_assignment, access_enrolment
from board.check_registry import label_of_finding
from board.csv_text import table_as_csv
from board.errors import NotValid
from board.models import Assignment, Criterion, Work
from board.models.work import LEVELS
from board.stages.order import STAGES

COUNTS = {"type": "object", "additionalProperties": {"type": "integer"}}
WORDS = {"type": "object", "additionalProperties": {"type": "string"}}


class TableStageSerializer(serializers.Serializer):
    stage = serializers.ChoiceField(STAGES)
    due_at = serializers.DateTimeField()
    is_extended = serializers.BooleanField()
    hand_in = serializers.IntegerField(allow_null=True)
    handed_in_at = serializers.DateTimeField(allow_null=True)
    minutes_late = serializers.IntegerField()
    before_in_time = serializers.IntegerField(allow_null=True, help_text="Of a late one: the last that was in time.")
    before_in_time_at = serializers.DateTimeField(allow_null=True)


class TableRowSerializer(serializers.Serializer):
    work = serializers.IntegerField()
    board = serializers.IntegerField()
    assignment = serializers.IntegerField()
    enrolment = serializers.IntegerField()
    student = serializers.CharField()
    stages = TableStageSerializer(many=True)
    findings = json_field({**COUNTS, "description": "Open measured notes by the kind of their finding."})
    open_notes = serializers.IntegerField(help_text="By people, without what is to be kept.")
    marks = json_field({**COUNTS, "description": "Criterion id -> level."})
    comments = json_field({**WORDS, "description": "Criterion id -> the word on it; also where it has no level."})
    minutes_spent = serializers.IntegerField()


class FaultSerializer(serializers.Serializer):
    kind = serializers.CharField()
    label = serializers.CharField()  # type: ignore[assignment]  # the field bears a name that the base class has too
    students = serializers.IntegerField()
    findings = serializers.IntegerField()
    principle = serializers.CharField(allow_null=True, help_text="A small drawing of the principle.")


class TableSerializer(serializers.Serializer):
    rows = TableRowSerializer(many=True)
    common_faults = FaultSerializer(many=True)
    levels = serializers.ListField(child=serializers.CharField(), help_text="The words of the rubric's levels.")


class AssignmentTable(Endpoint):
    """Each student with what they handed in, what was measured, open notes, rubric and time spent."""

    shape = TableSerializer
    reach = access_assignment
    needs = {"GET": instructs}

    def get(self, request: Request, pk: int) -> Response:
        rows = table_rows(Work.objects.filter(assignment=self.row))
        return self.answer({"rows": rows, "common_faults": common_faults(rows), "levels": LEVELS})


class ProgressSerializer(serializers.Serializer):
    """A student's works in the order that they were set."""

    student = serializers.CharField()
    rows = TableRowSerializer(many=True)
    levels = serializers.ListField(child=serializers.CharField())


class EnrolmentProgress(Endpoint):
    shape = ProgressSerializer
    reach = access_enrolment

    def get(self, request: Request, pk: int) -> Response:
        works = Work.objects.filter(enrolment=self.row).order_by("assignment")
        rows = table_rows(works, notes_of_works(works, is_for_student=not self.seat.instructs))
        return self.answer({"student": self.row.shown_name, "rows": rows, "levels": LEVELS})


class AssignmentTableFile(Endpoint):
    """The table as comma-separated values, in the screen's order. A cell that a spreadsheet would run as a formula is made text."""

    content_negotiation_class = AnyAccept
    media_types = ("text/csv",)
    reach = access_assignment
    needs = {"GET": instructs}
    parameters = {
        "GET": [
            OpenApiParameter("by", str, description="Its rows stand by: student, findings, notes, minutes, stage-… or criterion-…"),
            OpenApiParameter("down", bool, description="From the last to the first."),
        ],
    }

    def get(self, request: Request, pk: int) -> HttpResponse:
        saved_as = content_disposition_header(True, name_of_file(self.row))
        headers = {"Content-Disposition": saved_as, "Cache-Control": "private, no-store"}
        by, is_down = request.query_params.get("by", "student"), request.query_params.get("down", "false")
        criteria = list(self.row.criteria.all())
        rows = in_order(self.row, criteria, table_rows(Work.objects.filter(assignment=self.row)), by, is_down)
        text = table_as_csv(*as_cells(criteria, rows))
        return HttpResponse("\ufeff" + text, content_type="text/csv; charset=utf-8", headers=headers)


def name_of_file(assignment: Assignment) -> str:
    """Of which class and assignment, and of what day: several saved in one folder are told apart."""
    told = (slugify(words, allow_unicode=True) for words in (assignment.school_class.title, assignment.title))
    return "-".join([*(words for words in told if words), f"{timezone.localdate():%Y-%m-%d}"]) + ".csv"


def in_order(assignment: Assignment, criteria: list[Criterion], rows: list[Row], by: str, is_down: str) -> list[Row]:
    """As `sorted` of `static/js/screens/class_table_facts.js` has it: who is equal stays by name."""
    columns: dict[str, Callable[[Row], Any]] = {
        "student": _name, "findings": lambda row: sum(row["findings"].values()), "notes": itemgetter("open_notes"),
        "minutes": itemgetter("minutes_spent"), **{f"stage-{one.stage}": _handed_in(one.stage) for one in assignment.stages.all()},
        **{f"criterion-{one.pk}": _level(str(one.pk)) for one in criteria},
    }
    for name, value, known in ("by", by, columns.keys()), ("down", is_down, BOOLEANS):
        if value not in known:
            raise NotValid(errors={name: [not_one_of(known, value)]})
    return sorted(sorted(rows, key=_name), key=columns[by], reverse=is_down == "true")


def _name(row: Row) -> str:
    return str(row["student"]).casefold()


def _handed_in(stage: str) -> Callable[[Row], Any]:
    """What is not handed in comes after all that is."""
    def moment(row: Row) -> tuple:
        (at,) = [one["handed_in_at"] for one in row["stages"] if one["stage"] == stage]
        return at is None, at or 0

    return moment


def _level(criterion: str) -> Callable[[Row], int]:
    return lambda row: row["marks"].get(criterion, -1)


def as_cells(criteria: list[Criterion], rows: list[Row]) -> tuple[list[str], list[list[object]]]:
    """What each assignment has comes first; kinds that may lack come last."""
    stages = [one["stage"] for one in rows[0]["stages"]] if rows else []
    kinds = sorted({kind for row in rows for kind in row["findings"]})
    head = ["student", *(f"{stage} {what}" for stage in stages for what in ("handed in", "minutes late")), "findings", "open notes",
            *(cell for one in criteria for cell in (one.title, f"{one.title}: a word")), "minutes spent",
            *(label_of_finding(kind) for kind in kinds)]
    return head, [_cells(row, kinds, [str(one.pk) for one in criteria]) for row in rows]


def _cells(row: dict[str, Any], kinds: list[str], criteria: list[str]) -> list[object]:
    handed = [
        cell for one in row["stages"]
        for cell in ((one["handed_in_at"].isoformat(timespec="minutes"), one["minutes_late"]) if one["handed_in_at"] else ("", ""))
    ]
    marks = [
        cell for pk in criteria
        for cell in (LEVELS[row["marks"][pk]] if pk in row["marks"] else "", row["comments"].get(pk, ""))
    ]
    findings = [row["findings"].get(kind, 0) for kind in kinds]
    return [row["student"], *handed, sum(findings), row["open_notes"], *marks, row["minutes_spent"] or "", *findings]
