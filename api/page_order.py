from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.endpoint import Endpoint
from api.needs import may_run_board
from api.pages import PageEndpoint
from board.access import access_board, access_page
from board.actions.page_order import close_gaps, place_page, renumber_pages
from board.errors import NotValid
from board.models import Page


class Place(Body):
    before = serializers.IntegerField(min_value=1, allow_null=True, help_text="A page of the board; null puts it at the end.")


class PagePlace(PageEndpoint):
    """Where the page stands in the comic: before another, or at the end. The pages between close up."""

    reach = access_page
    needs = {"PUT": may_run_board}
    bodies = {"PUT": Place}
    versioned = ("PUT",)

    def put(self, request: Request, pk: int) -> Response:
        version, before = self.version_named(), self.read_body()["before"]
        other = Page.objects.filter(board=self.seat.board, pk=before).first()
        if before is not None and other is None:
            raise NotValid("There is no such page on this board.")
        return self.answer(place_page(seat=self.seat, page=self.row, before=other, expected_version=version))


class Renumbering(Body):
    first = serializers.IntegerField(min_value=1, max_value=9999, required=False, help_text="Number of a page.")
    to = serializers.IntegerField(min_value=1, max_value=9999, required=False, help_text="Its new one; those after it move along.")
    close_gaps = serializers.BooleanField(required=False, help_text="Instead: 1, 2, 3… in the order they have.")

    def validate(self, attrs: dict) -> dict:
        if bool(attrs.get("close_gaps")) == ("first" in attrs and "to" in attrs):
            raise serializers.ValidationError("Name `first` and `to`, or `close_gaps`.")
        return attrs


class RenumberedSerializer(serializers.Serializer):
    pages = serializers.IntegerField(help_text="So many got another number.")


class BoardRenumberings(Endpoint):
    """Other numbers for a page and all after it, or for all."""

    shape = RenumberedSerializer
    reach = access_board
    needs = {"POST": may_run_board}
    bodies = {"POST": Renumbering}

    def post(self, request: Request, pk: int) -> Response:
        body = self.read_body()
        if body.get("close_gaps"):
            return self.answer({"pages": close_gaps(seat=self.seat)})
        return self.answer({"pages": renumber_pages(seat=self.seat, first=body["first"], to=body["to"])})
