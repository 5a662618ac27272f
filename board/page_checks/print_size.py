"""Says whether a final has the pixels for print, which panel borders stand where the paper is cut, and whether what runs off the
page has the bleed that it needs."""

from dataclasses import dataclass, replace
from math import ceil, log

import numpy as np

from board.check_contract import CheckResult, Finding, Findings, PageUnderCheck, PanelUnderCheck
from board.not_measured import NotMeasured
from board.page_format import MM_PER_INCH, PageFormat, dpi_at
from board.slip_words import listed

DEFAULTS = {"least_dpi": 300.0, "near_trim_mm": 0.0}
BORDER_ERROR = 0.002  # of the picture's longer side: so exactly are panel borders measured
WHOLE_PICTURE = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]
# Shapes this near are the same: a picture's sides are whole pixels and rulers are rounded; A4 and A4 with bleed are 0.8 % apart.
SHAPE_TOLERANCE = 0.01
SHAPE_TIE = 0.001
# Bleed at three sides is told from the trim by as little as half a hundredth of the shape: such a picture has to fit it closely.
CLOSE_SHAPE = 0.002
ALL_SIDES = frozenset({"left", "top", "right", "bottom"})
# What is drawn along an edge of the picture: darker than white by so many grey steps, over this share of it. One line that
# slipped out of a panel is less. Own choice, no source.
INK_STEPS, INKED_SHARE = 40.0, 0.01


@dataclass(frozen=True)
class PrintPlacement:
    """A picture of `width_px` x `height_px` printed `width_mm` x `height_mm`: cut at the trim, but for the sides with bleed."""

    width_px: int
    height_px: int
    format: PageFormat
    bled: frozenset[str]  # the sides that go on past the trim: none, all, or all but the one that is bound
    could_be_either: bool  # the shape does not tell

    @property
    def with_bleed(self) -> bool:
        return bool(self.bled)

    @property
    def width_mm(self) -> float:
        return self.format.trim_width_mm + self.margin_mm("left") + self.margin_mm("right")

    @property
    def height_mm(self) -> float:
        return self.format.trim_height_mm + self.margin_mm("top") + self.margin_mm("bottom")

    @property
    def dpi(self) -> float:
        return min(dpi_at(self.width_px, self.width_mm), dpi_at(self.height_px, self.height_mm))

    def margin_mm(self, side: str) -> float:
        """From the picture's edge to the trim."""
        return self.format.bleed_mm if side in self.bled else 0.0

    def bleed_reach_mm(self, side: str) -> float:
        """Distance from the trim, inwards, at which the picture ends: a border there bleeds off."""
        return -self.margin_mm(side)

    def pixels_for(self, dpi: float) -> tuple[int, int]:
        return ceil(self.width_mm / MM_PER_INCH * dpi), ceil(self.height_mm / MM_PER_INCH * dpi)

    def has_pixels_for(self, dpi: float) -> bool:
        """A pixel less than the exact number is rounding, not a lack: A4 at 300 dpi is 2480.3 px wide."""
        needed = self.width_mm / MM_PER_INCH * dpi, self.height_mm / MM_PER_INCH * dpi
        return self.width_px + 1 >= needed[0] and self.height_px + 1 >= needed[1]

    def from_trim_mm(self, x: float, y: float) -> tuple[float, float]:
        """A page coordinate as mm from the left and top trim."""
        return x * self.width_mm - self.margin_mm("left"), y * self.height_mm - self.margin_mm("top")

    def rectangle(self, inset_mm: float) -> list[list[float]]:
        """The rectangle `inset_mm` inside the trim, in page coordinates, clockwise from the top left."""
        left, right = ((self.margin_mm(side) + inset_mm) / self.width_mm for side in ("left", "right"))
        top, bottom = ((self.margin_mm(side) + inset_mm) / self.height_mm for side in ("top", "bottom"))
        return [[left, top], [1 - right, top], [1 - right, 1 - bottom], [left, 1 - bottom]]

    def describe(self) -> str:
        bleed = " and bleed" if self.bled == ALL_SIDES else " and bleed, none where it is bound" if self.bled else ""
        return f"{self.width_mm:.4g} × {self.height_mm:.4g} mm (trim size{bleed}, by its shape)"


@dataclass(frozen=True)
class Side:
    """One side of a panel and its distance inwards from the trim; `ends` in page coordinates."""

    name: str
    distance_mm: float
    ends: list[list[float]]
    true_ends: list[list[float]]  # where the live area begins


def check(page: PageUnderCheck) -> CheckResult:
    """Measured on finals whose shape is that of the format, with bleed, without, or with bleed but where the page is bound; quiet
    about any other picture."""
    if page.stage != "final":
        return NotMeasured("Print size is measured on finals.")
    height_px, width_px = page.gray.shape
    page_format = page.format.as_spread() if page.is_spread else page.format
    placement = place_on_paper(width_px, height_px, page_format, page.bound_at)
    if isinstance(placement, NotMeasured):
        return placement
    limits = {**DEFAULTS, **page.tolerances}
    found = _resolution(placement, limits["least_dpi"])
    if not placement.could_be_either:
        found += [finding for panel in page.panels for finding in _near_trim(panel, placement, limits["near_trim_mm"])]
        found += _no_bleed(page, placement, limits["least_dpi"])
    numbers = {"dpi": round(placement.dpi, 1), "with_bleed": placement.with_bleed, "taken_as": placement.describe()}
    return Findings(found=tuple(found), numbers=numbers)


def place_on_paper(
    width_px: int, height_px: int, page_format: PageFormat, bound_at: str | None = None
) -> PrintPlacement | NotMeasured:
    """Takes the picture as the trim size, as trim and bleed or, of a page that is bound at one side, as trim and bleed at the
    others: whichever has its shape; NotMeasured where none has."""
    cut = PrintPlacement(width_px, height_px, page_format, frozenset(), could_be_either=False)
    bled = replace(cut, bled=ALL_SIDES)
    off_trim, off_bleed = _off_shape(cut), _off_shape(bled)
    if bound_at:
        outside = replace(cut, bled=ALL_SIDES - {bound_at})
        if _off_shape(outside) < min(CLOSE_SHAPE, off_trim - SHAPE_TIE, off_bleed - SHAPE_TIE):
            return outside
    if min(off_trim, off_bleed) > SHAPE_TOLERANCE:
        page = f"{page_format.trim_width_mm:.4g} × {page_format.trim_height_mm:.4g} mm with or without bleed"
        return NotMeasured(f"The picture, {width_px} × {height_px} px, has not the shape of the page, {page}.")
    if abs(off_trim - off_bleed) < SHAPE_TIE:
        return replace(cut, could_be_either=page_format.bleed_mm > 0)
    return bled if off_bleed < off_trim else cut


def _off_shape(placement: PrintPlacement) -> float:
    return abs(log(placement.width_px / placement.height_px) - log(placement.width_mm / placement.height_mm))


def _resolution(placement: PrintPlacement, least_dpi: float) -> list[Finding]:
    if placement.has_pixels_for(least_dpi):
        return []
    width_px, height_px = placement.pixels_for(least_dpi)
    text = (
        f"The picture gives {placement.dpi:.0f} dpi at {placement.describe()}; {least_dpi:.0f} dpi are set for this board. "
        "In print, lines get stairs and small lettering blurs. "
        f"Export it at {width_px} × {height_px} px or more from the original; enlarging this picture adds no line. "
        "Printers commonly ask for 300 dpi in tone and 600 dpi in line art: ask yours."
    )
    trim = placement.rectangle(0.0)
    marks = ({"kind": "limit", "points": trim, "label": f"{placement.dpi:.0f} dpi"},)
    return [Finding("resolution-low", None, round(placement.dpi, 1), least_dpi, 0.0, "dpi", 0.95, text,
                    {"region": {"polygon": WHOLE_PICTURE}, "marks": list(marks)})]


def _near_trim(panel: PanelUnderCheck, placement: PrintPlacement, near_trim_mm: float) -> list[Finding]:
    """One finding for all sides of a panel that neither bleed off nor stay in the live area."""
    if panel.left_alone or not panel.framed:
        return []
    error_mm = BORDER_ERROR * max(placement.width_mm, placement.height_mm)
    safe_mm = placement.format.safe_mm
    least_mm = safe_mm - near_trim_mm - error_mm
    sides = [side for side in _sides(panel, placement)
             if placement.bleed_reach_mm(side.name) + error_mm < side.distance_mm < least_mm]
    if not sides:
        return []
    worst = min(sides, key=lambda side: side.distance_mm)
    marks = [mark for side in sides for mark in _marks(side)]
    geometry = {"region": {"polygon": [list(corner) for corner in panel.polygon]}, "marks": marks}
    return [Finding("near-trim", panel.id, round(worst.distance_mm, 1), safe_mm, near_trim_mm, "mm", _confidence(sides, placement),
                    _near_trim_text(sides, worst, placement), geometry)]


def _near_trim_text(sides: list[Side], worst: Side, placement: PrintPlacement) -> str:
    border = listed([side.name for side in sides]) + (" border" if len(sides) == 1 else " borders")
    stand = "stands" if len(sides) == 1 else f"stand too near; the nearest, the {worst.name} one, stands"
    where = f"{abs(worst.distance_mm):.1f} mm {'inside' if worst.distance_mm >= 0 else 'past'} the trim"
    return (
        f"The {border} of this panel {stand} {where}; the live area begins {placement.format.safe_mm:.1f} mm inside it. "
        f"(The picture is taken as {placement.describe()}.) "
        "The cut wanders by a millimetre or two, so such a strip comes out uneven or as a sliver of white. "
        f"Draw the panel on to the bleed, {placement.format.bleed_mm:.1f} mm past the trim, or bring the border inside the live "
        "area; ask your printer."
    )


def _no_bleed(page: PageUnderCheck, placement: PrintPlacement, least_dpi: float) -> list[Finding]:
    """One finding for a picture that ends at the trim though panels run off it."""
    bleed_mm = placement.format.bleed_mm
    if placement.with_bleed or bleed_mm <= 0:
        return []
    reach_mm = BORDER_ERROR * max(placement.width_mm, placement.height_mm)
    running = [(panel, side) for panel in page.panels if not panel.left_alone for side in _sides(panel, placement)
               if side.distance_mm <= reach_mm and _is_drawn(page.gray, side)]
    if not running:
        return []
    orders, names = sorted({panel.order for panel, _ in running}), list(dict.fromkeys(side.name for _, side in running))
    bled = replace(placement, bled=ALL_SIDES)
    as_drawn = placement.width_px * bled.width_mm / placement.width_mm, placement.height_px * bled.height_mm / placement.height_mm
    width_px, height_px = (max(round(drawn), least) for drawn, least in zip(as_drawn, bled.pixels_for(least_dpi), strict=True))
    text = (
        f"The picture is taken as {placement.describe()}, so it ends at the trim, and {_panels(orders)} off the page at its "
        f"{listed(names)}. The cut wanders by a millimetre or two: where it falls outside, a sliver of white is left. Export it "
        f"with bleed, {bled.width_mm:.4g} × {bled.height_mm:.4g} mm, {width_px} × {height_px} px, with the drawing "
        f"going on for {bleed_mm:.2g} mm past the trim. Printers commonly ask for that: your own printer's sheet says."
    )
    marks = [{"kind": "edge", "points": side.ends, "label": ""} for _, side in running]
    return [Finding("no-bleed", None, 0.0, bleed_mm, 0.0, "mm", 0.9, text, {"region": {"polygon": WHOLE_PICTURE}, "marks": marks})]


def _is_drawn(gray: np.ndarray, side: Side) -> bool:
    """Whether anything is drawn along that side of the picture: a panel without a frame may reach the edge and hold paper there."""
    rim = max(2, round(BORDER_ERROR * max(gray.shape)))
    (x0, y0), (x1, y1) = (np.round(np.multiply(end, gray.shape[::-1])).astype(int) for end in side.ends)
    strip = {"left": gray[y0:y1, :rim], "right": gray[y0:y1, -rim:], "top": gray[:rim, x0:x1].T, "bottom": gray[-rim:, x0:x1].T}
    along = strip[side.name].mean(axis=1, dtype=float)
    return bool(len(along)) and float(np.mean(along < 255.0 - INK_STEPS)) > INKED_SHARE


def _panels(orders: list[int]) -> str:
    return f"panel {orders[0]} runs" if len(orders) == 1 else f"panels {listed([str(order) for order in orders])} run"


def _marks(side: Side) -> list[dict]:
    return [
        {"kind": "edge", "points": side.ends, "label": f"{side.distance_mm:.1f} mm"},
        {"kind": "limit", "points": side.true_ends, "label": "live area"},
    ]


def _sides(panel: PanelUnderCheck, placement: PrintPlacement) -> list[Side]:
    xs, ys = [p[0] for p in panel.polygon], [p[1] for p in panel.polygon]
    left, right, top, bottom = min(xs), max(xs), min(ys), max(ys)
    (live_left, live_top), _, (live_right, live_bottom), _ = placement.rectangle(placement.format.safe_mm)
    trim_mm = placement.format.trim_width_mm, placement.format.trim_height_mm
    x_mm, y_mm = placement.from_trim_mm(left, top)
    far_x_mm, far_y_mm = placement.from_trim_mm(right, bottom)
    return [
        Side("left", x_mm, [[left, top], [left, bottom]], [[live_left, top], [live_left, bottom]]),
        Side("top", y_mm, [[left, top], [right, top]], [[left, live_top], [right, live_top]]),
        Side("right", trim_mm[0] - far_x_mm, [[right, top], [right, bottom]], [[live_right, top], [live_right, bottom]]),
        Side("bottom", trim_mm[1] - far_y_mm, [[left, bottom], [right, bottom]], [[left, live_bottom], [right, live_bottom]]),
    ]


def _confidence(sides: list[Side], placement: PrintPlacement) -> float:
    """Surer the further a border stands from either of the two limits."""
    safe_mm = placement.format.safe_mm
    room = max(min(safe_mm - side.distance_mm, side.distance_mm - placement.bleed_reach_mm(side.name)) for side in sides)
    return round(min(0.95, 0.6 + 0.35 * room / 2.0), 2)
