from collections.abc import Sequence

from django.db.models import F, QuerySet
from django.utils.decorators import method_decorator
from django.views.decorators.gzip import gzip_page
from django_filters import rest_framework as filters
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import POLYGON, Body, json_field
from api.endpoint import Endpoint
from api.references import ReferenceSerializer
from board.access import Seat, access_board, access_page, access_panel, may_work_on, visible_pages, visible_revisions
from board.actions.panels import add_panel, change_panel, drop_panel
from board.errors import NotValid
from board.models import Page, Panel, PanelShape, Revision, SameAs
from board.models.panel import OWN_DRAWING
from board.models.revision import current_revisions
from board.models.same_as import DECLARED, PROPOSED

GIVEN = {
    "type": ["object", "null"], "additionalProperties": True,
    "description": "Of its perspective, what was set by hand, and the panel's bounds when it was; in page coordinates.",
}

STILL_PLACE = {
    "type": ["object", "null"], "additionalProperties": True,
    "description": "Two points of the still and the same two on the page, and the panel's bounds when it was placed.",
}

POSTS = {
    "type": ["object", "null"], "additionalProperties": True,
    "description": "The figure posts that stand on its floor, and the panel's bounds when they were set; in page coordinates.",
}


def revision_of_page(seat: Seat, page: int, number: int | None) -> Revision | None:
    """As a client names it; None where it names none."""
    if number is None:
        return None
    revision = visible_revisions(seat).filter(page=page, pk=number).first()
    if revision is None:
        raise NotValid("This revision is not one of this page.")
    return revision


class NewPanel(Body):
    happens = serializers.CharField(required=False, allow_blank=True, max_length=20_000)
    said = serializers.CharField(required=False, allow_blank=True, max_length=20_000)


class CurrentShapeSerializer(serializers.Serializer):
    revision = serializers.IntegerField(source="revision_id")
    polygon = json_field(POLYGON)
    framed = serializers.BooleanField(source="is_framed")
    by_hand = serializers.BooleanField(source="is_by_hand")


class EarlierPanelSerializer(serializers.Serializer):
    panel = serializers.IntegerField(source="model_id", help_text="Whose drawing is taken over.")
    page = serializers.IntegerField(source="model.page_id")
    page_number = serializers.IntegerField(source="model.page.number")
    page_numbers = serializers.ListField(child=serializers.IntegerField(), source="model.page.numbers")
    order = serializers.IntegerField(source="model.order")
    state = serializers.ChoiceField([DECLARED, PROPOSED])


class PanelSerializer(serializers.ModelSerializer):
    still = ReferenceSerializer(allow_null=True)
    left_alone_by = serializers.ListField(child=serializers.CharField())
    given_perspective = json_field(GIVEN, read_only=True)
    still_place = json_field(STILL_PLACE, read_only=True)
    figure_posts = json_field(POSTS, read_only=True)
    alternates = serializers.SerializerMethodField(
        help_text="Letters of the tries at this panel alone, and A: the page's own drawing of it where none was uploaded as A."
    )
    same_as = serializers.SerializerMethodField()
    shape = serializers.SerializerMethodField()

    class Meta:
        model = Panel
        fields = ["id", "page", "order", "happens", "said", "still", "still_place", "left_alone_by", "given_perspective",
                  "figure_posts", "sent_back_to", "handed_in_at", "chosen_alternate", "alternates", "is_gone", "version", "same_as",
                  "shape"]

    def get_alternates(self, panel: Panel) -> list[str]:
        tries = self.context["alternates"].get(panel.pk, set())
        return sorted(tries | {OWN_DRAWING}) if tries else []

    @extend_schema_field(EarlierPanelSerializer(many=True))
    def get_same_as(self, panel: Panel) -> list[dict]:
        return list(EarlierPanelSerializer(self.context["same_as"].get(panel.pk, []), many=True).data)

    @extend_schema_field(CurrentShapeSerializer(allow_null=True))
    def get_shape(self, panel: Panel) -> dict | None:
        shape = self.context["shapes"].get(panel.pk)
        return CurrentShapeSerializer(shape).data if shape else None


def whole_panels(panels: QuerySet[Panel]) -> QuerySet[Panel]:
    return panels.select_related("still__picture", "still__uploaded_by").prefetch_related("still__picture__renditions")


def shapes_now(panels: Sequence[Panel]) -> dict[int, PanelShape]:
    """Panel id -> its shape on the current revision of its page."""
    pages = Page.objects.filter(pk__in={panel.page_id for panel in panels})
    revisions = current_revisions(pages).values()
    return {shape.panel_id: shape for shape in PanelShape.objects.filter(panel__in=panels, revision__in=list(revisions))}


def alternates_of(panels: Sequence[Panel]) -> dict[int, set[str]]:
    tries = Revision.objects.filter(panel__in=panels, withdrawn_at__isnull=True).order_by()
    alternates: dict[int, set[str]] = {}
    for panel, alternate in tries.values_list("panel", "alternate").distinct():
        alternates.setdefault(panel, set()).add(alternate)
    return alternates


def same_as_of(panels: Sequence[Panel], pages: QuerySet[Page]) -> dict[int, list[SameAs]]:
    """Panel id -> the pairs that hold or are proposed; `pages`: those that the reader sees."""
    pairs: dict[int, list[SameAs]] = {}
    rows = SameAs.objects.filter(panel__in=panels, model__page__in=pages, state__in=(DECLARED, PROPOSED))
    for row in rows.select_related("model__page"):
        pairs.setdefault(row.panel_id, []).append(row)
    return pairs


class OfRevision(Body):
    """What is given in page coordinates of one picture."""

    revision = serializers.IntegerField(
        required=False, min_value=1, help_text="The picture that the places are of; else the page's as it stands."
    )


class PanelEndpoint(Endpoint):
    shape = PanelSerializer

    def revision_named(self, number: int | None) -> Revision | None:
        return revision_of_page(self.seat, self.row.page_id, number)

    def show(self, panels: Sequence[Panel]) -> list[dict]:
        context = {
            "shapes": shapes_now(panels), "alternates": alternates_of(panels),
            "same_as": same_as_of(panels, visible_pages(self.seat)),
        }
        return list(PanelSerializer(panels, many=True, context=context).data)


class PanelFilters(filters.FilterSet):
    is_gone = filters.BooleanFilter()


class PagePanels(PanelEndpoint):
    """The panels of a page in reading order. One may have words before it has a drawing."""

    lists = True
    queryset = Panel.objects.none()
    filterset_class = PanelFilters
    ordering = ("order", "pk")
    reach = access_page
    needs = {"POST": may_work_on}
    bodies = {"POST": NewPanel}
    makes = "panel"

    def get(self, request: Request, pk: int) -> Response:
        return self.answer_page(whole_panels(Panel.objects.filter(page=self.row)))

    def post(self, request: Request, pk: int) -> Response:
        return self.answer(add_panel(seat=self.seat, page=self.row, **self.read_body()))


@method_decorator(gzip_page, name="dispatch")
class BoardPanels(PanelEndpoint):
    """The panels of all pages of the comic, as they are read."""

    lists = True
    queryset = Panel.objects.none()
    filterset_class = PanelFilters
    ordering = ("page_number", "order", "pk")
    reach = access_board

    def get(self, request: Request, pk: int) -> Response:
        panels = Panel.objects.filter(page__in=visible_pages(self.seat)).annotate(page_number=F("page__number"))
        return self.answer_page(whole_panels(panels))


class OnePanel(PanelEndpoint):
    """A panel that is words alone can be taken out; a drawn one is corrected on its picture."""

    reach = access_panel
    needs = {"PATCH": may_work_on, "DELETE": may_work_on}
    bodies = {"PATCH": NewPanel}
    versioned = ("PATCH",)

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)

    def patch(self, request: Request, pk: int) -> Response:
        version = self.version_named()
        return self.answer(change_panel(seat=self.seat, panel=self.row, expected_version=version, **self.read_body()))

    def delete(self, request: Request, pk: int) -> Response:
        drop_panel(seat=self.seat, panel=self.row)
        return Response(status=204)
