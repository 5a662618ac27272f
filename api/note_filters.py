from django.db.models import QuerySet
from django_filters import rest_framework as filters
from drf_spectacular.utils import extend_schema_field

from board.check_registry import CHECKS
from board.models.note import NOTE_STATES, SCOPES, TONES

SOURCES = ("person", "measured")


def one_or_more(words: tuple[str, ...]) -> dict:
    """`open,answered`, as OpenAPI says it."""
    word = "|".join(words)
    return {"type": "string", "pattern": f"^({word})(,({word}))*$"}


class Words(filters.BaseInFilter, filters.ChoiceFilter):
    """One or more of a few words, with commas between."""


def words_filter(words: tuple[str, ...], **options: object) -> Words:
    return extend_schema_field(one_or_more(words))(Words(choices=[(word, word) for word in words], **options))


class NoteFilters(filters.FilterSet):
    source = filters.ChoiceFilter(choices=[(source, source) for source in SOURCES], method="of_source")
    state = words_filter(NOTE_STATES)
    tone = words_filter(TONES)
    panel = filters.NumberFilter(field_name="panel_id")
    check = filters.ChoiceFilter(field_name="check_id", choices=[(check, check) for check in CHECKS])

    @extend_schema_field({"type": "string", "enum": list(SOURCES)})
    def of_source(self, notes: QuerySet, name: str, source: str) -> QuerySet:
        return notes.filter(check_id="") if source == "person" else notes.exclude(check_id="")


class BoardNoteFilters(NoteFilters):
    page = filters.NumberFilter(field_name="page_id")
    scope = words_filter(SCOPES)
