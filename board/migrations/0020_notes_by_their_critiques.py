from collections import defaultdict
from typing import Any

from django.apps.registry import Apps
from django.db import migrations
from django.db.backends.base.schema import BaseDatabaseSchemaEditor

UNNAMED = "a classmate"


def link_notes(apps: Apps, schema_editor: BaseDatabaseSchemaEditor | None) -> None:
    """Notes of delivered critiques find theirs by board, moment and words. Whose it was cannot be told of the rest: they are unnamed."""
    notes, critiques = apps.get_model("board", "Note"), apps.get_model("board", "Critique")
    unlinked = defaultdict(list)
    for note in notes.objects.exclude(pen_name="").filter(critique__isnull=True):
        unlinked[note.board_id, note.sent_at, note.body].append(note)
    delivered = critiques.objects.filter(sent_at__isnull=False, round__delivered_at__isnull=False)
    meant = defaultdict(list)
    for critique in delivered.select_related("round", "work", "critic__user"):
        for point in critique.points:
            meant[critique.work.board_id, critique.round.delivered_at, _words_of(point)].append(critique)
    for key, found in unlinked.items():
        # Two may have written the same words: then no name is risked.
        critique = meant[key][0] if len(meant[key]) == 1 else None
        notes.objects.filter(pk__in=[note.pk for note in found]).update(critique=critique, pen_name=_name_in(critique))


def _words_of(point: dict[str, Any]) -> str:
    parts = [point["body"], point["why"] and f"Why: {point['why']}", point["how"] and f"How: {point['how']}"]
    return "\n".join(part for part in parts if part)


def _name_in(critique: Any) -> str:
    if critique is None or critique.critic is None or critique.round.is_anonymous:
        return UNNAMED
    user = critique.critic.user
    return (critique.critic.alias or f"{user.first_name} {user.last_name}".strip() or user.username)[:60]


class Migration(migrations.Migration):

    dependencies = [("board", "0019_note_critique")]

    operations = [migrations.RunPython(link_notes, migrations.RunPython.noop)]
