from typing import Any

from django.utils import timezone
from drf_spectacular.utils import OpenApiParameter
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.dates import MomentField
from api.endpoint import Endpoint
from api.hand_ins import HandInSerializer
from api.needs import instructs
from api.stage_moves import RefusalSerializer
from board.access import access_extension, access_work
from board.actions.hand_ins import extend, facts_of_hand_in, has_newer_pictures, take_back_extension
from board.actions.rubric_marks import mark_work
from board.models import Extension, RubricMark, Work
from board.models.work import LEVELS
from board.stages.deadlines import last_moment, refusal_of_hand_in
from board.stages.order import STAGES


class WorkStageSerializer(serializers.Serializer):
    """A stage of one's own work: until when, what was handed in last, and what stands against handing in now."""

    stage = serializers.ChoiceField(STAGES)
    due_at = serializers.DateTimeField()
    is_extended = serializers.BooleanField()
    taken_until = serializers.DateTimeField(allow_null=True)
    handed_in = HandInSerializer(allow_null=True)
    has_newer_pictures = serializers.BooleanField(help_text="Than those that were handed in last.")
    refusal = RefusalSerializer(allow_null=True)


class MarkSerializer(serializers.ModelSerializer):
    word = serializers.CharField(help_text="Of its level; empty where there is a comment alone.")

    class Meta:
        model = RubricMark
        fields = ["criterion", "level", "word", "comment"]


class WorkSerializer(serializers.ModelSerializer):
    student = serializers.CharField(source="enrolment.shown_name")
    stages = serializers.SerializerMethodField()
    marks = MarkSerializer(many=True)

    class Meta:
        model = Work
        fields = ["id", "assignment", "board", "enrolment", "student", "stages", "marks", "version"]

    def get_stages(self, work: Work) -> WorkStageSerializer(many=True):  # type: ignore[valid-type]
        extended = set(work.extensions.values_list("stage", flat=True))
        return [self._stage(work, one.stage, one.stage in extended) for one in work.assignment.stages.all()]

    def _stage(self, work: Work, stage: str, is_extended: bool) -> dict[str, Any]:
        facts = facts_of_hand_in(work, stage, timezone.now())
        refusal, last = refusal_of_hand_in(facts), work.hand_ins.filter(stage=stage).last()
        until = last_moment(facts.due_at, facts.grace_minutes, facts.late_days) if facts.due_at else None
        return {
            "stage": stage, "due_at": facts.due_at, "is_extended": is_extended, "taken_until": until,
            "handed_in": HandInSerializer(last).data if last else None,
            "has_newer_pictures": last is not None and has_newer_pictures(work, last),
            "refusal": {"code": refusal.code, "reason": refusal.reason} if refusal else None,
        }


class OneWork(Endpoint):
    """A student's own work for an assignment."""

    shape = WorkSerializer
    reach = access_work

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)


class NewMark(Body):
    criterion = serializers.IntegerField(min_value=1)
    level = serializers.IntegerField(min_value=0, max_value=len(LEVELS) - 1, allow_null=True, required=False)
    comment = serializers.CharField(max_length=5000, required=False, allow_blank=True)


class Marks(Body):
    marks = serializers.ListField(child=NewMark(), max_length=100)


class WorkMarks(Endpoint):
    """How far the work has come, by each criterion.

    Only what is named changes: a level without a comment leaves the comment, and a comment without a level the level. A mark with
    neither is none.
    """

    shape = WorkSerializer
    reach = access_work
    needs = {"PUT": instructs}
    bodies = {"PUT": Marks}
    parameters = {
        "PUT": [OpenApiParameter("If-Match", str, OpenApiParameter.HEADER, description="The ETag that `GET /api/v1/works/{id}` "
                                 "answered with: nothing is marked where somebody marked this work since.")],
    }

    def put(self, request: Request, pk: int) -> Response:
        version = self.version_named() if "If-Match" in request.headers else None
        return self.answer(mark_work(seat=self.seat, work=self.row, expected_version=version, **self.read_body()))


class NewExtension(Body):
    stage = serializers.ChoiceField(STAGES)
    due_at = MomentField()


class ExtensionSerializer(serializers.ModelSerializer):
    stage = serializers.ChoiceField(STAGES)

    class Meta:
        model = Extension
        fields = ["id", "work", "stage", "due_at"]


class WorkExtensions(Endpoint):
    """A later deadline for this student; a second one for the same stage replaces the first."""

    shape = ExtensionSerializer
    lists = True
    reach = access_work
    needs = {"POST": instructs}
    bodies = {"POST": NewExtension}

    def get(self, request: Request, pk: int) -> Response:
        return self.answer_page(Extension.objects.filter(work=self.row))

    def post(self, request: Request, pk: int) -> Response:
        return self.answer(extend(work=self.row, **self.read_body()))


class OneExtension(Endpoint):
    reach = access_extension
    needs = {"DELETE": instructs}

    def delete(self, request: Request, pk: int) -> Response:
        take_back_extension(extension=self.row)
        return Response(status=204)
