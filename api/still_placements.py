from typing import Any

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.given_perspectives import place
from api.panels import OfRevision, PanelEndpoint
from board.access import access_panel, may_work_on
from board.actions.still_places import place_still


def pair(help_text: str, **options: Any) -> serializers.ListField:
    return serializers.ListField(child=place(), min_length=2, max_length=2, help_text=help_text, **options)


class StillPlacementBody(OfRevision):
    in_still = pair("Two points of the still, in its own coordinates.")
    on_page = pair("The same two points as the panel shows them, in page coordinates.")


class StillPlacement(PanelEndpoint):
    """Where its still lies under it: two points of the one that are two points of the other."""

    reach = access_panel
    needs = {"PUT": may_work_on, "DELETE": may_work_on}
    bodies = {"PUT": StillPlacementBody}
    versioned = ("PUT", "DELETE")
    statuses = {"DELETE": 200}

    def put(self, request: Request, pk: int) -> Response:
        version = self.version_named()
        points = dict(self.read_body())
        revision = self.revision_named(points.pop("revision", None))
        return self.answer(place_still(seat=self.seat, panel=self.row, points=points, expected_version=version, revision=revision))

    def delete(self, request: Request, pk: int) -> Response:
        version = self.version_named()
        return self.answer(place_still(seat=self.seat, panel=self.row, points=None, expected_version=version))
