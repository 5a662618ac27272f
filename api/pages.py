from collections.abc import Sequence

from django.utils.decorators import method_decorator
from django.views.decorators.gzip import gzip_page
from django_filters import rest_framework as filters
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.endpoint import Endpoint
from api.needs import may_add_pages, may_run_board
from api.page_facts import COUNTED, PageFacts
from api.people import PersonSerializer
from api.revision_brief import RevisionBriefSerializer
from board.access import NEWS, access_board, access_page, laid_aside_pages, may_work_on, require, visible_pages
from board.actions.page_order import bring_back, insert_page, lay_aside
from board.actions.pages import add_page, change_page
from board.models import Page, Revision
from board.stages.order import STAGES

OPEN_NOTES = {"type": "object", "properties": {name: {"type": "integer"} for name in COUNTED}, "required": list(COUNTED)}
NEW = {
    "type": "object", "description": "What others did on it since you last looked.",
    "properties": {name: {"type": "integer"} for name in NEWS}, "required": list(NEWS),
}
# Who draws a page and who may look on is not for its drawer to say.
FOR_THOSE_WHO_RUN_THE_BOARD = {"drawn_by", "is_open_to_students", "make_room"}
# Neither is the place of a page that was assigned: receipts and the instructor name it by its number.
NOT_FOR_WHO_WORKS_ALONE = {"number"}


class PageFields(Body):
    number = serializers.IntegerField(min_value=1, max_value=9999)
    is_spread = serializers.BooleanField(required=False)
    drawn_by = serializers.CharField(required=False, allow_null=True, max_length=150, help_text="A username.")
    happens = serializers.CharField(required=False, allow_blank=True, max_length=20_000)
    said = serializers.CharField(required=False, allow_blank=True, max_length=20_000)
    is_open_to_students = serializers.BooleanField(required=False)


class NewPage(PageFields):
    make_room = serializers.BooleanField(
        required=False, help_text="Where the number is taken, that page and all after it move on. For those who run the board."
    )


class RefusedUploadSerializer(serializers.ModelSerializer):
    class Meta:
        model = Revision
        fields = ["id", "number", "stage", "alternate", "panel", "file_name", "uploaded_at", "reason"]


class PageSerializer(serializers.ModelSerializer):
    numbers = serializers.ListField(child=serializers.IntegerField())
    waits_for = serializers.ChoiceField(["artist", "reviewer", "nobody"])
    drawn_by = PersonSerializer(allow_null=True)
    alternates = serializers.SerializerMethodField()
    kept_ahead = serializers.SerializerMethodField(
        help_text="Stages after the page's own for which a picture of the chosen alternate is kept already; it waits for its stage."
    )
    current_revision = serializers.SerializerMethodField()
    refused_upload = serializers.SerializerMethodField(
        help_text="For who draws the page: the last picture that could not be opened, until a newer one is read or it is withdrawn."
    )
    open_notes = serializers.SerializerMethodField()
    answered_notes = serializers.SerializerMethodField()
    held_notes = serializers.SerializerMethodField(help_text="Those that you hold there; nobody else sees them.")
    panels_sent_back = serializers.SerializerMethodField(help_text="On their own, and not signed off again.")
    panels_handed_in = serializers.SerializerMethodField(help_text="Of those sent back: how many wait for the reviewer again.")
    new = serializers.SerializerMethodField()

    class Meta:
        model = Page
        fields = ["id", "board", "number", "numbers", "is_spread", "stage", "waits_for", "handed_in_at", "finished_at", "drawn_by",
                  "laid_aside_at", "is_open_to_students", "happens", "said", "chosen_alternate", "alternates", "kept_ahead",
                  "version", "current_revision", "refused_upload", "open_notes", "answered_notes", "held_notes",
                  "panels_sent_back", "panels_handed_in", "new"]

    @property
    def facts(self) -> PageFacts:
        return self.context["facts"]

    def get_alternates(self, page: Page) -> list[str]:
        return self.facts.alternates_of(page)

    def get_kept_ahead(self, page: Page) -> list[str]:
        return self.facts.kept_ahead_of(page)

    @extend_schema_field(RevisionBriefSerializer(allow_null=True))
    def get_current_revision(self, page: Page) -> dict | None:
        return self.context["pictures"].get(page.pk)

    @extend_schema_field(RefusedUploadSerializer(allow_null=True))
    def get_refused_upload(self, page: Page) -> dict | None:
        refused = self.facts.refused.get(page.pk)
        return RefusedUploadSerializer(refused).data if refused else None

    @extend_schema_field(OPEN_NOTES)
    def get_open_notes(self, page: Page) -> dict[str, int]:
        return self.facts.open_notes_of(page)

    def get_answered_notes(self, page: Page) -> int:
        return self.facts.answered.get(page.pk, 0)

    def get_held_notes(self, page: Page) -> int:
        return self.facts.held.get(page.pk, 0)

    def get_panels_sent_back(self, page: Page) -> int:
        return self.facts.panels_sent_back_of(page)

    def get_panels_handed_in(self, page: Page) -> int:
        return self.facts.panels_handed_in_of(page)

    @extend_schema_field(NEW)
    def get_new(self, page: Page) -> dict[str, int]:
        return self.facts.new_of(page)


class PageEndpoint(Endpoint):
    shape = PageSerializer

    def show(self, pages: Sequence[Page]) -> list[dict]:
        facts = PageFacts(pages, self.seat)
        # By one serializer: to make one for each page takes longer than all the rest.
        pictures = {row["page"]: row for row in RevisionBriefSerializer(list(facts.current.values()), many=True).data}
        return list(PageSerializer(pages, many=True, context={"facts": facts, "pictures": pictures}).data)

    def allowed_body(self) -> dict:
        body = self.read_body()
        barred = FOR_THOSE_WHO_RUN_THE_BOARD | (NOT_FOR_WHO_WORKS_ALONE if self.seat.works_alone else set())
        require(self.seat, self.seat.may_run_board or not barred & set(body))
        return body


class PageFilters(filters.FilterSet):
    stage = filters.ChoiceFilter(choices=[(stage, stage) for stage in STAGES])
    drawn_by = filters.CharFilter(field_name="drawn_by__username")


# Some hundred pages are alike: packed they take a twentieth, which a telephone out of doors feels.
@method_decorator(gzip_page, name="dispatch")
class BoardPages(PageEndpoint):
    """The pages of the comic in reading order. A page that a student adds is theirs."""

    lists = True
    queryset = Page.objects.none()
    filterset_class = PageFilters
    ordering = ("number",)
    reach = access_board
    needs = {"POST": may_add_pages}
    bodies = {"POST": NewPage}
    makes = "page"

    def get(self, request: Request, pk: int) -> Response:
        return self.answer_page(visible_pages(self.seat).select_related("drawn_by"))

    def post(self, request: Request, pk: int) -> Response:
        body = self.allowed_body()
        add = insert_page if body.pop("make_room", False) else add_page
        return self.answer(add(seat=self.seat, **body))


class OnePage(PageEndpoint):
    reach = access_page
    needs = {"PATCH": may_work_on}
    bodies = {"PATCH": PageFields}
    versioned = ("PATCH",)

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)

    def patch(self, request: Request, pk: int) -> Response:
        version = self.version_named()
        return self.answer(change_page(seat=self.seat, page=self.row, expected_version=version, **self.allowed_body()))


class LaidAsidePages(PageEndpoint):
    """Pages that were taken out of the comic, in the order that they had."""

    lists = True
    queryset = Page.objects.none()
    ordering = ("number", "pk")
    reach = access_board

    def get(self, request: Request, pk: int) -> Response:
        return self.answer_page(laid_aside_pages(self.seat).select_related("drawn_by"))


class PageLaidAside(PageEndpoint):
    """PUT takes the page out of the comic: it is kept with all that is on it, and those after it move up. DELETE brings it back."""

    reach = access_page
    needs = {"PUT": may_run_board, "DELETE": may_run_board}
    statuses = {"DELETE": 200}
    versioned = ("PUT", "DELETE")

    def put(self, request: Request, pk: int) -> Response:
        return self.answer(lay_aside(seat=self.seat, page=self.row, expected_version=self.version_named()))

    def delete(self, request: Request, pk: int) -> Response:
        return self.answer(bring_back(seat=self.seat, page=self.row, expected_version=self.version_named()))
