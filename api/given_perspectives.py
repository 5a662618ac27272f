from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.finite_number import FiniteNumber
from api.panels import OfRevision, PanelEndpoint
from board.access import access_panel, may_work_on
from board.actions.given_perspectives import set_given_perspective

MOST_POINTS = 3
FURTHEST = 1000.0  # pages


def place() -> serializers.ListField:
    """A point in page coordinates that may lie far outside the page."""
    number = FiniteNumber(min_value=-FURTHEST, max_value=FURTHEST)
    return serializers.ListField(child=number, min_length=2, max_length=2)


def edge(required: bool = True) -> serializers.ListField:
    return serializers.ListField(child=place(), min_length=2, max_length=2, required=required)


class GivenBody(OfRevision):
    eye_level = edge(required=False)
    points = serializers.ListField(
        child=place(), required=False, max_length=MOST_POINTS, help_text="Where lines of one direction meet."
    )
    parallel_edges = serializers.ListField(
        child=edge(), required=False, min_length=2, max_length=2, help_text="Two edges that run side by side in the set."
    )


class GivenPerspective(PanelEndpoint):
    """Its perspective as set by hand: the solve takes it as so, and says so."""

    reach = access_panel
    needs = {"PUT": may_work_on, "DELETE": may_work_on}
    bodies = {"PUT": GivenBody}
    versioned = ("PUT", "DELETE")
    statuses = {"DELETE": 200}

    def put(self, request: Request, pk: int) -> Response:
        version = self.version_named()
        given = dict(self.read_body())
        revision = self.revision_named(given.pop("revision", None))
        return self.answer(set_given_perspective(
            seat=self.seat, panel=self.row, given=given, expected_version=version, revision=revision,
        ))

    def delete(self, request: Request, pk: int) -> Response:
        version = self.version_named()
        return self.answer(set_given_perspective(seat=self.seat, panel=self.row, given=None, expected_version=version))
