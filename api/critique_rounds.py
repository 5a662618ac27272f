from typing import Any

from django.db.models import Count, Q
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.dates import MomentField
from api.endpoint import Endpoint
from api.needs import instructs
from board.access import access_assignment, access_round
from board.actions.critique_newcomers import left_out, let_in
from board.actions.critiques import deliver_round, move_deadline, open_round, remove_round
from board.models import CritiqueRound, Work
from board.stages.order import STAGES


class NewRound(Body):
    stage = serializers.ChoiceField(STAGES)
    each_reads = serializers.IntegerField(min_value=1, max_value=50)
    is_anonymous = serializers.BooleanField(required=False)
    due_at = MomentField()


class NewDeadline(Body):
    due_at = MomentField()


class Newcomer(Body):
    work = serializers.IntegerField(min_value=1)


class LeftOutSerializer(serializers.ModelSerializer):
    work = serializers.IntegerField(source="pk")
    student = serializers.CharField(source="enrolment.shown_name")

    class Meta:
        model = Work
        fields = ["work", "student"]


class RoundSerializer(serializers.ModelSerializer):
    stage = serializers.ChoiceField(STAGES)
    critiques = serializers.IntegerField(source="of_all")
    sent = serializers.IntegerField(source="of_sent")
    left_out = serializers.SerializerMethodField(help_text="Who handed the stage in since it was drawn.")

    class Meta:
        model = CritiqueRound
        fields = ["id", "assignment", "stage", "each_reads", "is_anonymous", "due_at", "delivered_at", "critiques", "sent",
                  "left_out"]

    def get_left_out(self, opened: CritiqueRound) -> LeftOutSerializer(many=True):  # type: ignore[valid-type]
        return LeftOutSerializer(left_out(opened), many=True).data


class RoundEndpoint(Endpoint):
    shape = RoundSerializer

    def show(self, rows: Any) -> list[dict]:
        counted = CritiqueRound.objects.annotate(
            of_all=Count("critiques"), of_sent=Count("critiques", filter=Q(critiques__sent_at__isnull=False))
        ).in_bulk([one.pk for one in rows])
        return list(RoundSerializer([counted[one.pk] for one in rows], many=True).data)


class AssignmentRounds(RoundEndpoint):
    """Rounds of peer critique. A new one draws who reads whom among those who handed the stage in."""

    lists = True
    reach = access_assignment
    needs = {"GET": instructs, "POST": instructs}
    bodies = {"POST": NewRound}

    def get(self, request: Request, pk: int) -> Response:
        return self.answer_page(CritiqueRound.objects.filter(assignment=self.row))

    def post(self, request: Request, pk: int) -> Response:
        return self.answer(open_round(assignment=self.row, **self.read_body()))


class OneRound(RoundEndpoint):
    """Its deadline can be moved until it is delivered; one that nobody wrote in can be removed."""

    reach = access_round
    needs = {"GET": instructs, "PATCH": instructs, "DELETE": instructs}
    bodies = {"PATCH": NewDeadline}

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)

    def patch(self, request: Request, pk: int) -> Response:
        return self.answer(move_deadline(opened=self.row, **self.read_body()))

    def delete(self, request: Request, pk: int) -> Response:
        remove_round(opened=self.row)
        return Response(status=204)


class RoundNewcomers(RoundEndpoint):
    """Lets in somebody who handed the stage in since: they read as many works as the others, and as many read theirs."""

    reach = access_round
    needs = {"POST": instructs}
    bodies = {"POST": Newcomer}

    def post(self, request: Request, pk: int) -> Response:
        return self.answer(let_in(opened=self.row, **self.read_body()))


class RoundDelivery(RoundEndpoint):
    """Ends the round: all that was sent comes to the boards at one moment."""

    reach = access_round
    needs = {"PUT": instructs}

    def put(self, request: Request, pk: int) -> Response:
        return self.answer(deliver_round(opened=self.row))
