from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.endpoint import Endpoint
from api.invitations import ByLink, LinkEndpoint, LinkSecret, LinkSerializer, NewcomersAcceptance, NewLink, expires_at
from api.members import RolesChange
from api.needs import may_invite
from board.access import access_board, access_seat_invitation
from board.actions.expiring_links import take_back
from board.actions.seat_invitations import accept_seat_invitation, invite_to_seat, seat_that_opens, secret_of
from board.models import SeatInvitation
from board.models.member import ROLES


class NewSeatInvitation(RolesChange, NewLink):
    pass


class SeatInvitationSerializer(LinkSerializer):
    roles = serializers.ListField(child=serializers.ChoiceField(ROLES))

    class Meta:
        model = SeatInvitation
        fields = ["id", "board", "roles", "uses_left", "expires_at", "link"]

    @staticmethod
    def path(row: SeatInvitation) -> str:
        return f"/join-board#{secret_of(row)}"


class BoardInvitations(LinkEndpoint):
    """Links to a seat on the board. An expired one stands in the list until the next is made."""

    shape = SeatInvitationSerializer
    lists = True
    reach = access_board
    needs = {"GET": may_invite, "POST": may_invite}
    bodies = {"POST": NewSeatInvitation}

    def get(self, request: Request, pk: int) -> Response:
        return self.answer_page(SeatInvitation.objects.filter(board=self.row))

    def post(self, request: Request, pk: int) -> Response:
        body = self.read_body()
        return self.answer(invite_to_seat(seat=self.seat, expires_at=expires_at(body), **body))


class OneSeatInvitation(Endpoint):
    reach = access_seat_invitation

    def delete(self, request: Request, pk: int) -> Response:
        take_back(link=self.row)
        return Response(status=204)


class SeatOpenedSerializer(serializers.ModelSerializer):
    board_title = serializers.CharField(source="board.title")
    roles = serializers.ListField(child=serializers.ChoiceField(ROLES))

    class Meta:
        model = SeatInvitation
        fields = ["board_title", "roles"]


class SeatInvitationPreviews(ByLink):
    """Which board a link leads to, and as what, before it is taken up. The secret stands in no address, and so in no log."""

    shape = SeatOpenedSerializer
    bodies = {"POST": LinkSecret}
    statuses = {"POST": 200}

    def post(self, request: Request) -> Response:
        return self.answer(seat_that_opens(**self.read_body()))


class SeatAcceptedSerializer(serializers.Serializer):
    member = serializers.IntegerField(source="pk")
    board = serializers.IntegerField(source="board_id")
    username = serializers.CharField(source="user.username")


class SeatInvitationAcceptances(ByLink):
    """Takes an invitation to a board up: signed in, for oneself; else an account is made, with this password."""

    shape = SeatAcceptedSerializer
    bodies = {"POST": NewcomersAcceptance}

    def post(self, request: Request) -> Response:
        return self.answer(accept_seat_invitation(user=self.whoever, **self.read_body()))
