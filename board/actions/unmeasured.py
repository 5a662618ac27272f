"""Which faults a check could not look for again on a revision, and why: nobody knows whether they are gone."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from django.db.models import QuerySet

from board.models import Figure, FigurePlace, Note, Panel, Revision, SameAs
from board.models.figure import LOST
from board.models.same_as import DECLARED

SAT_DOWN = ("seated", "crouching")


@dataclass(frozen=True)
class Unmeasured:
    """`whole`: why the check measured nothing at all; `panels`: why it measured nothing in these; `figures`: by kind of finding,
    why it could not be looked for on these, though others of their panel were measured."""

    whole: str = ""
    panels: Mapping[int, str] = field(default_factory=dict)
    figures: Mapping[str, Mapping[int, str]] = field(default_factory=dict)

    def why(self, revision: Revision, note: Note) -> str:
        """Empty where the note's fault was looked for, or is no longer asked about since people said so."""
        figures = figures_of(note)
        if figures is not None and (lost := _lost_on(revision, figures)):
            return lost.reason
        reason = self.whole or self.panels.get(note.panel_id or 0, "") or self._of_figures(note, figures or [])
        return reason if reason and _is_asked(note, figures) else ""

    def _of_figures(self, note: Note, figures: Iterable[int]) -> str:
        reasons = self.figures.get(note.finding_kind, {})
        asked = _asked_of(note, [one for one in figures if one in reasons]).order_by("pk").first()
        return reasons[asked.pk] if asked else ""


def figures_of(note: Note) -> list[int] | None:
    """The figures that it speaks of; None for a check that looks at none."""
    if note.check_id not in ("heights", "proportions"):
        return None
    geometry = _last_geometry(note)
    # What was found before findings named their figures speaks of its panel's.
    return geometry["figures"] if "figures" in geometry else list(_in_panel(note.panel_id or 0))


def _in_panel(panel: int) -> Iterable[int]:
    return Figure.objects.filter(panel=panel).values_list("pk", flat=True)


def _lost_on(revision: Revision, figures: list[int]) -> FigurePlace | None:
    return FigurePlace.objects.filter(revision=revision, figure__in=figures, placed_by=LOST).first()


def _is_asked(note: Note, figures: list[int] | None) -> bool:
    """Marks that were removed, a figure that sits, a perspective, a still or a same-as that was taken back end the question."""
    if figures is not None:
        return _asked_of(note, figures).exists()
    if note.check_id == "same-as":
        return SameAs.objects.filter(panel=note.panel_id or 0, state=DECLARED).exists()
    if note.check_id == "still":
        return Panel.objects.filter(pk=note.panel_id or 0, still__isnull=False, still_place__isnull=False).exists()
    if _last_geometry(note).get("set_by_hand"):
        return Panel.objects.filter(pk=note.panel_id or 0, given_perspective__isnull=False).exists()
    return True


def _asked_of(note: Note, figures: Iterable[int]) -> QuerySet[Figure]:
    """Who sits has no height."""
    asked = Figure.objects.filter(pk__in=figures)
    return asked.exclude(pose__in=SAT_DOWN) if note.check_id == "heights" else asked


def _last_geometry(note: Note) -> dict:
    return note.findings.order_by("-revision__number").values_list("geometry", flat=True).first() or {}
