"""Panels and the stills that they were drawn from, by known cameras: where a still lies under its panel is exact."""

from dataclasses import dataclass, replace

import numpy as np

from board.page_space import PictureFrame
from board.still_placement import StillToPage
from fixtures.bench_faults import FAULTS, LEAST, seen_things
from fixtures.bench_pages import PX_PER_MM, BenchPage, bench_plan
from fixtures.camera import focal_for
from fixtures.faults import raise_view
from fixtures.hands import HANDS
from fixtures.layouts import rectangle
from fixtures.page_drawing import PagePlan, draw_page
from fixtures.panel_drawing import Box, PanelDrawing
from fixtures.pictures import draw_still
from fixtures.shot import Shot
from fixtures.shown_faults import INKED_SHARE, MISSES_DEG, VISIBLE_PX, shown_edges
from fixtures.turned_edges import length_px, turned_ends

SHAPES = ((160.0, 90.0), (120.0, 90.0), (100.0, 100.0))  # of stills, as cameras have them
WIDER = 0.75, 1.25  # the still's angle of view for the panel's, as tangents


@dataclass(frozen=True)
class StillPair:
    """`still` uint8 gray; `placed` where it truly lies; `camera` as somebody would type it in: focal length in px of the still."""

    page: BenchPage
    still: np.ndarray
    placed: StillToPage
    style: str
    focal_px: float
    pitch_deg: float
    roll_deg: float
    yaw_deg: float

    kind: str | None = None
    slip_px: tuple[float, float] = (0.0, 0.0)  # by which all of it lies elsewhere than somebody placed it

    @property
    def S_still_to_page(self) -> np.ndarray:
        turn, shift = self.placed.turn, self.placed.shift
        return np.array([[turn.real, -turn.imag, shift.real], [turn.imag, turn.real, shift.imag], [0, 0, 1.0]])

    @property
    def corners_px(self) -> np.ndarray:
        return np.array(self.page.panel["polygon_px"])


def draw_still_pair(seed: int, stage: str, style: str, kind: str | None = None, amount: float = 0.0) -> StillPair | None:
    """The same seed gives the same pair; without `kind` the panel is the clean twin. None where nobody could see the fault."""
    shot, plan = bench_plan(seed, stage)
    rng = np.random.default_rng([seed, 21])
    box = _box(plan)
    seen = _cropped(shot, box, PX_PER_MM[stage], rng)
    drawn = seen
    if kind not in (None, "shifted"):
        faulted = _faulted(seen, box, stage, kind, amount, np.random.default_rng([seed, 9]))
        if faulted is None:
            return None
        drawn = faulted
    picture, truth = draw_page(replace(plan, shots=[drawn]))
    faults = truth["panels"][0]["faults"]
    page = BenchPage(np.asarray(picture.convert("L")), truth, faults[0] if faults else None, seed, stage)
    pair = replace(_with_still(page, shot, seen, box, style, rng), kind=kind)
    if kind == "shifted":
        angle = rng.uniform(0, 2 * np.pi)
        return replace(pair, slip_px=tuple(float(amount * (box[2] - box[0]) * way) for way in (np.cos(angle), np.sin(angle))))
    return pair if shows_in_both(pair, seen, box) else None


def _faulted(shot: Shot, box: Box, stage: str, kind: str, amount: float, rng: np.random.Generator) -> Shot | None:
    if kind != "raised-view":
        return FAULTS[kind](shot, box, stage, PX_PER_MM[stage], amount, rng)
    things = seen_things(shot, box, stage, PX_PER_MM[stage], LEAST, "level")
    if not things:
        return None
    way = amount if rng.random() < 0.5 else -amount
    for share in (way, -way):
        try:
            return raise_view(shot, things[0], share, box)
        except ValueError:
            continue
    return None


def shows_in_both(pair: StillPair, seen: Shot, box: Box) -> bool:
    """Whether the fault can be seen: its edges inked on the page, and where they should run shown by the still."""
    fault, panel = pair.page.fault, pair.page.panel
    if fault is None or fault["kind"] == "raised-view":
        return True
    wrong = set(fault["target"].split(", "))
    own = [edge for edge in shown_edges(pair.page.gray, panel) if edge.solid in wrong]
    if fault["kind"] in ("turned-edge", "turned-upright"):
        true = [turned_ends(np.array(edge["ends_px"]), -edge["turned_deg"]) for edge in panel["edges"] if "turned_deg" in edge]
        return any(edge.is_turned for edge in own) and any(still_shows(pair, ends) for ends in true)
    drawing = PanelDrawing(seen, box, 1, HANDS[pair.page.stage], pair.page.truth["px_per_mm"], np.random.default_rng(0))
    true = [edge.ends_px for edge in drawing.edges if edge.solid in wrong and abs(edge.direction[1]) < LEVEL]
    off = [edge for edge in own if edge.family != "upright" and edge.miss_deg >= MISSES_DEG]
    fewest = 3 if fault["kind"] == "eye-level-split" else 2
    if fault["kind"] == "turned-solid" and max((edge.miss_deg for edge in off), default=0.0) < COUNTS_FROM_DEG:
        return False
    return len(off) >= fewest and sum(length_px(ends) >= VISIBLE_PX and still_shows(pair, ends) for ends in true) >= fewest


def still_shows(pair: StillPair, ends_px: np.ndarray) -> bool:
    """Whether the still has a step of tone, or a line, along most of an edge (2, 2) px of the page."""
    back = np.linalg.inv(pair.S_still_to_page)
    ends = ends_px @ back[:2, :2].T + back[:2, 2]
    along = (ends[1] - ends[0]) / max(length_px(ends), 1e-9)
    at = ends[0] + np.linspace(0.05, 0.95, 40)[:, None] * (ends[1] - ends[0])
    across = np.arange(-STEP_PX, STEP_PX + 1)[:, None, None] * np.array([-along[1], along[0]])
    x, y = np.floor((at + across).reshape(-1, 2)).astype(int).T
    inside = ((x >= 0) & (y >= 0) & (x < pair.still.shape[1]) & (y < pair.still.shape[0])).reshape(len(across), -1).all(0)
    values = pair.still[np.clip(y, 0, pair.still.shape[0] - 1), np.clip(x, 0, pair.still.shape[1] - 1)].reshape(len(across), -1)
    return float((inside & (np.ptp(values.astype(int), axis=0) >= STEP)).mean()) >= INKED_SHARE


STEP_PX, STEP = 4, 20  # how far to either side, and by how many grey levels, a still's edge shows
LEVEL = 0.01
COUNTS_FROM_DEG = 4.0  # off by less, an edge need not be told


def _box(plan: PagePlan) -> Box:
    corners = np.array(plan.cells[0].corners) * plan.size_px[0] / plan.page_mm[0]
    return (*corners.min(axis=0), *corners.max(axis=0))


def _cropped(shot: Shot, box: Box, px_per_mm: float, rng: np.random.Generator) -> Shot:
    """As the artist frames it: the still slid under the panel, sometimes turned a little."""
    wide, high = box[2] - box[0], box[3] - box[1]
    slid = rng.uniform(-0.12, 0.12, 2) * (wide, high) / px_per_mm
    turn = float(rng.uniform(-3, 3)) if rng.random() < 0.3 else 0.0
    return replace(shot, shift_mm=(float(slid[0]), float(slid[1])), roll_deg=shot.roll_deg + turn)


def _with_still(page: BenchPage, shot: Shot, seen: Shot, box: Box, style: str, rng: np.random.Generator) -> StillPair:
    shape = SHAPES[int(rng.integers(len(SHAPES)))]
    half = np.tan(np.radians(shot.fov_deg / 2)) * rng.uniform(*WIDER)
    taken = replace(shot, fov_deg=float(np.degrees(2 * np.arctan(half))))
    picture, _ = draw_still(taken, rectangle(0, 0, *shape), page.seed, style)
    size = picture.size
    focal_px = focal_for(taken.fov_deg, max(size))
    camera = seen.camera(box, page.truth["px_per_mm"])
    turn = np.exp(1j * np.radians(seen.roll_deg - shot.roll_deg) * ROLLS) * camera.focal_px / focal_px
    shift = complex(*camera.centre_px) - turn * complex(size[0] / 2, size[1] / 2)
    frames = PictureFrame(*size), PictureFrame(page.gray.shape[1], page.gray.shape[0])
    placed = StillToPage(complex(turn), complex(shift), *frames)
    gray = np.asarray(picture.convert("L"))
    return StillPair(page, gray, placed, style, focal_px, -shot.pitch_deg, ROLLS * shot.roll_deg, shot.yaw_deg)


ROLLS = -1.0  # the set's cameras tip to the right where a typed one lets the eye level fall to the left
