"""Holds what the checks report on one drawn panel against the fault that was put in.

A report is right only if its finding, its panel and its object match; any other report on the page is wrong.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from board.check_contract import Finding
from board.page_space import PictureFrame, middle_of
from fixtures.bench_pages import BenchPage, fault_size
from fixtures.shown_faults import miss_deg
from fixtures.wide_view import nearest_beyond_deg
from tests.bench.under_check import PANEL, Reports, reports_on

# Which findings answer which fault.
ANSWERS = {
    "turned-edge": ("stray-edge",),
    "turned-upright": ("upright-lean",),
    "turned-solid": ("stray-edge",),
    "eye-level-split": ("eye-level-split",),
    "outside-cone": ("outside-cone",),
    "figures-eye-level": ("height-off",),
    "figure-height": ("height-off",),
    "head-count": ("heads-off",),
}
OF_FIGURES = ("figures-eye-level", "figure-height", "head-count")
OF_EDGES = ("stray-edge", "upright-lean")
NOISE_DEG = 1.5, 4.0
CONE_NEAR_DEG = 3.0
NEAR_PX, NEAR_DEG = 9.0, 7.0  # a measured line follows a drawn edge within the hand's reach


@dataclass(frozen=True)
class Outcome:
    """Of one panel: the findings that were right and those that were wrong. `size` is the fault as a reader meets it."""

    kind: str | None
    stage: str
    amount: float
    size: float
    seed: int
    right: tuple[str, ...] = ()
    wrong: tuple[str, ...] = ()
    silent: tuple[str, ...] = ()
    seconds: dict[str, float] = field(default_factory=dict)
    heads: dict[str, tuple[int, int]] = field(default_factory=dict)  # by how figures were clicked: notes right, and wrong

    @property
    def found(self) -> bool:
        return bool(self.right)


def outcome_of(page: BenchPage, reports: Reports | None = None) -> Outcome:
    reports = reports or reports_on(page)
    fault = page.fault
    right = [report for report in reports.found if fault and is_right(report, page, fault)]
    other = [report for report in reports.found if report not in right]
    wrong = [report for report in other if not (tells_hand_noise(report, page) or is_so_wide(report, page))]
    heads = {}
    for name, told in reports.heads.items():
        count = sum(bool(fault) and is_right(one, page, fault) for one in told)
        heads[name] = count, len(told) - count
    return Outcome(fault and fault["kind"], page.stage, abs(fault["amount"]) if fault else 0.0, fault_size(page), page.seed,
                   tuple(one.finding for one in right), tuple(one.finding for one in wrong), reports.silent, reports.seconds, heads)


def is_right(report: Finding, page: BenchPage, fault: dict[str, Any]) -> bool:
    if report.finding not in ANSWERS[fault["kind"]] or report.panel != PANEL:
        return False
    targets = set(fault["target"].split(", "))
    if fault["kind"] in OF_FIGURES:
        return bool(targets & set(figures_told(report, page)))
    told = edges_told(report, page)
    solids = Counter(edge["solid"] if edge else None for edge in told)
    if fault["kind"] == "outside-cone":
        return bool(targets & set(solids))  # one report names all things that are outside
    mostly = sum(solids[name] for name in targets) * 2 >= len(told) > 0
    needs_turned = fault["kind"] in ("turned-edge", "turned-upright")
    return mostly and (not needs_turned or any(edge and "turned_deg" in edge for edge in told))


def tells_hand_noise(report: Finding, page: BenchPage) -> bool:
    """Edges that the hand itself bent by 1.5 to 4 degrees are neither right nor wrong to tell."""
    if report.finding not in OF_EDGES:
        return False
    points = {one["family"]: np.array(one["point"]) for one in page.panel["vanishing_points"]}
    told = [edge for edge in edges_told(report, page) if edge and "drawn_px" in edge and edge["family"] in points]
    misses = [miss_deg(np.array(edge["drawn_px"]), points[edge["family"]]) for edge in told]
    return bool(misses) and all(NOISE_DEG[0] <= miss < NOISE_DEG[1] for miss in misses)


def is_so_wide(report: Finding, page: BenchPage) -> bool:
    """A lens as wide as a seed has it puts other things outside the cone too, on clean panels as well: neither right nor wrong."""
    if report.finding != "outside-cone":
        return False
    told, lines_px = edges_told(report, page), lines_told(report, page)
    drawn = [line for line, edge in zip(lines_px, told, strict=True) if edge]
    wide = nearest_beyond_deg(np.array(drawn), page.panel["camera"]) > report.tolerance - CONE_NEAR_DEG if drawn else False
    return wide and len(drawn) * 2 >= len(lines_px)


def edges_told(report: Finding, page: BenchPage) -> list[dict[str, Any] | None]:
    """For each line that a report calls wrong, the drawn edge it follows; None where it follows none."""
    return [edge_along(line_px, page.panel["edges"]) for line_px in lines_told(report, page)]


def lines_told(report: Finding, page: BenchPage) -> list[np.ndarray]:
    return in_pixels([mark["points"] for mark in report.geometry["marks"] if mark["kind"] == "edge"], page)


def edge_along(line_px: np.ndarray, edges: Sequence[dict[str, Any]]) -> dict[str, Any] | None:
    """The drawn edge (with `ends_px`) that a line (2, 2) px runs along, the nearest of those that it could be."""
    ends = np.array([edge["ends_px"] for edge in edges]).reshape(-1, 2, 2)
    along = ends[:, 1] - ends[:, 0]
    length = np.hypot(*along.T).clip(1e-9)
    t = (((line_px.mean(axis=0) - ends[:, 0]) * along).sum(1) / length**2).clip(0, 1)
    gap = np.hypot(*(line_px.mean(axis=0) - ends[:, 0] - t[:, None] * along).T)
    own = line_px[1] - line_px[0]
    turn = np.degrees(np.arcsin((np.abs(own[0] * along[:, 1] - own[1] * along[:, 0]) / length / np.hypot(*own)).clip(0, 1)))
    cost = np.where((gap <= NEAR_PX) & (turn <= NEAR_DEG), gap / NEAR_PX + turn / NEAR_DEG, np.inf)
    return edges[int(cost.argmin())] if len(edges) and np.isfinite(cost.min()) else None


def figures_told(report: Finding, page: BenchPage) -> list[str]:
    """The figures whose crown-to-soles line a report draws as wrong; where it draws none, the one that its region is around."""
    if report.finding != "height-off":
        frame = PictureFrame(page.gray.shape[1], page.gray.shape[0])
        return [figure_nearest(np.array(frame.to_pixels(middle_of(report.geometry["region"]))), page)]
    return [figure_nearest(line.mean(axis=0), page) for line in lines_told(report, page)]


def figure_nearest(point_px: np.ndarray, page: BenchPage) -> str:
    def gap(figure: dict[str, Any]) -> float:
        return float(np.hypot(*(np.add(figure["crown_px"], figure["sole_px"]) / 2 - point_px)))

    return min(page.panel["figures"], key=gap)["character"]


def in_pixels(lines: Sequence[Sequence[Sequence[float]]], page: BenchPage) -> list[np.ndarray]:
    size = np.array(page.gray.shape[::-1])
    return [np.array(line) * size for line in lines]
