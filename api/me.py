from typing import Any

from django.contrib.auth import get_user_model
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.endpoint import Endpoint
from api.people import PersonSerializer
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


class Me(Endpoint):
    """Who is signed in, and on which boards."""

    shape = MeSerializer

    def get(self, request: Request) -> Response:
        return self.answer(request.user)
