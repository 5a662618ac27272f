"""How figures are clicked: by eye on the page, or crown and chin close up, as the Desk's tool has people do it."""

from dataclasses import dataclass

import numpy as np

from board.vision.mark_snapping import SnappedMark, snap_marks
from fixtures.bench_pages import PX_PER_MM, BenchPage
from fixtures.hands import HANDS

BY_EYE = 0.015  # 1 sigma of a clicked mark, as a share of the figure's height
SUREST = 0.002  # nobody marks a figure more exactly by eye
# As static/js/screens/figures_close_up.js has it, on a screen of 1440 by 900.
POINTED_PX = 2.0
VIEW_PX, SHOWN, MOST_ZOOM, SHEET_PX = 580.0, 0.42, 24.0, 1200.0


@dataclass(frozen=True)
class Clicking:
    """`by_eye`: 1 sigma of marks set on the page; `pointed_px`: of crown and chin set close up, on the screen; None without."""

    name: str
    by_eye: float = BY_EYE
    pointed_px: float | None = None


LOOSE = Clicking("by eye, off by 1.5 % of the height")
CLOSE_UP = Clicking("close up, off by 2 px of the screen", pointed_px=POINTED_PX)
OTHERS = (Clicking("by eye, off by 2.5 % of the height", 0.025), LOOSE, Clicking("by eye, off by 0.4 % of the height", 0.004),
          Clicking("close up, off by 4 px of the screen", pointed_px=2 * POINTED_PX))


def click_figure(page: BenchPage, figure: dict, clicking: Clicking, rng: np.random.Generator) -> dict[str, SnappedMark]:
    """Crown, chin and soles with the error of a hand, moved and doubted as an upload's are.

    What is pointed at close up is a drawn line: a click falls somewhere on its width, which stands about the true place.
    """
    points = {"crown": figure["crown_px"], "sole": figure["sole_px"]}
    points |= {name: figure["joints_px"][name] for name in ("chin",) if name in figure["joints_px"]}
    tall_px = float(np.hypot(*np.subtract(figure["crown_px"], figure["sole_px"])))
    clicks = {name: np.add(point, rng.normal(0, clicking.by_eye * tall_px, 2)) for name, point in points.items()}
    pointed_px = {}
    if clicking.pointed_px is not None:
        hand_px = clicking.pointed_px / zoom_on(tall_px, page)
        for name in {"crown", "chin"} & set(points):
            on_line_px = line_px(tall_px, page) * rng.uniform(-0.5, 0.5)
            clicks[name] = np.add(points[name], rng.normal(0, hand_px, 2)) + [0.0, on_line_px]
            pointed_px[name] = hand_px
    marks = {name: (float(x), float(y)) for name, (x, y) in clicks.items()}
    return snap_marks(page.gray, marks, max(clicking.by_eye, SUREST), pointed_px)


def zoom_on(tall_px: float, page: BenchPage) -> float:
    """Pixels of the screen for one of the picture."""
    return min(VIEW_PX / (SHOWN * tall_px), MOST_ZOOM * SHEET_PX / page.gray.shape[1])


def line_px(tall_px: float, page: BenchPage) -> float:
    """As the fixtures draw the outline of a figure of that size."""
    mm = PX_PER_MM[page.stage]
    return HANDS[page.stage].widths_mm["figure"] * mm * float(np.clip(0.35 + tall_px / mm / 90, 0.4, 1.25))
