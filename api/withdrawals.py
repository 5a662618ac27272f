from rest_framework.request import Request
from rest_framework.response import Response

from api.revisions import RevisionEndpoint
from board.access import access_revision, may_work_on
from board.actions.revisions import restore_revision, withdraw_revision


class Withdrawal(RevisionEndpoint):
    """A withdrawn revision is kept and no longer shown; taking the withdrawal back shows it again."""

    reach = access_revision
    needs = {"PUT": may_work_on, "DELETE": may_work_on}
    statuses = {"DELETE": 200}

    def put(self, request: Request, pk: int) -> Response:
        return self.answer(withdraw_revision(seat=self.seat, revision=self.row))

    def delete(self, request: Request, pk: int) -> Response:
        return self.answer(restore_revision(seat=self.seat, revision=self.row))
