"""The perspective check on real pages: where it sees an eye level, and whether it tells edges that are turned in copies of them.

Which panels show one was listed by eye from the pages alone, before the check was run on them.
"""

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import cv2
import numpy as np

from board.check_contract import Findings, PageUnderCheck, PanelUnderCheck
from board.page_checks import perspective
from board.page_format import FORMATS
from board.page_space import PictureFrame
from tests.bench.real_panels import real_pages
from tests.bench.rows import Row, at_least, at_most

# Panels that show two or more straight edges of a set in one level direction; pages by the order of their names, panels by their
# place in the page's list, both from 0.
SHOW_ONE = {
    1: (0,), 3: (1,), 5: (0, 1), 9: (0, 1, 2), 10: (0,), 11: (0, 4), 12: (0,), 13: (0, 3), 14: (0, 1, 2, 4), 15: (1, 2), 17: (1, 4),
    18: (2,), 19: (3,), 20: (0, 1), 21: (0,), 24: (2,), 26: (4,), 27: (0, 1),
}
TURN_DEG = 6.0
MOST_OF_A_PANEL = 3  # edges, each turned in a copy of its own
LEAST_SHARE = 0.06  # of the panel's diagonal
APART_PX = 12.0  # nearer lines are strokes of one edge
HALF_SHARE = 0.006  # of the diagonal: how far to either side of its line an edge's stroke reaches
FADE_PX = 3  # around which what was rubbed out is filled from


def rows(data: Path) -> Iterator[Row]:
    seen: dict[bool, list[bool]] = {True: [], False: []}  # by whether the panel is listed
    told, notes = [], []
    for number, (gray, page) in enumerate(real_pages(data)):
        frame = PictureFrame(*gray.shape[::-1])
        panels = tuple(PanelUnderCheck(i, i, frame.polygon_to_page(one["polygon"])) for i, one in enumerate(page["panels"], 1))
        result = checked(gray, panels)
        notes.append(len(result.found))
        for place, (panel, numbers) in enumerate(zip(panels, result.numbers["panels"], strict=True)):
            is_seen, is_listed = numbers["eye_level"] is not None, place in SHOW_ONE.get(number, ())
            seen[is_listed].append(is_seen)
            if is_listed and is_seen:
                diagonal_px = float(np.hypot(*np.ptp(frame.polygon_to_pixels(panel.polygon), axis=0)))
                edges = edges_to_turn(numbers["edges"], frame, LEAST_SHARE * diagonal_px)
                told += [is_told(gray, panel, edge, HALF_SHARE * diagonal_px) for edge in edges]
    yield at_least(f"Real pages: eye levels, {len(seen[True])} panels that show one", 100 * np.mean(seen[True]), 60, "%")
    yield Row(f"Real pages: eye levels, the other {len(seen[False])} panels", 100 * np.mean(seen[False]), "%")
    yield at_least(f"Real pages: edges turned by {TURN_DEG:g}° in {len(told)} copies, told", 100 * np.mean(told), 70, "%")
    yield at_most("Real pages: perspective notes a page, if none were right", np.mean(notes), 0.2)


def checked(gray: np.ndarray, panels: tuple[PanelUnderCheck, ...]) -> Findings:
    result = perspective.check(PageUnderCheck(gray, "final", FORMATS["a4"], panels=panels))
    assert isinstance(result, Findings)
    return result


def edges_to_turn(families: Sequence[Mapping[str, Any]], frame: PictureFrame, least_px: float) -> list[np.ndarray]:
    """Of the `families` of edges, as the check tells them, the longest lines (2, 2) px of the page that run to a level point."""
    level = [line for family in families if family["role"] == "level" for line in family["lines"]]
    lines = [np.array([frame.to_pixels(end) for end in line]) for line in level]
    found: list[np.ndarray] = []
    for line in sorted(lines, key=length_of, reverse=True):
        is_apart = all(np.hypot(*(line.mean(0) - other.mean(0))) > APART_PX for other in found)
        if is_apart and length_of(line) >= least_px:
            found.append(line)
    return found[:MOST_OF_A_PANEL]


def is_told(gray: np.ndarray, panel: PanelUnderCheck, edge: np.ndarray, half_px: float) -> bool:
    """Whether a finding of the copy marks an edge that lies where this one was turned."""
    frame = PictureFrame(*gray.shape[::-1])
    marks = [mark for one in checked(turned_copy(gray, edge, half_px), (panel,)).found for mark in one.geometry["marks"]]
    told = [np.array([frame.to_pixels(point) for point in mark["points"]]) for mark in marks if mark["kind"] == "edge"]
    return any(np.hypot(*(line.mean(0) - edge.mean(0))) < length_of(edge) / 2 for line in told)


def turned_copy(gray: np.ndarray, edge: np.ndarray, half_px: float) -> np.ndarray:
    """The picture with the stroke along an edge (2, 2) px rubbed out, and put back turned about its middle."""
    band = np.zeros_like(gray)
    cv2.line(band, *np.round(edge).astype(int).tolist(), 255, max(FADE_PX, round(2 * half_px)))
    rubbed = cv2.inpaint(gray, band, FADE_PX, cv2.INPAINT_TELEA)
    turn = cv2.getRotationMatrix2D(tuple(edge.mean(0).tolist()), TURN_DEG, 1.0)
    stroke = cv2.warpAffine(gray.astype(np.float32) - rubbed, turn, gray.shape[::-1])
    return np.clip(rubbed + stroke, 0, 255).astype(np.uint8)


def length_of(line: np.ndarray) -> float:
    return float(np.hypot(*(line[1] - line[0])))
