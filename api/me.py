from typing import Any

from django.contrib.auth import get_user_model, update_session_auth_hash
from django.contrib.auth.models import User
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.throttling import ScopedRateThrottle

from api.body import Body
from api.endpoint import Endpoint
from api.people import PersonSerializer
from board.access import signed_in
from board.actions.people import change_password, rename_person
from board.models import Member


class OwnBoardSerializer(serializers.ModelSerializer):
    id = serializers.IntegerField(source="board_id")
    title = serializers.CharField(source="board.title")
    roles = serializers.ListField(child=serializers.CharField())

    class Meta:
        model = Member
        fields = ["id", "title", "roles"]


class MeSerializer(PersonSerializer):
    boards = serializers.SerializerMethodField()

    class Meta:
        model = get_user_model()
        fields = ["id", "username", "name", "boards"]

    def get_boards(self, user: Any) -> OwnBoardSerializer(many=True):  # type: ignore[valid-type]
        return OwnBoardSerializer(user.memberships.select_related("board").order_by("board__title", "pk"), many=True).data


def _own(request: Request) -> User:
    person = signed_in(request)
    assert isinstance(person, User)
    return person


class OwnName(Body):
    name = serializers.CharField(max_length=150, allow_blank=True, help_text="As others read it; empty for the username.")


class Me(Endpoint):
    """Who is signed in, and on which boards; PATCH changes one's own name."""

    shape = MeSerializer
    bodies = {"PATCH": OwnName}

    def get(self, request: Request) -> Response:
        return self.answer(_own(request))

    def patch(self, request: Request) -> Response:
        return self.answer(rename_person(person=_own(request), **body) if (body := self.read_body()) else _own(request))


class NewPassword(Body):
    old = serializers.CharField(max_length=1000, trim_whitespace=False)
    new = serializers.CharField(max_length=1000, trim_whitespace=False)


class OwnPassword(Endpoint):
    """PUT changes one's own password. Whoever else is signed in with the old one is signed out, and tokens are taken back."""

    bodies = {"PUT": NewPassword}
    statuses = {"PUT": 204}
    throttle_classes = [ScopedRateThrottle]
    throttle_scope = "sign-in"

    def put(self, request: Request) -> Response:
        person = change_password(person=_own(request), **self.read_body())
        if request.auth is None:  # by a session: this one stays
            update_session_auth_hash(request._request, person)
        return Response(status=204)
