from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.endpoint import Endpoint
from api.pages import PageEndpoint
from api.panels import PanelEndpoint
from board.access import access_page, access_panel, may_work_on
from board.actions.alternates import choose_alternate


class AlternateChoice(Body):
    alternate = serializers.RegexField(r"^[A-Z]{1,2}$")


class ChosenAlternate(Endpoint):
    needs = {"PUT": may_work_on}
    bodies = {"PUT": AlternateChoice}
    versioned = ("PUT",)

    def put(self, request: Request, pk: int) -> Response:
        version = self.version_named()
        return self.answer(choose_alternate(seat=self.seat, subject=self.row, expected_version=version, **self.read_body()))


class PageChosenAlternate(ChosenAlternate, PageEndpoint):
    """One of several tries becomes the page's; the others are kept."""

    reach = access_page


class PanelChosenAlternate(ChosenAlternate, PanelEndpoint):
    reach = access_panel
