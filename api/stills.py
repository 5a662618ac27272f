from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.panels import PanelEndpoint
from board.access import access_panel, may_work_on
from board.actions.references import tie_still
from board.errors import NotValid
from board.models import Reference


class StillChoice(Body):
    reference = serializers.IntegerField(min_value=1)


class Still(PanelEndpoint):
    """The one picture that is shown beside the panel."""

    reach = access_panel
    needs = {"PUT": may_work_on, "DELETE": may_work_on}
    bodies = {"PUT": StillChoice}
    versioned = ("PUT", "DELETE")
    statuses = {"DELETE": 200}

    def put(self, request: Request, pk: int) -> Response:
        version = self.version_named()
        still = Reference.objects.filter(board=self.seat.board, pk=self.read_body()["reference"]).first()
        if still is None:
            raise NotValid("There is no such reference on this board.")
        return self.answer(tie_still(seat=self.seat, panel=self.row, still=still, expected_version=version))

    def delete(self, request: Request, pk: int) -> Response:
        version = self.version_named()
        return self.answer(tie_still(seat=self.seat, panel=self.row, still=None, expected_version=version))
