"""What a check receives and what it answers. Knows no Django.

A check is one file in `page_checks/` with `check(page: PageUnderCheck) -> CheckResult`, and one line in `check_registry`.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from board.not_measured import NotMeasured
from board.page_format import PageFormat
from board.page_space import Point, Polygon
from board.vision.drawing_prints import DrawingPrint


@dataclass(frozen=True)
class GivenInPanel:
    """What a person said of a panel's perspective, in page coordinates: it is taken as so."""

    eye_level: tuple[Point, Point] | None = None  # two points on it
    points: tuple[Point, ...] = ()  # vanishing points, mostly outside the picture
    parallel_edges: tuple[tuple[Point, Point], ...] = ()  # none, or two that run to one point


@dataclass(frozen=True, eq=False)
class SameAsUnderCheck:
    """The earlier panel that one is declared the same as: `gray` uint8 (H, W) is the box around its outline."""

    panel: int
    order: int
    gray: np.ndarray
    page_number: int | None = None  # None where it is on the same page
    is_spread: bool = False


@dataclass(frozen=True, eq=False)
class StillUnderCheck:
    """The still that lies under a panel: `gray` uint8 (H, W), `S_still_to_page` (3, 3) between px of both, as somebody placed it.

    `numbers` in page coordinates: what its camera shows (`eye_level`, `vanishing_points`, …), nothing where none is known.
    """

    title: str
    gray: np.ndarray
    S_still_to_page: np.ndarray
    numbers: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, eq=False)
class DrawnBefore:
    """A panel that was drawn before this page, by its fingerprint."""

    panel: int
    order: int
    page_number: int
    print: DrawingPrint
    is_spread: bool = False


@dataclass(frozen=True)
class PanelUnderCheck:
    """One panel of the page: `id` is the caller's own number, which findings name again."""

    id: int
    order: int  # 1, 2, 3… in reading order
    polygon: Polygon  # page coordinates
    framed: bool = True
    left_alone: bool = False  # someone said: deliberate distortion, do not measure this panel by this check
    eye_height_m: float | None = None  # over the panel's ground; None where nobody said and no still tells
    given: GivenInPanel | None = None  # a correction by hand
    same_as: SameAsUnderCheck | None = None  # whose drawing it takes over, where somebody said so
    one_drawing: frozenset[int] = frozenset()  # the panels, of any page, that were said to share its drawing, by however many steps
    still: StillUnderCheck | None = None  # that it was drawn from, where one is placed under it
    is_rendered: bool = False  # no hand drew it: a render or a photograph


@dataclass(frozen=True)
class AwaitedPanel:
    """A panel that the page should have and this picture has not. `polygon` (page coordinates) and `revision`: where it was drawn
    last; None where it was written and never drawn."""

    id: int
    order: int  # there, or as it is written
    polygon: Polygon | None = None
    revision: int | None = None


@dataclass(frozen=True)
class CharacterUnderCheck:
    """One of the cast as its model sheet has it. `segments`: name in `figure_landmarks.SPANS` -> share, as described there."""

    id: int
    name: str
    height_m: float | None = None
    head_count: float | None = None
    segments: Mapping[str, float] = field(default_factory=dict)
    heads_by_page: tuple[tuple[int, float, float], ...] = ()  # (page number, heads, 1 sigma) as measured on the board's other pages
    sheet_heads: Mapping[int, float] = field(default_factory=dict)  # page number -> as the sheet there has it, where it is another
    drift_stands: bool = False  # somebody said: it is meant


@dataclass(frozen=True)
class FigureUnderCheck:
    """One drawn figure that someone marked. Nothing is measured from an unconfirmed proposal."""

    id: int
    panel: int | None  # PanelUnderCheck.id
    character: CharacterUnderCheck
    marks: Mapping[str, Point]  # name in `figure_landmarks.LANDMARKS` -> page coordinates
    pose: str = "standing"  # | "seated" | "crouching" | "far"
    ground_offset_m: float | None = None  # the floor under the soles, over the panel's ground; None where nobody said
    is_confirmed: bool = True
    view: str | None = None  # "front" | "back" | "side" | "turned"; None where nobody said
    mark_sigma: Mapping[str, float] = field(default_factory=dict)  # 1 sigma of a mark, as a share of the figure's drawn height


@dataclass(frozen=True)
class PageUnderCheck:
    """One revision, decoded once for all checks."""

    gray: np.ndarray  # uint8 (H, W), EXIF orientation applied, alpha flattened on white
    stage: str  # "thumbnail" | "pencil" | "final"
    format: PageFormat
    reading: str = "ltr"  # or "rtl"
    panels: tuple[PanelUnderCheck, ...] = ()
    tolerances: Mapping[str, float] = field(default_factory=dict)  # of this check; the registry's, or the board's own
    is_spread: bool = False
    number: int | None = None  # the page's place in the comic
    bound_at: str | None = None  # "left" | "right"; None for a spread, for pages that are not bound, and where nobody said
    figures: tuple[FigureUnderCheck, ...] = ()
    drawn_before: tuple[DrawnBefore, ...] = ()
    awaited: tuple[AwaitedPanel, ...] = ()
    earlier: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)  # id of a check named in `after` -> its `numbers`


@dataclass(frozen=True)
class Finding:
    """One thing that was measured and is off.

    `measured`, `expected` and `tolerance` are in `unit`; `confidence` is 0..1. `text` says in two or three sentences what was
    measured, why a reader would feel it and how to mend it. `geometry` is what to draw, in page coordinates:
    `{"region": region, "marks": [{"kind": KIND, "points": [[x, y], …], "label": "6.2°"}, …]}`; a mark of two points is a line,
    of one a point, of more an outline; points may lie outside 0..1 (a vanishing point mostly does). Of figures it has their ids,
    `"figures": [id, …]`; of another panel that the text names, `"other": {"panel": id, "called": its name there}`: pages move.
    """

    finding: str
    panel: int | None  # PanelUnderCheck.id, or None for the page
    measured: float
    expected: float
    tolerance: float
    unit: str
    confidence: float
    text: str
    geometry: Mapping[str, Any]


# KIND of a mark, and what it draws.
MARK_KINDS = {
    "edge": "a line as it was drawn",
    "true-edge": "where that line would run",
    "support": "a line that the measurement rests on",
    "eye-level": "the eye level that most of the panel agrees on",
    "other-eye-level": "an eye level that disagrees with it",
    "ray": "from a line to the point it should meet",
    "meeting-point": "a vanishing point",
    "outline": "a region as found",
    "limit": "a line that should not be crossed",
    "post": "how tall a figure stands at its place, from the soles up",
    "tick": "one head on a post, counted from the crown",
}


@dataclass(frozen=True)
class Findings:
    """What a check found (nothing, if it measured and all is well).

    `not_measured` gives the reason for each panel that showed too little, `figures_not_measured` by kind of finding for each figure
    whose id is named, though others of its panel were measured; `numbers` is JSON that the browser and later checks work
    from: found panels, vanishing points, eye levels, in page coordinates. `prints` is kept for pages that are drawn later.
    """

    found: tuple[Finding, ...] = ()
    not_measured: Mapping[int, NotMeasured] = field(default_factory=dict)
    numbers: Mapping[str, Any] = field(default_factory=dict)
    prints: Mapping[int, DrawingPrint] = field(default_factory=dict)
    figures_not_measured: Mapping[str, Mapping[int, NotMeasured]] = field(default_factory=dict)


CheckResult = Findings | NotMeasured
