"""The points that are marked on a figure, and the lengths between them. No NumPy here: the web side names them too."""

from collections.abc import Mapping
from dataclasses import dataclass

from board.page_space import Point

# Left and right are the figure's own. A mark without a side stands for both.
SIDES = ("left", "right")
MIDDLE_LANDMARKS = {"crown": "Crown", "eyes": "Eyes", "chin": "Chin", "navel": "Navel", "waist": "Waist", "crotch": "Crotch"}
PAIRED_LANDMARKS = {"head": "Side of the head", "shoulder": "Shoulder", "elbow": "Elbow", "wrist": "Wrist",
                    "fingertip": "Fingertip", "hip": "Hip joint", "knee": "Knee", "ankle": "Ankle", "sole": "Sole"}
LANDMARKS: dict[str, str] = {
    **MIDDLE_LANDMARKS,
    **PAIRED_LANDMARKS,
    **{f"{name}-{side}": f"{label}, {side}" for name, label in PAIRED_LANDMARKS.items() for side in SIDES},
}


@dataclass(frozen=True)
class Span:
    """A length on a figure.

    `kind`: "level" is the height of a landmark over the soles and "limb" a length along a limb, both as shares of the stature;
    "width" goes across, as a share of the stature too, but of "head-width" and "head-depth", which are shares of the head's height.
    "sheet" is known from tables and model sheets and not measured on a page.
    """

    label: str
    kind: str
    ends: tuple[str, ...] = ()


SPANS: dict[str, Span] = {
    "eye-height": Span("Eyes", "level", ("eyes",)),
    "chin-height": Span("Chin", "level", ("chin",)),
    "shoulder-height": Span("Shoulders", "level", ("shoulder",)),
    "navel-height": Span("Navel", "level", ("navel",)),
    "waist-height": Span("Waist", "level", ("waist",)),
    "hip-height": Span("Hip joints", "level", ("hip",)),
    "crotch-height": Span("Crotch", "level", ("crotch",)),
    "knee-height": Span("Knees", "level", ("knee",)),
    "ankle-height": Span("Ankles", "level", ("ankle",)),
    "upper-arm": Span("Upper arm", "limb", ("shoulder", "elbow")),
    "forearm": Span("Forearm", "limb", ("elbow", "wrist")),
    "hand": Span("Hand", "limb", ("wrist", "fingertip")),
    "shoulder-width": Span("Shoulder width", "width", ("shoulder",)),
    "hip-width": Span("Hip width", "width", ("hip",)),
    "head-width": Span("Head width", "width", ("head",)),
    "head-depth": Span("Head depth, seen from the side", "sheet"),
    "below-knee": Span("Sole to below the knee", "sheet"),
    "arm-span": Span("Span of the arms", "sheet"),
    "foot": Span("Foot", "sheet"),
    "face": Span("Face, hairline to chin", "sheet"),
    "cubit": Span("Elbow to fingertip", "sheet"),
}


def point_of(marks: Mapping[str, Point], name: str) -> Point | None:
    """Where a landmark is: as marked, else in the middle of its two sides, else at the one side that is marked."""
    if name in marks:
        return marks[name]
    sides = [marks[f"{name}-{side}"] for side in SIDES if f"{name}-{side}" in marks]
    if not sides:
        return None
    return sum(x for x, _ in sides) / len(sides), sum(y for _, y in sides) / len(sides)


def sides_of(marks: Mapping[str, Point], name: str) -> tuple[Point, Point] | None:
    left, right = marks.get(f"{name}-left"), marks.get(f"{name}-right")
    return (left, right) if left is not None and right is not None else None
