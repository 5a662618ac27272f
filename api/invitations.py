from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any, ClassVar

from django.contrib.auth.models import AbstractBaseUser
from django.utils import timezone
from rest_framework import serializers
from rest_framework.permissions import AllowAny, BasePermission
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.throttling import SimpleRateThrottle
from rest_framework.views import APIView

from api.body import Body
from api.endpoint import Endpoint
from api.needs import instructs
from board.access import access_class, access_invitation
from board.actions.expiring_links import take_back
from board.actions.invitations import accept_invitation, invite, secret_of, what_it_opens
from board.models import Invitation
from board.models.enrolment import PLACES
from board.models.expiring_link import ExpiringLink

MOST_DAYS, USUAL_DAYS = 90, 14


class LinkDays(Body):
    days = serializers.IntegerField(min_value=1, max_value=MOST_DAYS, required=False, help_text="That links hold.")


def expires_at(body: dict) -> datetime:
    return timezone.now() + timedelta(days=body.pop("days", USUAL_DAYS))


class NewLink(LinkDays):
    uses = serializers.IntegerField(min_value=1, max_value=500, required=False)


class NewInvitation(NewLink):
    place = serializers.ChoiceField(PLACES, required=False)


class LinkSerializer(serializers.ModelSerializer):
    link = serializers.SerializerMethodField(help_text="Path on this server; only GET tells it.")
    path: ClassVar[Callable[[Any], str]]

    def get_link(self, row: ExpiringLink) -> str | None:
        """Not in the answer of a POST: those are kept for whoever sends the same again."""
        return type(self).path(row) if self.context.get("tells_links") else None


class InvitationSerializer(LinkSerializer):
    place = serializers.ChoiceField(PLACES)

    class Meta:
        model = Invitation
        fields = ["id", "school_class", "place", "username", "name", "alias", "is_minor", "uses_left", "expires_at", "link"]

    @staticmethod
    def path(row: Invitation) -> str:
        return f"/join#{secret_of(row)}"


class LinkEndpoint(Endpoint):
    def show(self, rows: object) -> list[dict]:
        shape = type(self).shape
        assert shape is not None
        return list(shape(rows, many=True, context={"tells_links": self.request.method == "GET"}).data)


class ClassInvitations(LinkEndpoint):
    """Links into the class. An expired one stands in the list until the next is made."""

    shape = InvitationSerializer
    lists = True
    reach = access_class
    needs = {"GET": instructs, "POST": instructs}
    bodies = {"POST": NewInvitation}

    def get(self, request: Request, pk: int) -> Response:
        return self.answer_page(Invitation.objects.filter(school_class=self.row))

    def post(self, request: Request, pk: int) -> Response:
        body = self.read_body()
        return self.answer(invite(seat=self.seat, expires_at=expires_at(body), **body))


class OneInvitation(Endpoint):
    reach = access_invitation

    def delete(self, request: Request, pk: int) -> Response:
        take_back(link=self.row)
        return Response(status=204)


class LinkSecret(Body):
    secret = serializers.CharField(max_length=200, help_text="What stands behind the # of the link.")


class NewcomersAcceptance(LinkSecret):
    username = serializers.CharField(max_length=150, required=False, allow_blank=True)
    password = serializers.CharField(max_length=1000, required=False, trim_whitespace=False)
    name = serializers.CharField(max_length=150, required=False, allow_blank=True)


class Acceptance(NewcomersAcceptance):
    alias = serializers.CharField(max_length=60, required=False, allow_blank=True)
    is_minor = serializers.BooleanField(required=False)


class LinkThrottle(SimpleRateThrottle):
    """A link is signed, and not to be guessed; but a whole class opens it at once, from the one address of its school."""

    scope, rate = "link", "600/min"

    def get_cache_key(self, request: Request, view: APIView) -> str:
        return self.cache_format % {"scope": self.scope, "ident": self.get_ident(request)}


class ByLink(Endpoint):
    """For whoever has the link, signed in or not: what it carries decides."""

    throttle_classes = [LinkThrottle]
    answers_once = False  # a link is used once anyhow

    def get_permissions(self) -> list[BasePermission]:
        return [AllowAny()]

    @property
    def whoever(self) -> AbstractBaseUser | None:
        return self.request.user if isinstance(self.request.user, AbstractBaseUser) else None


class OpenedSerializer(serializers.ModelSerializer):
    class_title = serializers.CharField(source="school_class.title")
    username = serializers.CharField(help_text="What its one person will sign in as; empty where whoever has the link chooses.")

    class Meta:
        model = Invitation
        fields = ["class_title", "username", "alias", "is_minor"]


class InvitationPreviews(ByLink):
    """What an invitation opens, and for whom, before it is taken up. The secret stands in no address, and so in no log."""

    shape = OpenedSerializer
    bodies = {"POST": LinkSecret}
    statuses = {"POST": 200}

    def post(self, request: Request) -> Response:
        return self.answer(what_it_opens(**self.read_body()))


class AcceptedSerializer(serializers.Serializer):
    enrolment = serializers.IntegerField(source="pk")
    school_class = serializers.IntegerField(source="school_class_id")
    username = serializers.CharField(source="user.username")


class InvitationAcceptances(ByLink):
    """Takes an invitation up: signed in, for oneself; else an account is made, with this password."""

    shape = AcceptedSerializer
    bodies = {"POST": Acceptance}

    def post(self, request: Request) -> Response:
        return self.answer(accept_invitation(user=self.whoever, **self.read_body()))
