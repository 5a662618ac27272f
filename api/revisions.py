from typing import Any

from django.db.models import prefetch_related_objects
from django_filters import rest_framework as filters
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import POLYGON, PolygonField, json_field
from api.endpoint import Endpoint
from api.panel_changes import CHANGES, changes_in
from api.revision_brief import RevisionBriefSerializer
from api.uploads import UPLOAD_PARSERS, PictureBody
from board.access import Seat, access_page, access_revision, may_draw_on, numbers_are_shown, visible_revisions
from board.actions.revisions import receive_revision
from board.check_registry import CHECKS, CheckEntry, checks_for
from board.errors import NotValid
from board.models import Job, Panel, Revision
from board.models.figure import LOST
from board.models.figure_proposal import PROPOSED
from board.models.job import JOB_STATES, QUEUED
from board.models.revision import REFUSED
from board.stages.order import STAGES

JSON_OBJECT = {"type": "object", "additionalProperties": True}


class CheckStateSerializer(serializers.ModelSerializer):
    """How far a check came on this revision, and what it measured from."""

    check = serializers.CharField(source="check_id")
    label = serializers.SerializerMethodField()  # type: ignore[assignment]  # the field bears a name that the base class has too
    state = serializers.ChoiceField(JOB_STATES)
    version = serializers.SerializerMethodField()
    tolerances = serializers.SerializerMethodField()
    numbers = json_field(JSON_OBJECT)

    class Meta:
        model = Job
        fields = ["check", "label", "state", "reason", "seconds", "version", "tolerances", "numbers"]

    def get_label(self, job: Job) -> str:
        return CHECKS[job.check_id].label if job.check_id in CHECKS else job.check_id

    def get_version(self, job: Job) -> int:
        return job.inputs.get("version", 0)

    def get_tolerances(self, job: Job) -> dict[str, float]:
        return job.inputs.get("tolerances", {})


class ShapeSerializer(serializers.Serializer):
    id = serializers.IntegerField(source="panel_id")
    order = serializers.IntegerField()
    polygon = json_field(POLYGON)
    framed = serializers.BooleanField(source="is_framed")
    by_hand = serializers.BooleanField(source="is_by_hand")


class RevisionSerializer(RevisionBriefSerializer):
    checks = serializers.SerializerMethodField()
    panels = ShapeSerializer(source="shapes", many=True)
    changes = serializers.SerializerMethodField()
    figures_proposed = serializers.SerializerMethodField(help_text="How many wait for an answer.")
    figures_lost = serializers.SerializerMethodField(
        help_text="The panel of each figure whose marks could not be carried here: they wait to be marked again."
    )

    class Meta(RevisionBriefSerializer.Meta):
        fields = [*RevisionBriefSerializer.Meta.fields, "checks", "panels", "changes", "figures_proposed", "figures_lost"]

    def to_representation(self, revision: Revision) -> dict[str, Any]:
        # Both checks and changes read the jobs, and all that was measured is in them.
        prefetch_related_objects([revision], "jobs", "figure_places__figure")
        return super().to_representation(revision)

    def get_checks(self, revision: Revision) -> CheckStateSerializer(many=True):  # type: ignore[valid-type]
        jobs = {job.check_id: job for job in revision.jobs.all() if job.kind == "check"}
        expected = [] if revision.state == REFUSED or revision.panel_id else checks_for(revision.stage)
        seat: Seat = self.context["seat"]
        expected = [entry for entry in expected if entry.id not in seat.board.checks_off]
        # Nobody waits for a check of figures where none is marked.
        has_figures = bool(revision.figure_places.all())
        expected = [entry for entry in expected if entry.id in jobs or has_figures or not entry.needs_figures]
        expected = [entry for entry in expected if entry.id in jobs or not entry.waits_to_be_asked]
        rows = [jobs.pop(entry.id) if entry.id in jobs else waiting(entry) for entry in expected]
        states = CheckStateSerializer([*rows, *jobs.values()], many=True).data
        return states if numbers_are_shown(seat, revision) else [{**state, "numbers": {}} for state in states]

    def get_figures_proposed(self, revision: Revision) -> int:
        return sum(one.state == PROPOSED for one in revision.figure_proposals.all())

    @extend_schema_field({"type": "array", "items": {"type": ["integer", "null"]}})
    def get_figures_lost(self, revision: Revision) -> list[int | None]:
        return [place.figure.panel_id for place in revision.figure_places.all() if place.placed_by == LOST]

    @extend_schema_field(CHANGES)
    def get_changes(self, revision: Revision) -> dict | None:
        return changes_in(list(revision.jobs.all()))


def waiting(entry: CheckEntry) -> Job:
    """A check whose row is not written yet, since it builds on another's answer: who waits for the last note waits for it too."""
    inputs = {"version": entry.version, "tolerances": dict(entry.tolerances)}
    return Job(kind="check", check_id=entry.id, state=QUEUED, inputs=inputs)


class NewRevision(PictureBody):
    stage = serializers.ChoiceField(STAGES)
    alternate = serializers.RegexField(r"^[A-Z]{1,2}$", required=False)
    panel = serializers.IntegerField(required=False, min_value=1)
    minutes_spent = serializers.IntegerField(required=False, min_value=0, max_value=100_000)
    corners = PolygonField(
        required=False,
        help_text="Of the paper on a photograph, clockwise from its upper left: the page is laid flat before it is measured.",
    )


class RevisionFilters(filters.FilterSet):
    stage = filters.ChoiceFilter(choices=[(stage, stage) for stage in STAGES])
    alternate = filters.CharFilter()
    panel = filters.NumberFilter(field_name="panel_id")


class RevisionEndpoint(Endpoint):
    shape = RevisionSerializer


class RevisionsOfPage(Endpoint):
    lists = True
    queryset = Revision.objects.none()
    filterset_class = RevisionFilters
    ordering = ("number",)
    reach = access_page
    parts: tuple[str, ...] = ()

    def get(self, request: Request, pk: int) -> Response:
        revisions = visible_revisions(self.seat).filter(page=self.row).select_related("picture", "uploaded_by")
        return self.answer_page(revisions.prefetch_related("picture__renditions", *self.parts))


class PageRevisions(RevisionsOfPage):
    """The pictures of a page, by arrival. A page begins at the stage of its first picture, but in a class; after that one that is
    uploaded for another stage than the page's is kept and moves nothing."""

    shape = RevisionSerializer
    parts = ("jobs", "shapes", "figure_places__figure", "figure_proposals")
    parser_classes = UPLOAD_PARSERS
    needs = {"POST": may_draw_on}
    bodies = {"POST": NewRevision}
    makes = "revision"

    def post(self, request: Request, pk: int) -> Response:
        body = self.read_body()
        image = body.pop("image")
        body["panel"] = self._panel(body.get("panel"))
        return self.answer(
            receive_revision(seat=self.seat, page=self.row, file=image.file, file_name=image.name or "", **body)
        )

    def _panel(self, number: int | None) -> Panel | None:
        if number is None:
            return None
        panel = Panel.objects.filter(page=self.row, pk=number).first()
        if panel is None:
            raise NotValid("This panel is not on this page.")
        return panel


class PageRevisionsInBrief(RevisionsOfPage):
    """The pictures of a page, by arrival, without what was measured on them."""

    shape = RevisionBriefSerializer


class OneRevision(RevisionEndpoint):
    reach = access_revision

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)
