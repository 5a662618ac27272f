"""How a revision compares with the one before it, as the job that carried the notes worked it out."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from board.models.job import Job
from board.models.note import Note

SAME, TOUCHED, REDRAWN, MOVED, NEW, GONE = PANEL_WORDS = ("same", "touched", "redrawn", "moved", "new", "gone")
PANEL_MATCHES = ("kept", "moved", "resized", "split", "merged", "added")
STAYED = (SAME, MOVED)


@dataclass(frozen=True)
class Comparison:
    revision: int
    before: int
    panels: list[dict[str, Any]]
    gone: list[int]

    def word_of(self, panel: int) -> str | None:
        """What became of a panel on the way to `revision`; None where it stands on neither."""
        if panel in self.gone:
            return GONE
        return next((row["word"] for row in self.panels if row["panel"] == panel), None)


def comparisons_of_pages(pages: Iterable[int]) -> dict[int, Comparison]:
    """Revision id -> how it compares, for all revisions of these pages that were compared. The maps stay in the database."""
    rows = Job.objects.filter(kind="carry-notes", revision__page__in=pages, numbers__has_key="panels")
    found = rows.values_list("revision_id", "numbers__before", "numbers__panels", "numbers__gone")
    return {row[0]: Comparison(*row) for row in found}


def spot_since(note: Note, current: int, comparisons: dict[int, Comparison]) -> str | None:
    """Whether the panel of a note was "changed" or "unchanged" between the revision it was pinned on and the `current` one.

    None where that cannot be told: the note is on no panel, or was pinned on this revision, or no comparison leads back to it.
    """
    words, at = [], current
    while at != note.revision_id and at in comparisons and note.panel_id:
        words.append(comparisons[at].word_of(note.panel_id))
        at = comparisons[at].before
    if not words or at != note.revision_id:
        return None
    if any(word is not None and word not in STAYED for word in words):
        return "changed"
    return "unchanged" if None not in words else None


def map_begins_at(after: int) -> int | None:
    """The revision from which a map leads to this one."""
    jobs = Job.objects.filter(kind="carry-notes", revision=after, numbers__has_keys=["map", "before"])
    return jobs.values_list("numbers__before", flat=True).first()


def maps_between(before: int, after: int) -> list[dict[str, Any]] | None:
    """The maps that lead from one revision of a page to a later one, oldest first; None where none do."""
    rows = Job.objects.filter(kind="carry-notes", revision__page__revisions=after, numbers__has_keys=["map", "before"])
    numbers_of = dict(rows.values_list("revision_id", "numbers"))
    steps: list[dict[str, Any]] = []
    at = after
    while at != before:
        if at not in numbers_of:
            return None
        came_from = numbers_of[at]["before"]
        steps.insert(0, {"before": came_from, "after": at, **numbers_of[at]["map"]})
        at = came_from
    return steps
