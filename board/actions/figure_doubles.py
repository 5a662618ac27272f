"""One drawn figure that was marked twice, as when its character stood in the cast under two names."""

from collections.abc import Collection
from math import dist

from board.figure_landmarks import point_of
from board.models import Figure, FigurePlace, FigureProposal
from board.models.figure import LOST

SAME_FIGURE = 0.1  # of its height: nobody stands twice so near to where they stand already. Own choice


def fold_doubles(came: Collection[int]) -> None:
    """Of the figures `came` (ids) those that are marked in their panel as their character already are that figure: its marks stand,
    and what it lacks is theirs. Two marks of one figure would bear each other out, whatever is drawn."""
    for figure in Figure.objects.filter(pk__in=came).order_by("pk"):
        twin = _twin_of(figure, came)
        if twin is not None:
            _fold(figure, twin)


def _twin_of(figure: Figure, came: Collection[int]) -> Figure | None:
    for place in figure.places.exclude(placed_by=LOST):
        beside = FigurePlace.objects.filter(
            revision=place.revision_id, figure__character=figure.character_id, figure__panel=figure.panel_id)
        others = beside.exclude(figure__in=came).exclude(placed_by=LOST).select_related("figure")
        twin = next((other.figure for other in others if _is_one(place, other)), None)
        if twin is not None:
            return twin
    return None


def _is_one(place: FigurePlace, other: FigurePlace) -> bool:
    """By crown and soles, in shares of the page's height and width, which a figure's height is told in too."""
    ends, other_ends = ([point_of(one.marks, name) for name in ("crown", "sole")] for one in (place, other))
    if None in (*ends, *other_ends):
        return False
    near = SAME_FIGURE * dist(*other_ends)  # type: ignore[arg-type]
    return all(dist(*pair) < near for pair in zip(ends, other_ends, strict=True))  # type: ignore[arg-type]


def _fold(figure: Figure, twin: Figure) -> None:
    own = {place.revision_id: place for place in twin.places.all()}
    for place in figure.places.exclude(placed_by=LOST):
        there = own.get(place.revision_id)
        if there is not None and there.placed_by != LOST:
            _add_marks(there, place)
            continue
        if there is not None:
            there.delete()
        place.figure = twin
        place.save(update_fields=["figure"])
    asked = FigureProposal.objects.filter(source=twin).values("panel")
    FigureProposal.objects.filter(source=figure).exclude(panel__in=asked).update(source=twin)
    if not FigureProposal.objects.filter(figure=twin).exists():
        FigureProposal.objects.filter(figure=figure).update(figure=twin)
    figure.delete()


def _add_marks(place: FigurePlace, other: FigurePlace) -> None:
    known = {_part(name) for name in place.marks}
    added = [name for name in other.marks if _part(name) not in known]
    place.marks = {**place.marks, **{name: other.marks[name] for name in added}}
    place.doubts = {**place.doubts, **{name: other.doubts[name] for name in added if name in other.doubts}}
    place.save(update_fields=["marks", "doubts"])


def _part(landmark: str) -> str:
    """Without its side: a sole that is marked as one is not marked again as two."""
    return landmark.removesuffix("-left").removesuffix("-right")
