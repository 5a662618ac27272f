"""A critique, as each side reads it: its writer knows the work by a label, whose work it is reads no name, instructors see both."""

from typing import Any

from django.http.response import HttpResponseBase
from django.urls import reverse
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import REGION, Body, RegionField, json_field
from api.endpoint import Endpoint
from api.picture_answers import WEBP, AnyAccept, rendition
from board.access import (
    ClassSeat,
    access_assignment,
    access_critique,
    access_critique_picture,
    is_about_own_work,
    sees_picture,
    signed_in,
    visible_critiques,
    writes_it,
)
from board.actions.critique_notes import pen_name_of
from board.actions.critiques import send_critique, take_back_critique, what_lacks, write_points
from board.models import Critique, Revision
from board.models.critique import POINT_KINDS
from board.stages.order import STAGES

LONGEST_WORDS, MOST_POINTS, SHOWN_PX = 5000, 40, 1200
TEXT, NUMBER = {"type": "string"}, {"type": ["integer", "null"]}
POINT = {
    "type": "object", "required": ["kind", "body", "why", "how", "page", "region", "criterion"],
    "properties": {"kind": {"type": "string", "enum": list(POINT_KINDS)}, "body": TEXT, "why": TEXT, "how": TEXT, "page": NUMBER,
                   "region": {"oneOf": [*REGION["oneOf"], {"type": "null"}]}, "criterion": NUMBER},
}


class NewPoint(Body):
    kind = serializers.ChoiceField(POINT_KINDS, help_text="What works, what to change, or a question.")
    body = serializers.CharField(max_length=LONGEST_WORDS, allow_blank=True)
    why = serializers.CharField(max_length=LONGEST_WORDS, required=False, allow_blank=True)
    how = serializers.CharField(max_length=LONGEST_WORDS, required=False, allow_blank=True)
    page = serializers.IntegerField(min_value=1, required=False, allow_null=True)
    region = RegionField(required=False, allow_null=True)
    criterion = serializers.IntegerField(min_value=1, required=False, allow_null=True)


class Points(Body):
    points = serializers.ListField(child=NewPoint(), max_length=MOST_POINTS)


class CritiquePageSerializer(serializers.Serializer):
    page = serializers.IntegerField()
    width_px = serializers.IntegerField(allow_null=True)
    height_px = serializers.IntegerField(allow_null=True)
    picture = serializers.CharField(allow_null=True, help_text="None where it may not be fetched: a critic sees no withdrawn one.")
    is_withdrawn = serializers.BooleanField(help_text="Its artist took it back after the round began.")


class CritiqueSerializer(serializers.ModelSerializer):
    """Of the other side, no name, no number of theirs, no time."""

    assignment = serializers.IntegerField(source="round.assignment_id")
    stage = serializers.ChoiceField(STAGES, source="round.stage")
    side = serializers.SerializerMethodField()
    due_at = serializers.DateTimeField(source="round.due_at")
    delivered_at = serializers.DateTimeField(source="round.delivered_at", allow_null=True)
    is_sent = serializers.SerializerMethodField()
    lacks = serializers.SerializerMethodField(help_text="What it needs before it can be sent.")
    written_by = serializers.SerializerMethodField()
    is_anonymous = serializers.BooleanField(source="round.is_anonymous")
    signed_as = serializers.SerializerMethodField(help_text="What stands for its writer's name before whose work it is about.")
    about = serializers.SerializerMethodField(help_text="For instructors: whose work it is; null once that is deleted.")
    pages = serializers.SerializerMethodField()
    points = json_field({"type": "array", "items": POINT})

    class Meta:
        model = Critique
        fields = ["id", "assignment", "round", "stage", "side", "label", "due_at", "delivered_at", "is_sent", "lacks", "written_by",
                  "is_anonymous", "signed_as", "about", "pages", "points"]

    @property
    def seat(self) -> ClassSeat:
        return self.context["seat"]

    def get_side(self, critique: Critique) -> serializers.ChoiceField(["writes", "receives", "instructs"]):  # type: ignore[valid-type]
        if self.seat.instructs:
            return "instructs"
        return "writes" if writes_it(self.seat, critique) else "receives"

    def get_is_sent(self, critique: Critique) -> bool:
        return critique.sent_at is not None

    def get_lacks(self, critique: Critique) -> str:
        return what_lacks(critique.points)

    def get_written_by(self, critique: Critique) -> str:
        if self.seat.instructs:
            return critique.critic.shown_name if critique.critic else ""
        return "you" if writes_it(self.seat, critique) else pen_name_of(critique.round, critique)

    def get_signed_as(self, critique: Critique) -> str:
        return pen_name_of(critique.round, critique)

    def get_about(self, critique: Critique) -> str | None:
        if is_about_own_work(self.seat, critique):
            return "you"
        return critique.work.enrolment.shown_name if self.seat.instructs and critique.work else None

    def get_pages(self, critique: Critique) -> CritiquePageSerializer(many=True):  # type: ignore[valid-type]
        return [self._page(critique, one) for one in critique.pages]

    def _page(self, critique: Critique, one: dict[str, int]) -> dict[str, Any]:
        """To its critic a deleted work reads as one that was withdrawn: whose it was is not told by their leaving."""
        revision: Revision | None = self.context["revisions"].get(one["revision"])
        picture = revision.picture if revision and sees_picture(self.seat, critique, revision) else None
        return {
            "page": one["page"], "width_px": picture and picture.width_px, "height_px": picture and picture.height_px,
            "is_withdrawn": revision is None or revision.withdrawn_at is not None,
            "picture": reverse("api:critique-page", args=[critique.pk, one["page"], SHOWN_PX]) if picture else None,
        }


class CritiqueEndpoint(Endpoint):
    shape = CritiqueSerializer

    def show(self, rows: Any) -> list[dict]:
        shown = [one["revision"] for row in rows for one in row.pages]
        context = {"seat": self.seat, "revisions": Revision.objects.select_related("picture").in_bulk(shown)}
        return list(CritiqueSerializer(rows, many=True, context=context).data)

    def again(self) -> Response:
        """As it is after the change, read through the same eyes."""
        _, self.row = access_critique(signed_in(self.request), self.row.pk)
        return self.answer(self.row)


class AssignmentCritiques(CritiqueEndpoint):
    """Those that one writes, and those that one was given; instructors see all."""

    lists = True
    reach = access_assignment

    def get(self, request: Request, pk: int) -> Response:
        critiques = visible_critiques(self.seat).filter(round__assignment=self.row)
        return self.answer_page(critiques.select_related("round", "critic__user", "work__enrolment__user"))


class OneCritique(CritiqueEndpoint):
    reach = access_critique

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)


class CritiquePoints(CritiqueEndpoint):
    """The whole critique, as far as it is written. Nobody else reads it before it is sent and delivered."""

    reach = access_critique
    needs = {"PUT": writes_it}
    bodies = {"PUT": Points}

    def put(self, request: Request, pk: int) -> Response:
        write_points(critique=self.row, **self.read_body())
        return self.again()


class CritiqueSending(CritiqueEndpoint):
    """Sent, it waits for the end of the round; until then it can be taken back."""

    reach = access_critique
    needs = {"PUT": writes_it, "DELETE": writes_it}
    statuses = {"DELETE": 200}

    def put(self, request: Request, pk: int) -> Response:
        send_critique(critique=self.row)
        return self.again()

    def delete(self, request: Request, pk: int) -> Response:
        take_back_critique(critique=self.row)
        return self.again()


class CritiquePage(Endpoint):
    """The picture of a page, as a copy that carries nothing of the file it was made from but the drawing."""

    content_negotiation_class = AnyAccept
    media_types = (WEBP,)
    reach = access_critique

    def get(self, request: Request, pk: int, page: int, nominal_px: int) -> HttpResponseBase:
        _, revision = access_critique_picture(signed_in(request), pk, page)
        return rendition(request, revision.picture, nominal_px)
