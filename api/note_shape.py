"""How a note is shown: where it stands now, what was measured, what was answered, and what the reader may do."""

from collections.abc import Sequence

from django.db.models import Prefetch, QuerySet
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from api.body import LINES, REGION, json_field
from api.endpoint import Endpoint
from api.finding_shape import FindingSerializer
from api.note_astray import AstraySerializer
from api.people import PersonSerializer
from board.access import may_answer, may_edit, may_let_stand, may_settle
from board.check_registry import CHECKS
from board.models import Finding, Note, NotePlace, Page, Reply, Revision
from board.models.astray import Astray, astray_now
from board.models.comparison import comparisons_of_pages, spot_since
from board.models.revision import current_revisions

MAY = {"edit": may_edit, "answer": may_answer, "settle": may_settle, "let_stand": may_let_stand}
MAY_SHAPE = {"type": "object", "properties": {name: {"type": "boolean"} for name in MAY}, "required": list(MAY)}
SPOT = {
    "type": ["string", "null"],
    "enum": ["changed", "unchanged", None],
    "description": "Whether its panel changed between the revision that it was pinned on and the page's current one. "
    "Null where that is not known, on the revision itself, and for measured notes, which are measured again.",
}
NULLABLE_REGION = {**REGION, "oneOf": [*REGION["oneOf"], {"type": "null"}]}


class ReplySerializer(serializers.ModelSerializer):
    author = PersonSerializer(allow_null=True)

    class Meta:
        model = Reply
        fields = ["id", "author", "body", "created_at"]


class HereSerializer(serializers.Serializer):
    """Where the note stands on the page's current revision."""

    revision = serializers.IntegerField()
    region = json_field(REGION)
    lines = json_field(LINES)
    placed_by = serializers.ChoiceField(["pinned", "registered", "panel", "hand"])


class NoteSerializer(serializers.ModelSerializer):
    page_number = serializers.IntegerField(source="page.number", allow_null=True, default=None)
    page_numbers = serializers.ListField(child=serializers.IntegerField(), source="page.numbers", allow_null=True, default=None)
    panel_order = serializers.IntegerField(source="panel.order", allow_null=True, default=None)
    region = json_field(NULLABLE_REGION)
    lines = json_field(LINES)
    here = serializers.SerializerMethodField()
    astray = serializers.SerializerMethodField()
    spot = serializers.SerializerMethodField()
    source = serializers.SerializerMethodField()  # type: ignore[assignment]  # the field bears a name that the base class has too
    author = PersonSerializer(allow_null=True)
    criterion_title = serializers.CharField(source="criterion.title", allow_null=True, default=None)
    check = serializers.SerializerMethodField()
    check_label = serializers.SerializerMethodField()
    not_measured = serializers.CharField(
        help_text="Why a measured one could not be looked for again on the page's revision: it stays open, since nobody knows."
    )
    finding = serializers.SerializerMethodField()
    replies = ReplySerializer(many=True)
    closed_by = PersonSerializer(allow_null=True)
    may = serializers.SerializerMethodField()

    class Meta:
        model = Note
        fields = ["id", "board", "page", "page_number", "page_numbers", "panel", "panel_order", "scope", "region", "lines",
                  "revision", "here", "astray", "spot", "tone", "body", "state", "source", "author", "pen_name", "criterion",
                  "criterion_title", "check", "check_label", "not_measured", "finding", "replies", "created_at", "sent_at",
                  "closed_by", "closed_at", "version", "may"]

    @extend_schema_field(HereSerializer(allow_null=True))
    def get_here(self, note: Note) -> dict | None:
        return self.context["here"].get(note.pk)

    @extend_schema_field(AstraySerializer(allow_null=True))
    def get_astray(self, note: Note) -> dict | None:
        astray: Astray | None = self.context["astray"].get(note.pk)
        return dict(AstraySerializer(astray).data) if astray else None

    @extend_schema_field(SPOT)
    def get_spot(self, note: Note) -> str | None:
        return self.context["spots"].get(note.pk)

    @extend_schema_field({"type": "string", "enum": ["person", "measured"]})
    def get_source(self, note: Note) -> str:
        return "measured" if note.is_measured else "person"

    def get_check(self, note: Note) -> str | None:
        return note.check_id or None

    def get_check_label(self, note: Note) -> str | None:
        return CHECKS[note.check_id].label if note.check_id in CHECKS else note.check_id or None

    @extend_schema_field(FindingSerializer(allow_null=True))
    def get_finding(self, note: Note) -> dict | None:
        findings = sorted(note.findings.all(), key=lambda finding: finding.revision.number)
        return FindingSerializer(findings[-1]).data if findings else None

    @extend_schema_field(MAY_SHAPE)
    def get_may(self, note: Note) -> dict[str, bool]:
        return {name: allowed(self.context["seat"], note) for name, allowed in MAY.items()}


def whole_notes(notes: QuerySet[Note]) -> QuerySet[Note]:
    replies = Prefetch("replies", Reply.objects.select_related("author"))
    findings = Prefetch("findings", Finding.objects.select_related("revision"))
    return notes.select_related("page", "panel", "revision", "author", "closed_by", "criterion").prefetch_related(replies, findings)


def current_of(notes: Sequence[Note]) -> dict[int, Revision]:
    """Page id -> its current revision, for the pages that these notes are on."""
    return current_revisions(Page.objects.filter(pk__in={note.page_id for note in notes if note.page_id}))


def spots_now(notes: Sequence[Note], current: dict[int, Revision]) -> dict[int, str | None]:
    """Note id -> whether its spot changed until the current revision of its page."""
    comparisons = comparisons_of_pages(current)
    asked = [(note, current.get(note.page_id)) for note in notes if note.page_id and note.panel_id and not note.is_measured]
    return {note.pk: spot_since(note, revision.pk, comparisons) for note, revision in asked if revision}


def places_now(notes: Sequence[Note], current: dict[int, Revision]) -> dict[int, dict]:
    """Note id -> its place on the current revision of its page."""
    revisions = [revision.pk for revision in current.values()]
    carried = NotePlace.objects.filter(note__in=notes, revision__in=revisions)
    places = {place.note_id: _place(place.revision_id, place, place.placed_by) for place in carried}
    pinned = {note.pk: _place(note.revision_id, note, "pinned") for note in notes if _is_pinned_on(note, current)}
    return {**places, **pinned}


def _is_pinned_on(note: Note, current: dict[int, Revision]) -> bool:
    revision = current.get(note.page_id) if note.page_id else None
    return note.region is not None and revision is not None and note.revision_id == revision.pk


def _place(revision: int | None, stands: Note | NotePlace, placed_by: str) -> dict:
    return {"revision": revision, "region": stands.region, "lines": stands.lines, "placed_by": placed_by}


class NoteEndpoint(Endpoint):
    shape = NoteSerializer

    def show(self, notes: Sequence[Note]) -> list[dict]:
        current = current_of(notes)
        here = places_now(notes, current)
        astray, spots = astray_now(notes, current, here), spots_now(notes, current)
        context = {"seat": self.seat, "here": here, "astray": astray, "spots": spots}
        return list(NoteSerializer(notes, many=True, context=context).data)
