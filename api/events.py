"""The log of a board: as JSON for scripts, `?after=`; as Server-Sent Events for browsers, `Accept: text/event-stream`."""

from typing import Any

from django.db import connection
from django.http import StreamingHttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter
from rest_framework import serializers
from rest_framework.exceptions import NotAcceptable
from rest_framework.renderers import BaseRenderer, JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response

from api.endpoint import Endpoint
from api.endpoint_schema import EndpointSchema
from api.event_reading import MOST_AT_ONCE, EventSerializer, events_after
from api.event_stream import follow
from api.paging import limit_named
from api.sign_in_watch import SignIn
from board.access import access_board, signed_in
from board.errors import NotValid

LARGEST_NUMBER = 2**63 - 1


class EventsSerializer(serializers.Serializer):
    results = EventSerializer(many=True)
    last = serializers.IntegerField(help_text="All up to this number is told; ask for what comes after it.")


class EventStreamRenderer(BaseRenderer):
    """Only its name is used: a stream is sent as it comes."""

    media_type = "text/event-stream"
    format = "event-stream"

    def render(self, data: Any, accepted_media_type: str | None = None, renderer_context: Any = None) -> bytes:
        raise NotImplementedError


class EventsSchema(EndpointSchema):
    def _media_answers(self, status: int) -> dict:
        return {(status, JSONRenderer.media_type): EventsSerializer, (status, EventStreamRenderer.media_type): OpenApiTypes.STR}


class BoardEvents(Endpoint):
    """What happened on the board, in order, as far as you may see it."""

    schema = EventsSchema()
    shape = EventsSerializer
    reach = access_board
    renderer_classes = [JSONRenderer, EventStreamRenderer]
    parameters = {
        "GET": (
            OpenApiParameter("after", {"type": "integer", "minimum": 0, "maximum": LARGEST_NUMBER}),
            OpenApiParameter("limit", {"type": "integer", "minimum": 1, "maximum": MOST_AT_ONCE}),
            OpenApiParameter(
                "Last-Event-ID", {"type": "integer", "minimum": 0, "maximum": LARGEST_NUMBER}, OpenApiParameter.HEADER,
                description="Where a stream goes on; browsers send it when they connect again.",
            ),
        )
    }

    def get(self, request: Request, pk: int) -> Response | StreamingHttpResponse:
        if request.accepted_renderer.format == EventStreamRenderer.format:
            return self._stream(request)
        after = _number(request.query_params.get("after", "0"), "after")
        events, last = events_after(self.seat, after, limit_named(request, MOST_AT_ONCE, MOST_AT_ONCE))
        return Response({"results": EventSerializer(events, many=True).data, "last": last})

    def _stream(self, request: Request) -> StreamingHttpResponse:
        if not hasattr(request._request, "scope"):
            raise NotAcceptable("This server process does not stream; ask for JSON, with ?after=.")
        start = request.headers.get("Last-Event-ID") or request.query_params.get("after")
        after = self.row.events_so_far if start is None else _number(start, "Last-Event-ID")
        stream = follow(user_id=signed_in(request).pk, board_id=self.row.pk, after=after, sign_in=SignIn.of(request))
        if not connection.in_atomic_block:
            connection.close()  # else every open stream would hold one
        headers = {"Cache-Control": "no-store", "X-Accel-Buffering": "no"}
        return StreamingHttpResponse(stream, content_type=EventStreamRenderer.media_type, headers=headers)


def _number(text: object, name: str) -> int:
    try:
        number = int(str(text))
    except ValueError:
        number = -1
    if not 0 <= number <= LARGEST_NUMBER:
        raise NotValid(errors={name: ["This is the number of an event."]})
    return number
