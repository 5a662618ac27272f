"""Panels on real pages against outlines made by hand, as drawn and with lettering laid over them."""

import json
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import cv2
import numpy as np
from scipy.optimize import linear_sum_assignment

from board.vision.panel_frames import find_panels
from tests.bench.rows import Row, at_least

SAME = 0.8  # intersection over union from which a panel counts as found


@dataclass
class Tally:
    hit: int = 0
    true: int = 0
    found: int = 0
    pages: int = 0
    pages_right: int = 0
    seconds: list[float] = field(default_factory=list)

    @property
    def worse_of_both(self) -> float:
        """The lower of recall and precision, percent."""
        return 100 * min(self.hit / max(1, self.true), self.hit / max(1, self.found))


def rows(data: Path) -> Iterator[Row]:
    plain, lettered = ({"framed": Tally(), "open": Tally()} for _ in range(2))
    for gray, page in real_pages(data):
        count_page(plain, gray, page)
        over = data / "pages" / page["name"].replace(".png", ".lettering.png")
        if over.exists():
            count_page(lettered, with_lettering(gray, over), page)
    for label, tallies, bars in (("", plain, (98, 92, 85)), (", lettered", lettered, (96, 85, 85))):
        framed, open_ = tallies["framed"], tallies["open"]
        yield at_least(f"Real pages{label}: framed panels found and right", framed.worse_of_both, bars[0], "%")
        right = 100 * framed.pages_right / framed.pages
        yield at_least(f"Real pages{label}: framed pages all right, in order", right, bars[1], "%")
        yield at_least(f"Real pages{label}: panels of pages with open ones", open_.worse_of_both, bars[2], "%")
    yield Row("Real pages: finding panels, median", 1000 * np.median(plain["framed"].seconds), "ms")


def real_pages(data: Path) -> Iterator[tuple[np.ndarray, dict]]:
    """Each gray, with what was written down of it and its file's `name`, in the order of these."""
    for name, page in sorted(json.loads((data / "pages" / "panels.json").read_text()).items()):
        yield cv2.imread(str(data / "pages" / name), cv2.IMREAD_GRAYSCALE), {**page, "name": name}


def with_lettering(gray: np.ndarray, path: Path) -> np.ndarray:
    ink = cv2.imread(str(path), cv2.IMREAD_UNCHANGED)
    alpha = ink[..., 3] / 255.0
    return (gray * (1 - alpha) + cv2.cvtColor(ink[..., :3], cv2.COLOR_BGR2GRAY) * alpha).astype(np.uint8)


def count_page(tallies: dict[str, Tally], gray: np.ndarray, page: dict) -> None:
    is_open = any("borderless" in panel["flags"] or panel.get("edge") == "open" for panel in page["panels"])
    tally = tallies["open" if is_open else "framed"]
    started = time.perf_counter()
    layout = find_panels(gray, reading=page.get("reading", "ltr"))
    tally.seconds.append(time.perf_counter() - started)
    true = [mask(panel["polygon"], gray.shape) for panel in page["panels"]]
    found = [mask(polygon, gray.shape) for polygon in layout.panels]
    pairs = matched(true, found)
    orders = [list(range(len(true))), *page.get("order_alternatives", [])]
    in_order = [i for i, _ in sorted(pairs, key=lambda pair: pair[1])]
    tally.hit, tally.true, tally.found = tally.hit + len(pairs), tally.true + len(true), tally.found + len(found)
    tally.pages += 1
    tally.pages_right += len(pairs) == len(true) == len(found) and in_order in orders


def mask(polygon: np.ndarray, shape: tuple[int, ...]) -> np.ndarray:
    filled = np.zeros(shape, np.uint8)
    cv2.fillPoly(filled, [np.round(np.asarray(polygon, float)).astype(np.int32)], 1)
    return filled.astype(bool)


def matched(true: list[np.ndarray], found: list[np.ndarray]) -> list[tuple[int, int]]:
    if not true or not found:
        return []
    overlap = np.array([[(a & b).sum() / max(1, (a | b).sum()) for b in found] for a in true])
    return [(i, j) for i, j in zip(*linear_sum_assignment(-overlap), strict=True) if overlap[i, j] >= SAME]
