"""A roster as comma-separated values: what importing it would do, and doing it."""

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.endpoint import Endpoint
from api.enrolments import EnrolmentSerializer
from api.invitations import InvitationSerializer, LinkDays, expires_at
from api.needs import instructs
from board.access import access_class
from board.actions.rosters import DEEDS, import_roster, plan_roster
from board.models import Enrolment

LONGEST_ROSTER = 400_000


class Roster(Body):
    csv = serializers.CharField(max_length=LONGEST_ROSTER, trim_whitespace=False, help_text="With the columns in its first line.")


class RosterImport(LinkDays, Roster):
    pass


class RosterLineSerializer(serializers.Serializer):
    line = serializers.IntegerField(source="line.line")
    username = serializers.CharField(source="line.username")
    name = serializers.CharField(source="line.name")
    alias = serializers.CharField(source="line.alias")
    is_minor = serializers.BooleanField(source="line.is_minor")
    does = serializers.ChoiceField(DEEDS)
    faults = serializers.ListField(child=serializers.CharField(), source="line.faults")
    remarks = serializers.ListField(child=serializers.CharField(), help_text="What it would change, and what to look at.")


class MissingSerializer(serializers.ModelSerializer):
    username = serializers.CharField(source="user.username")
    name = serializers.CharField(source="shown_name")

    class Meta:
        model = Enrolment
        fields = ["id", "username", "name"]


class RosterPreviewSerializer(serializers.Serializer):
    lines = RosterLineSerializer(many=True)
    faults = serializers.IntegerField(help_text="How many lines cannot be used.")
    missing = MissingSerializer(many=True, help_text="Students in the class who are on none of its lines. They stay.")


class RosterPreviews(Endpoint):
    """Nothing is written."""

    shape = RosterPreviewSerializer
    reach = access_class
    needs = {"POST": instructs}
    bodies = {"POST": Roster}
    statuses = {"POST": 200}
    answers_once = False  # an answer that is kept would keep names that nothing else does

    def post(self, request: Request, pk: int) -> Response:
        return self.answer(plan_roster(school_class=self.row, text=self.read_body()["csv"]))


class ImportedSerializer(serializers.Serializer):
    enrolled = EnrolmentSerializer(many=True)
    invited = InvitationSerializer(many=True)
    changed = serializers.IntegerField(help_text="How many who were in the class or invited already.")


class RosterImports(Endpoint):
    """Whole or not at all. Who has no account here is invited; the links are in the list of invitations."""

    shape = ImportedSerializer
    reach = access_class
    needs = {"POST": instructs}
    bodies = {"POST": RosterImport}
    answers_once = False  # sent again it does nothing more; an answer that is kept would keep names

    def post(self, request: Request, pk: int) -> Response:
        body = self.read_body()
        enrolled, invited, changed = import_roster(seat=self.seat, text=body["csv"], expires_at=expires_at(body))
        return self.answer({"enrolled": enrolled, "invited": invited, "changed": changed})
