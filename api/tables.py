"""The instructor's table of an assignment, a student's progress over assignments, and the table as a file."""

from typing import Any

from django.http import HttpResponse
from django.utils import timezone
from django.utils.http import content_disposition_header
from django.utils.text import slugify
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import json_field
from api.class_table import common_faults, notes_of_works, table_rows
from api.endpoint import Endpoint
from api.needs import instructs
from api.picture_answers import AnyAccept
from board.access import access_assignment, access_enrolment
from board.check_registry import label_of_finding
from board.csv_text import table_as_csv
from board.models import Assignment, Work
from board.models.work import LEVELS
from board.stages.order import STAGES

COUNTS = {"type": "object", "additionalProperties": {"type": "integer"}}


class TableStageSerializer(serializers.Serializer):
    stage = serializers.ChoiceField(STAGES)
    due_at = serializers.DateTimeField()
    is_extended = serializers.BooleanField()
    hand_in = serializers.IntegerField(allow_null=True)
    handed_in_at = serializers.DateTimeField(allow_null=True)
    minutes_late = serializers.IntegerField()


class TableRowSerializer(serializers.Serializer):
    work = serializers.IntegerField()
    board = serializers.IntegerField()
    assignment = serializers.IntegerField()
    enrolment = serializers.IntegerField()
    student = serializers.CharField()
    stages = TableStageSerializer(many=True)
    findings = json_field({**COUNTS, "description": "Open measured notes by the kind of their finding."})
    open_notes = serializers.IntegerField(help_text="By people.")
    marks = json_field({**COUNTS, "description": "Criterion id -> level."})
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
    """The table as comma-separated values. A cell that a spreadsheet would run as a formula is made text."""

    content_negotiation_class = AnyAccept
    media_types = ("text/csv",)
    reach = access_assignment
    needs = {"GET": instructs}

    def get(self, request: Request, pk: int) -> HttpResponse:
        saved_as = content_disposition_header(True, name_of_file(self.row))
        headers = {"Content-Disposition": saved_as, "Cache-Control": "private, no-store"}
        text = table_as_csv(*as_cells(self.row, table_rows(Work.objects.filter(assignment=self.row))))
        return HttpResponse("\ufeff" + text, content_type="text/csv; charset=utf-8", headers=headers)


def name_of_file(assignment: Assignment) -> str:
    """Of which class and assignment, and of what day: several saved in one folder are told apart."""
    told = (slugify(words, allow_unicode=True) for words in (assignment.school_class.title, assignment.title))
    return "-".join([*(words for words in told if words), f"{timezone.localdate():%Y-%m-%d}"]) + ".csv"


def as_cells(assignment: Assignment, rows: list[dict[str, Any]]) -> tuple[list[str], list[list[object]]]:
    """By name, as they stand on the screen. What each assignment has comes first; kinds that may lack come last."""
    rows = sorted(rows, key=lambda row: row["student"].casefold())
    stages = [one["stage"] for one in rows[0]["stages"]] if rows else []
    criteria = list(assignment.criteria.all())
    kinds = sorted({kind for row in rows for kind in row["findings"]})
    head = ["student", *(f"{stage} {what}" for stage in stages for what in ("handed in", "minutes late")), "findings", "open notes",
            *(one.title for one in criteria), "minutes spent", *(label_of_finding(kind) for kind in kinds)]
    return head, [_cells(row, kinds, [str(one.pk) for one in criteria]) for row in rows]


def _cells(row: dict[str, Any], kinds: list[str], criteria: list[str]) -> list[object]:
    handed = [
        cell for one in row["stages"]
        for cell in ((one["handed_in_at"].isoformat(timespec="minutes"), one["minutes_late"]) if one["handed_in_at"] else ("", ""))
    ]
    marks = [LEVELS[row["marks"][pk]] if pk in row["marks"] else "" for pk in criteria]
    findings = [row["findings"].get(kind, 0) for kind in kinds]
    return [row["student"], *handed, sum(findings), row["open_notes"], *marks, row["minutes_spent"] or "", *findings]
