from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.endpoint import Endpoint
from api.landmarks_field import LandmarksField
from board.access import access_figure_proposal, access_revision, may_work_on, visible_pages
from board.actions.figure_proposals import answer_proposal
from board.models import FigureProposal
from board.models.figure_proposal import FOUND_BY, PROPOSAL_STATES


class ProposalAnswer(Body):
    state = serializers.ChoiceField(PROPOSAL_STATES, help_text="“proposed” takes an answer back.")


class FigureProposalSerializer(serializers.Serializer):
    """A figure marked elsewhere that seems to be drawn again here, or one marked here that was drawn anew on its own axis.
    Nothing is measured from it before it is confirmed."""

    id = serializers.IntegerField()
    revision = serializers.IntegerField(source="revision_id")
    panel = serializers.IntegerField(source="panel_id")
    character = serializers.IntegerField(source="source.character_id")
    source_figure = serializers.IntegerField(source="source_id", help_text="The figure that was marked.")
    source_page = serializers.IntegerField(source="source.page.number")
    source_panel = serializers.IntegerField(source="source.panel.order", default=None, allow_null=True)
    found_by = serializers.ChoiceField(FOUND_BY)
    marks = LandmarksField()
    doubts = serializers.DictField(child=serializers.FloatField())
    sure = serializers.FloatField(help_text="0 to 1: how much of the figure lies there.")
    state = serializers.ChoiceField(PROPOSAL_STATES)
    figure = serializers.IntegerField(source="became_id", allow_null=True, help_text="What it became, confirmed.")
    version = serializers.IntegerField()


class RevisionFigureProposals(Endpoint):
    """What was proposed on this picture, answered or not."""

    shape = FigureProposalSerializer
    lists = True
    queryset = FigureProposal.objects.none()
    ordering = ("pk",)
    reach = access_revision

    def get(self, request: Request, pk: int) -> Response:
        rows = FigureProposal.objects.filter(revision=self.row, source__page__in=visible_pages(self.seat))
        return self.answer_page(rows.select_related("source__page", "source__panel"))


class OneFigureProposal(Endpoint):
    """PATCH confirms it, refuses it for good, or takes that back."""

    shape = FigureProposalSerializer
    row: FigureProposal
    reach = access_figure_proposal
    needs = {"PATCH": may_work_on}
    bodies = {"PATCH": ProposalAnswer}
    versioned = ("PATCH",)

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)

    def patch(self, request: Request, pk: int) -> Response:
        version, state = self.version_named(), self.read_body()["state"]
        return self.answer(answer_proposal(seat=self.seat, proposal=self.row, state=state, expected_version=version))
