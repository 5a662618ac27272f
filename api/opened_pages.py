"""Pages of an assignment that its instructor opened to the class: the picture alone, without a name or a title."""

from typing import Any

from django.http.response import HttpResponseBase
from django.urls import reverse
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.endpoint import Endpoint
from api.picture_answers import WEBP, AnyAccept, rendition
from board.access import access_assignment, access_opened_picture, opened_pages, signed_in
from board.models import Page

SHOWN_PX = 1200


class OpenedPageSerializer(serializers.Serializer):
    place = serializers.IntegerField()
    stage = serializers.CharField()
    picture = serializers.CharField()
    page = serializers.IntegerField(allow_null=True, help_text="For instructors, who can close it again.")
    student = serializers.CharField(allow_null=True, help_text="For instructors.")


class AssignmentOpenedPages(Endpoint):
    shape = OpenedPageSerializer
    pagination_class = None
    lists = True
    reach = access_assignment

    def get(self, request: Request, pk: int) -> Response:
        pages = opened_pages(self.row).order_by("pk").select_related("board__work__enrolment__user")
        return Response(self.show([self._page(place, page) for place, page in enumerate(pages, 1)]))

    def _page(self, place: int, page: Page) -> dict[str, Any]:
        told = {"page": page.pk, "student": page.board.work.enrolment.shown_name}
        picture = reverse("api:assignment-opened-page", args=[self.row.pk, place, SHOWN_PX])
        shown = {"place": place, "stage": page.stage, "picture": picture}
        return {**shown, **(told if self.seat.instructs else dict.fromkeys(told))}


class OpenedPageRendition(Endpoint):
    content_negotiation_class = AnyAccept
    media_types = (WEBP,)
    reach = access_assignment

    def get(self, request: Request, pk: int, place: int, nominal_px: int) -> HttpResponseBase:
        _, revision = access_opened_picture(signed_in(request), pk, place)
        response = rendition(request, revision.picture, nominal_px)
        response["Cache-Control"] = "private, no-cache"  # another page may stand at this place tomorrow
        return response
