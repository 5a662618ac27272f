from collections.abc import Sequence

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.endpoint import Endpoint
from api.finite_number import FiniteNumber
from api.landmarks_field import LandmarksField
from board.access import access_figure, access_revision, may_work_on, visible_revisions
from board.actions.figures import change_figure, mark_figure, remove_figure
from board.errors import NotValid
from board.models import Figure, FigurePlace, Revision
from board.models.figure import FIGURE_VIEWS, PLACED_BY, POSES

DOUBTS = serializers.DictField(
    child=FiniteNumber(min_value=0, max_value=1), required=False,
    help_text="1 sigma of pointing at a mark, as a share of the picture's width; else the board's tolerance holds.",
)


class FigureFields(Body):
    panel = serializers.IntegerField(min_value=1, required=False)
    pose = serializers.ChoiceField(POSES, required=False)
    view = serializers.ChoiceField(FIGURE_VIEWS, required=False, allow_blank=True)
    ground_offset_m = FiniteNumber(
        min_value=-1000, max_value=1000, required=False, allow_null=True,
        help_text="The floor under the soles, over the panel's ground.",
    )


class NewFigure(FigureFields):
    character = serializers.IntegerField(min_value=1)
    marks = LandmarksField(help_text="Crown and soles at least.")
    doubts = DOUBTS


class FigureChange(FigureFields):
    character = serializers.IntegerField(min_value=1, required=False)
    revision = serializers.IntegerField(min_value=1, required=False, help_text="That the marks are of; else the newest.")
    marks = LandmarksField(required=False)
    doubts = DOUBTS


class FigureSerializer(serializers.Serializer):
    """A figure as it stands on one revision; `reason` says why its marks could not be carried there."""

    id = serializers.IntegerField(source="figure_id")
    revision = serializers.IntegerField(source="revision_id")
    page = serializers.IntegerField(source="figure.page_id")
    panel = serializers.IntegerField(source="figure.panel_id", allow_null=True)
    character = serializers.IntegerField(source="figure.character_id")
    marks = LandmarksField()
    doubts = serializers.DictField(child=serializers.FloatField())
    pose = serializers.ChoiceField(POSES, source="figure.pose")
    view = serializers.CharField(source="figure.view")
    ground_offset_m = serializers.FloatField(source="figure.ground_offset_m", allow_null=True)
    placed_by = serializers.ChoiceField(PLACED_BY)
    reason = serializers.CharField()
    version = serializers.IntegerField(source="figure.version")


class FigureEndpoint(Endpoint):
    shape = FigureSerializer

    def show(self, rows: Sequence[FigurePlace]) -> list[dict]:
        return list(FigureSerializer(rows, many=True).data)


class RevisionFigures(FigureEndpoint):
    """The marked figures of a picture: crown and soles at least, tied to a character of the cast."""

    lists = True
    queryset = FigurePlace.objects.none()
    ordering = ("figure", "pk")
    reach = access_revision
    needs = {"POST": may_work_on}
    bodies = {"POST": NewFigure}
    makes = "figure"

    def get(self, request: Request, pk: int) -> Response:
        return self.answer_page(FigurePlace.objects.filter(revision=self.row).select_related("figure"))

    def post(self, request: Request, pk: int) -> Response:
        figure = mark_figure(seat=self.seat, revision=self.row, **self.read_body())
        return self.answer(FigurePlace.objects.select_related("figure").get(figure=figure, revision=self.row))


class OneFigure(FigureEndpoint):
    """As it stands on the newest picture that has it."""

    row: Figure
    reach = access_figure
    needs = {"PATCH": may_work_on, "DELETE": may_work_on}
    bodies = {"PATCH": FigureChange}
    versioned = ("PATCH",)

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self._place())

    def patch(self, request: Request, pk: int) -> Response:
        version, body = self.version_named(), self.read_body()
        revision = self._revision(body.pop("revision", None))
        change_figure(seat=self.seat, figure=self.row, revision=revision, expected_version=version, **body)
        return self.answer(self._place(revision))

    def delete(self, request: Request, pk: int) -> Response:
        remove_figure(seat=self.seat, figure=self.row)
        return Response(status=204)

    def _revision(self, named: int | None) -> Revision:
        if named is None:
            return self._place().revision
        revision = visible_revisions(self.seat).filter(page=self.row.page_id, pk=named).select_related("page", "picture").first()
        if revision is None:
            raise NotValid("There is no such picture of this page.")
        return revision

    def _place(self, revision: Revision | None = None) -> FigurePlace:
        places = FigurePlace.objects.filter(figure=self.row, revision__in=visible_revisions(self.seat))
        places = places.select_related("figure", "revision__page", "revision__picture").order_by("-revision__number")
        place = (places.filter(revision=revision) if revision else places).first() or places.first()
        if place is None:
            raise NotValid("This figure stands on no picture that you see.")
        return place
