from collections.abc import Sequence

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import POLYGON, json_field
from api.endpoint import Endpoint
from board.access import access_panel, visible_revisions
from board.models import Revision
from board.models.comparison import PANEL_WORDS, comparisons_of_pages
from board.models.page import STAGE_CHOICES


class PanelOnRevisionSerializer(serializers.Serializer):
    revision = serializers.IntegerField(source="pk")
    number = serializers.IntegerField()
    stage = serializers.ChoiceField(STAGE_CHOICES)
    alternate = serializers.CharField()
    uploaded_at = serializers.DateTimeField()
    word = serializers.ChoiceField(
        PANEL_WORDS, allow_null=True, help_text="What changed since the revision before; null where nothing came before."
    )
    polygon = json_field({"type": ["array", "null"], "items": POLYGON["items"], "description": "Null where the panel is gone."})


class PanelHistory(Endpoint):
    """One panel on every revision of its page that has it, or just lost it, oldest first."""

    shape = PanelOnRevisionSerializer
    lists = True
    ordering = ("number",)
    reach = access_panel

    def get(self, request: Request, pk: int) -> Response:
        revisions = visible_revisions(self.seat).filter(page=self.row.page_id, panel__isnull=True)
        compared = comparisons_of_pages([self.row.page_id])
        lost = [one.revision for one in compared.values() if self.row.pk in one.gone]
        has_it = revisions.filter(shapes__panel=self.row) | revisions.filter(pk__in=lost)
        return self.answer_page(has_it.distinct().prefetch_related("shapes"))

    def show(self, rows: Sequence[Revision]) -> list[dict]:
        compared = comparisons_of_pages([self.row.page_id])
        for revision in rows:
            shape = next((shape for shape in revision.shapes.all() if shape.panel_id == self.row.pk), None)
            comparison = compared.get(revision.pk)
            setattr(revision, "polygon", shape.polygon if shape else None)  # noqa: B010 (fields of the answer, not of the row)
            setattr(revision, "word", comparison.word_of(self.row.pk) if comparison else None)  # noqa: B010
        return super().show(rows)
