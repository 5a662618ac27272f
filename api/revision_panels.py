from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body, PolygonField
from api.revisions import RevisionEndpoint
from board.access import access_revision, may_work_on
from board.actions.panels import correct_panels


class CorrectedPanel(Body):
    id = serializers.IntegerField(required=False, min_value=1, allow_null=True, help_text="Without it, it is a new panel.")
    polygon = PolygonField()
    framed = serializers.BooleanField(required=False)


class Correction(Body):
    panels = CorrectedPanel(many=True, help_text="In reading order; those that are left out are gone from this revision.")


class RevisionPanels(RevisionEndpoint):
    """The frames of a revision as a person set them. If-Match names the version of its page, and ETag answers with the next."""

    reach = access_revision
    needs = {"PUT": may_work_on}
    bodies = {"PUT": Correction}
    versioned = ("PUT",)
    guards = "pages"

    def put(self, request: Request, pk: int) -> Response:
        version = self.version_named(self.row.page)
        correct_panels(seat=self.seat, revision=self.row, panels=self.read_body()["panels"], expected_version=version)
        return self.answer(self.row)
