from typing import Any

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.boards import FORMAT, IS_BOUND, TolerancesField
from api.body import Body
from api.dates import MomentField
from api.endpoint import Endpoint
from api.needs import instructs
from board.access import access_assignment, access_class, visible_works
from board.actions.assignments import change_assignment, remove_assignment, set_assignment
from board.check_registry import CHECKS
from board.models import Assignment, AssignmentStage, Criterion
from board.models.assignment import MEASURED_SHOWN
from board.stages.order import STAGES


class NewStage(Body):
    stage = serializers.ChoiceField(STAGES)
    due_at = MomentField()


class NewCriterion(Body):
    id = serializers.IntegerField(required=False, min_value=1, help_text="Of one that is there; without it, a new one.")
    title = serializers.CharField(max_length=120)
    asks = serializers.CharField(max_length=500, required=False, allow_blank=True)


class NewAssignment(Body):
    title = serializers.CharField(max_length=200)
    brief = serializers.CharField(max_length=20_000, required=False, allow_blank=True)
    page_count = serializers.IntegerField(min_value=1, max_value=60, required=False)
    reading = serializers.ChoiceField(["ltr", "rtl"], required=False)
    is_bound = serializers.BooleanField(required=False, help_text=IS_BOUND)
    trim_width_mm = serializers.FloatField(min_value=1, max_value=5000, required=False)
    trim_height_mm = serializers.FloatField(min_value=1, max_value=5000, required=False)
    bleed_mm = serializers.FloatField(min_value=0, max_value=500, required=False)
    safe_mm = serializers.FloatField(min_value=0, max_value=500, required=False)
    model_board = serializers.IntegerField(min_value=1, required=False, help_text="Cast and set are given from it.")
    cast_is_given = serializers.BooleanField(required=False)
    set_is_given = serializers.BooleanField(required=False)
    checks = serializers.ListField(
        child=serializers.ChoiceField(list(CHECKS)), required=False, allow_null=True, help_text="That run; null for all."
    )
    own_tolerances = TolerancesField(required=False)
    measured_shown = serializers.ChoiceField(MEASURED_SHOWN, required=False, help_text="When students read measured notes.")
    grace_minutes = serializers.IntegerField(min_value=0, max_value=10_080, required=False)
    late_days = serializers.IntegerField(
        min_value=0, max_value=365, required=False, allow_null=True, help_text="Late work is taken for so long; null: without end."
    )
    stages = serializers.ListField(
        child=NewStage(), min_length=1, max_length=len(STAGES),
        error_messages={"min_length": "Give one stage or more its deadline."},
    )
    rubric = serializers.ListField(child=NewCriterion(), required=False, max_length=30)


class ChangedAssignment(NewAssignment):
    """A stage that somebody handed in stays, and what is handed in counts by a deadline that is moved later."""

    drops_marks = serializers.BooleanField(
        required=False, help_text="Lines of the rubric that are not named go with their marks; else one that has any is refused."
    )


class StageSerializer(serializers.ModelSerializer):
    stage = serializers.ChoiceField(STAGES)

    class Meta:
        model = AssignmentStage
        fields = ["stage", "due_at"]


class CriterionSerializer(serializers.ModelSerializer):
    class Meta:
        model = Criterion
        fields = ["id", "title", "asks"]


class AssignmentSerializer(serializers.ModelSerializer):
    own_tolerances = TolerancesField()
    checks = serializers.ListField(child=serializers.CharField(), allow_null=True)
    measured_shown = serializers.ChoiceField(MEASURED_SHOWN)
    stages = StageSerializer(many=True)
    rubric = CriterionSerializer(many=True, source="criteria")
    own_work = serializers.SerializerMethodField(help_text="A student's own; null for instructors.")

    class Meta:
        model = Assignment
        fields = ["id", "school_class", "title", "brief", "page_count", "reading", "is_bound", *FORMAT, "model_board",
                  "cast_is_given", "set_is_given", "checks", "own_tolerances", "measured_shown", "grace_minutes", "late_days",
                  "stages", "rubric", "own_work", "version"]

    def get_own_work(self, assignment: Assignment) -> int | None:
        return self.context["works"].get(assignment.pk)


class AssignmentEndpoint(Endpoint):
    shape = AssignmentSerializer

    def show(self, rows: Any) -> list[dict]:
        pks = [one.pk for one in rows]
        works = {} if self.seat.instructs else dict(visible_works(self.seat).values_list("assignment", "pk"))
        whole = Assignment.objects.filter(pk__in=pks).prefetch_related("stages", "criteria").in_bulk()
        return list(AssignmentSerializer([whole[pk] for pk in pks], many=True, context={"works": works}).data)


class ClassAssignments(AssignmentEndpoint):
    """What the class was set. A new one gives each student a board of their own."""

    lists = True
    reach = access_class
    needs = {"POST": instructs}
    bodies = {"POST": NewAssignment}
    makes = "assignment"

    def get(self, request: Request, pk: int) -> Response:
        return self.answer_page(Assignment.objects.filter(school_class=self.row))

    def post(self, request: Request, pk: int) -> Response:
        return self.answer(set_assignment(seat=self.seat, **self.read_body()))


class OneAssignment(AssignmentEndpoint):
    reach = access_assignment
    needs = {"PATCH": instructs, "DELETE": instructs}
    bodies = {"PATCH": ChangedAssignment}
    versioned = ("PATCH", "DELETE")

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)

    def patch(self, request: Request, pk: int) -> Response:
        version = self.version_named()
        return self.answer(
            change_assignment(seat=self.seat, assignment=self.row, expected_version=version, **self.read_body())
        )

    def delete(self, request: Request, pk: int) -> Response:
        remove_assignment(assignment=self.row, expected_version=self.version_named())
        return Response(status=204)
