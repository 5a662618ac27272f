"""Panels and the stills that they were drawn from, by known cameras: where a still lies under its panel is exact."""

from dataclasses import dataclass, replace

import numpy as np

from board.page_space import PictureFrame
from board.still_placement import StillToPage
from fixtures.bench_faults import FAULTS
from fixtures.bench_pages import PX_PER_MM, BenchPage, bench_plan, shows_its_fault
from fixtures.camera import focal_for
from fixtures.layouts import rectangle
from fixtures.page_drawing import PagePlan, draw_page
from fixtures.panel_drawing import Box
from fixtures.pictures import draw_still
from fixtures.shot import Shot

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
    if kind is not None:
        faulted = FAULTS[kind](seen, box, stage, PX_PER_MM[stage], amount, np.random.default_rng([seed, 9]))
        if faulted is None:
            return None
        drawn = faulted
    picture, truth = draw_page(replace(plan, shots=[drawn]))
    faults = truth["panels"][0]["faults"]
    page = BenchPage(np.asarray(picture.convert("L")), truth, faults[0] if faults else None, seed, stage)
    if page.fault is not None and not shows_its_fault(page):
        return None
    return _with_still(page, shot, seen, box, style, rng)


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
