from drf_spectacular.utils import OpenApiParameter
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.endpoint import Endpoint
from api.panels import OfRevision, revision_of_page
from api.still_placements import pair
from board.access import access_panel, may_work_on
from board.actions.still_search import search_still, still_search_of
from board.errors import NotFound
from board.models import Job, Revision
from board.models.job import JOB_STATES


class StillSearchSerializer(serializers.ModelSerializer):
    """Two points to confirm, once it is `done`; where nothing is sure it is `not_measured`, with the reason."""

    state = serializers.ChoiceField(JOB_STATES)
    in_still = pair("Two points of the still, in its own coordinates.", allow_null=True)
    on_page = pair("The same two points as the panel shows them, in page coordinates.", allow_null=True)

    class Meta:
        model = Job
        fields = ["state", "reason", "in_still", "on_page"]

    def to_representation(self, job: Job) -> dict:
        points = {name: job.numbers.get(name) for name in ("in_still", "on_page")} if job.state == "done" else {}
        return {"state": job.state, "reason": job.reason, "in_still": None, "on_page": None, **points}


class StillSearch(Endpoint):
    """A worker looks for where the still lies under the panel's drawing. Nothing is placed by it: that takes a person."""

    shape = StillSearchSerializer
    reach = access_panel
    needs = {"POST": may_work_on}
    bodies = {"POST": OfRevision}
    parameters = {"GET": [OpenApiParameter("revision", int, description="Of which it was asked; else of the page as it stands.")]}

    def get(self, request: Request, pk: int) -> Response:
        revision = self._revision(request.query_params.get("revision"))
        if (job := still_search_of(self.row, revision)) is None:
            raise NotFound("Nobody has asked for this, or the pictures have changed since.")
        return self.answer(job)

    def post(self, request: Request, pk: int) -> Response:
        revision = self._revision(self.read_body().get("revision"))
        return self.answer(search_still(seat=self.seat, panel=self.row, revision=revision))

    def _revision(self, named: str | int | None) -> Revision | None:
        number = serializers.IntegerField(min_value=1).run_validation(named) if named is not None else None
        return revision_of_page(self.seat, self.row.page_id, number)
