"""What every endpoint shares: who may reach it, what it takes, what it answers.

An endpoint states this as class attributes, so that the running code, the OpenAPI description and the permission table agree.
"""

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Any, ClassVar, NoReturn

from django.db.models import QuerySet
from django.urls import reverse
from rest_framework.exceptions import NotAuthenticated, UnsupportedMediaType
from rest_framework.generics import GenericAPIView
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer

from api.deadlocks import after_deadlocks
from api.endpoint_schema import EndpointSchema
from api.idempotency import answer_once
from api.if_match import version_after, version_named
from api.known_parameters import refuse_unknown_parameters
from api.sent_as import how_to_send
from api.token_authentication import how_to_sign_in
from board.access import Seat, require, signed_in
from board.actions.versions import entity_tag
from board.limited_upload import refuse_if_cut_off

WRITES = ("post", "put", "patch", "delete")
Need = Callable[[Any, Any], bool]  # (seat on the board or in the class, row)


class Endpoint(GenericAPIView):
    schema = EndpointSchema()

    # (user, pk) -> the seat, or (seat, row); raises NotFound where the person sees nothing.
    reach: ClassVar[Callable | None] = None
    # method -> what the person needs for it beyond seeing it
    needs: ClassVar[Mapping[str, Need]] = {}
    # method -> what it takes
    bodies: ClassVar[Mapping[str, type[BaseSerializer]]] = {}
    # what it answers
    shape: ClassVar[type[BaseSerializer] | None] = None
    statuses: ClassVar[Mapping[str, int]] = {"POST": 201, "DELETE": 204}
    # methods that have to name a version in If-Match: that of the row which the address begins with
    versioned: ClassVar[Sequence[str]] = ()
    # or of this one: "pages"
    guards: ClassVar[str] = ""
    # GET answers pages of many
    lists: ClassVar[bool] = False
    # route of what POST makes, for the header Location
    makes: ClassVar[str] = ""
    # False where POST sees to its Idempotency-Key itself
    answers_once: ClassVar[bool] = True

    seat: Any  # a Seat on a board, or a ClassSeat
    row: Any
    guarded: tuple[Any, int | None] | None = None  # the row whose version the request named, and that version

    def initial(self, request: Request, *args: Any, **kwargs: Any) -> None:
        super().initial(request, *args, **kwargs)
        if request.method != "OPTIONS":
            refuse_unknown_parameters(request, type(self))
        self.read_anew()
        method = (request.method or "").lower()
        if method in WRITES and hasattr(self, method):
            once = method == "post" and self.answers_once
            write = partial(answer_once, getattr(self, method)) if once else getattr(self, method)
            setattr(self, method, partial(after_deadlocks, self.read_anew, write))

    def read_anew(self) -> None:
        """The row that the address names, as it is now, with the seat of whoever asks. Raises NotFound or NotAllowed."""
        if reach := type(self).reach:
            reached = reach(signed_in(self.request), self.kwargs["pk"])
            self.seat, self.row = (reached, reached.board) if isinstance(reached, Seat) else reached
            if need := self.needs.get(self.request.method or ""):
                require(self.seat, need(self.seat, self.row))

    def options(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """What may be done here stands in the header Allow."""
        return Response(status=204)

    def permission_denied(self, request: Request, message: str | None = None, code: str | None = None) -> NoReturn:
        if request.authenticators and not request.successful_authenticator:
            raise NotAuthenticated(how_to_sign_in(request))
        super().permission_denied(request, message, code)

    def handle_exception(self, exc: Exception) -> Response:
        if isinstance(exc, UnsupportedMediaType):
            body = self.bodies.get(self.request.method or "")
            fields = getattr(body(), "fields", {}) if body else {}
            media_types = {parser.media_type for parser in self.parser_classes}
            exc = UnsupportedMediaType("", how_to_send(fields, media_types, self.request.content_type))
        return super().handle_exception(exc)

    def read_body(self) -> dict[str, Any]:
        """What was sent, checked. PATCH takes any part of it."""
        method = self.request.method or ""
        data = self.request.data
        refuse_if_cut_off(self.request)
        body = self.bodies[method](data=data, partial=method == "PATCH", context={"view": self})
        body.is_valid(raise_exception=True)
        return body.validated_data

    def version_named(self, row: Any = None) -> int | None:
        row = self.row if row is None else row
        version = version_named(self.request, row)
        self.guarded = (row, version)
        return version

    def show(self, rows: Sequence[Any]) -> list[dict]:
        assert self.shape is not None
        return list(self.shape(rows, many=True, context={"seat": getattr(self, "seat", None)}).data)

    def answer(self, row: Any) -> Response:
        return Response(self.show([row])[0], status=self.statuses.get(self.request.method or "", 200))

    def answer_page(self, rows: QuerySet) -> Response:
        page = self.paginate_queryset(self.filter_queryset(rows))
        return self.get_paginated_response(self.show(page or []))

    def finalize_response(self, request: Request, response: Any, *args: Any, **kwargs: Any) -> Any:
        data = getattr(response, "data", None)
        version = data.get("version") if isinstance(data, dict) else None
        if version is None and self.guarded is not None and response.status_code < 300:
            version = version_after(*self.guarded)
        if version is not None:
            response["ETag"] = entity_tag(version)
        if response.status_code == 201 and self.makes and data:
            response["Location"] = reverse(f"api:{self.makes}", args=[data["id"]])
        return super().finalize_response(request, response, *args, **kwargs)
