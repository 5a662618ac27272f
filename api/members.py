from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.endpoint import Endpoint
from api.needs import may_change_members
from api.people import PersonSerializer
from board.access import access_board, access_member, may_take_seat_away
from board.actions.members import add_member, change_roles, remove_member
from board.models import Member
from board.models.member import ROLES


class RolesChange(Body):
    roles = serializers.ListField(child=serializers.ChoiceField(ROLES), min_length=1, max_length=len(ROLES))


class NewMember(RolesChange):
    username = serializers.CharField(max_length=150)


class MemberSerializer(serializers.ModelSerializer):
    user = PersonSerializer()
    roles = serializers.ListField(child=serializers.ChoiceField(ROLES))

    class Meta:
        model = Member
        fields = ["id", "user", "roles", "joined_at"]


class BoardMembers(Endpoint):
    shape = MemberSerializer
    lists = True
    reach = access_board
    needs = {"POST": may_change_members}
    bodies = {"POST": NewMember}
    makes = "member"

    def get(self, request: Request, pk: int) -> Response:
        return self.answer_page(Member.objects.filter(board=self.row).select_related("user"))

    def post(self, request: Request, pk: int) -> Response:
        return self.answer(add_member(seat=self.seat, **self.read_body()))


class OneMember(Endpoint):
    """What a person wrote and drew stays when they leave; anybody may, and those who give seats take them away."""

    shape = MemberSerializer
    reach = access_member
    needs = {"PATCH": may_change_members, "DELETE": may_take_seat_away}
    bodies = {"PATCH": RolesChange}

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)

    def patch(self, request: Request, pk: int) -> Response:
        return self.answer(change_roles(seat=self.seat, member=self.row, roles=self.read_body().get("roles", self.row.roles)))

    def delete(self, request: Request, pk: int) -> Response:
        remove_member(seat=self.seat, member=self.row)
        return Response(status=204)
