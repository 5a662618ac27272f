from rest_framework.request import Request
from rest_framework.response import Response

from api.panels import PanelEndpoint
from board.access import access_panel, may_leave_alone, may_work_on
from board.actions.panels import leave_panel_alone


class LeftAlone(PanelEndpoint):
    """The distortion is meant: this check no longer looks at this panel, and what it said gets a stet."""

    reach = access_panel
    needs = {"PUT": may_leave_alone, "DELETE": may_work_on}
    versioned = ("PUT", "DELETE")
    statuses = {"DELETE": 200}

    def put(self, request: Request, pk: int, check: str) -> Response:
        return self._leave(check, is_left_alone=True)

    def delete(self, request: Request, pk: int, check: str) -> Response:
        return self._leave(check, is_left_alone=False)

    def _leave(self, check: str, is_left_alone: bool) -> Response:
        version = self.version_named()
        panel = leave_panel_alone(
            seat=self.seat, panel=self.row, check_id=check, is_left_alone=is_left_alone, expected_version=version
        )
        return self.answer(panel)
