from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.endpoint import Endpoint
from board.access import access_panel, may_work_on, visible_pages
from board.actions.same_as import declare_same_as, refuse_same_as
from board.models import Panel, SameAs
from board.models.same_as import SAME_AS_STATES


class SameAsSerializer(serializers.Serializer):
    panel = serializers.IntegerField(source="panel_id")
    model = serializers.IntegerField(source="model_id", help_text="The panel whose drawing is taken over.")
    page = serializers.IntegerField(source="model.page_id")
    page_number = serializers.IntegerField(source="model.page.number")
    page_numbers = serializers.ListField(child=serializers.IntegerField(), source="model.page.numbers")
    order = serializers.IntegerField(source="model.order")
    state = serializers.ChoiceField(SAME_AS_STATES)
    said_at = serializers.DateTimeField()
    version = serializers.IntegerField(source="panel.version", help_text="Of the panel.")


class PanelSameAs(Endpoint):
    """The panels that this one was declared, proposed or refused to be the same as."""

    shape = SameAsSerializer
    lists = True
    queryset = SameAs.objects.none()
    ordering = ("pk",)
    reach = access_panel

    def get(self, request: Request, pk: int) -> Response:
        rows = SameAs.objects.filter(panel=self.row, model__page__in=visible_pages(self.seat))
        return self.answer_page(rows.select_related("panel", "model__page"))


class OneSameAs(Endpoint):
    """PUT declares the pair, or confirms what was proposed; DELETE takes it back or refuses it, and it is not proposed again."""

    shape = SameAsSerializer
    row: Panel
    reach = access_panel
    needs = {"PUT": may_work_on, "DELETE": may_work_on}
    versioned = ("PUT", "DELETE")

    def put(self, request: Request, pk: int, model: int) -> Response:
        version = self.version_named()
        return self.answer(declare_same_as(seat=self.seat, panel=self.row, model=self._model(model), expected_version=version))

    def delete(self, request: Request, pk: int, model: int) -> Response:
        version = self.version_named()
        refuse_same_as(seat=self.seat, panel=self.row, model=self._model(model), expected_version=version)
        return Response(status=204)

    def _model(self, pk: int) -> Panel:
        return access_panel(self.seat.user, pk)[1]
