"""The bench's own judgement: which report is right, which is wrong, and what is not to be counted at all."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from board.check_contract import Finding
from board.vision.line_segments import find_lines
from fixtures.bench_faults import AMOUNTS
from fixtures.bench_pages import BenchPage, bench_pages, draw_bench_page
from fixtures.shown_faults import is_shown, shown_edges
from tests.bench.drawn_comic import covered_px, is_elsewhere, is_found
from tests.bench.fault_matching import Outcome, edge_along, is_right, outcome_of, tells_hand_noise
from tests.bench.fault_table import precision, recall, reports
from tests.bench.real_perspective import TURN_DEG, turned_copy
from tests.bench.rows import at_least
from tests.bench.under_check import PANEL, Reports, page_as_given


@pytest.fixture(scope="module")
def turned() -> BenchPage:
    page = draw_bench_page(707, "final", "turned-edge", 6.0)
    assert page and page.fault
    return page


@pytest.fixture(scope="module")
def two_figures() -> BenchPage:
    return next(page for page in bench_pages("figure-height", 12, "thumbnail", first_seed=901) if page.seed % 2)


def report(page: BenchPage, lines_px: list, finding: str = "stray-edge", panel: int | None = PANEL) -> Finding:
    size = np.array(page.gray.shape[::-1])
    marks = [{"kind": "edge", "points": (np.array(line) / size).tolist()} for line in lines_px]
    corners = np.array(lines_px).reshape(-1, 2) / size
    (left, top), (right, bottom) = corners.min(axis=0), corners.max(axis=0)
    region = {"polygon": [[left, top], [right, top], [right, bottom], [left, bottom]]}
    return Finding(finding, panel, 6.0, 0.0, 4.0, "°", 0.9, "", {"region": region, "marks": marks})


def told(page: BenchPage, *found: Finding) -> Outcome:
    return outcome_of(page, Reports(found, (), {}))


def turned_line(page: BenchPage) -> list:
    return next(edge["ends_px"] for edge in page.panel["edges"] if "turned_deg" in edge)


def other_line(page: BenchPage) -> list:
    """The longest edge of the things that nothing is wrong with: the hand bends it least."""
    others = [np.array(edge["ends_px"]) for edge in page.panel["edges"] if edge["solid"] != page.fault["target"]]
    return max(others, key=lambda ends: np.hypot(*(ends[1] - ends[0]))).tolist()


def test_a_report_on_the_turned_edge_is_right(turned: BenchPage) -> None:
    outcome = told(turned, report(turned, [turned_line(turned)]))
    assert (outcome.right, outcome.wrong) == (("stray-edge",), ())


def test_a_report_on_another_thing_is_wrong_and_does_not_find_the_fault(turned: BenchPage) -> None:
    outcome = told(turned, report(turned, [other_line(turned)]))
    assert (outcome.found, outcome.wrong) == (False, ("stray-edge",))


@pytest.mark.parametrize(("finding", "panel"), [("eye-level-split", PANEL), ("stray-edge", None), ("stray-edge", 2)])
def test_the_right_place_with_another_finding_or_panel_is_wrong(turned: BenchPage, finding: str, panel: int | None) -> None:
    assert not told(turned, report(turned, [turned_line(turned)], finding, panel)).found


def test_a_report_that_points_everywhere_is_wrong(turned: BenchPage) -> None:
    everything = [edge["ends_px"] for edge in turned.panel["edges"]]
    assert not told(turned, report(turned, everything)).found


def test_any_report_on_a_clean_page_is_wrong(turned: BenchPage) -> None:
    clean = draw_bench_page(turned.seed, turned.stage)
    assert clean is not None
    assert told(clean, report(clean, [turned_line(turned)])).wrong == ("stray-edge",)


def test_an_edge_that_the_hand_bent_itself_counts_neither_way(turned: BenchPage) -> None:
    clean = draw_bench_page(turned.seed, turned.stage)
    assert clean is not None
    edge = next(edge for edge in clean.panel["edges"] if edge["family"] == "upright" and "drawn_px" in edge)
    bent = [bent_by(clean, edge, degrees) for degrees in (2.5, 6.0)]
    neither, wrong = (tells_hand_noise(report(page, [edge["ends_px"]]), page) for page in bent)
    assert neither
    assert not wrong


def bent_by(page: BenchPage, edge: dict, degrees: float) -> BenchPage:
    ends = np.array(edge["ends_px"])
    c, s = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    drawn = ends.mean(axis=0) + (ends - ends.mean(axis=0)) @ np.array([[c, s], [-s, c]])
    panel = {**page.panel, "edges": [{**edge, "drawn_px": drawn.tolist()}]}
    return replace(page, truth={**page.truth, "panels": [panel]})


def test_of_figures_the_one_that_is_told_has_to_be_the_one(two_figures: BenchPage) -> None:
    lines = {one["character"]: [one["crown_px"], one["sole_px"]] for one in two_figures.panel["figures"]}
    fault = two_figures.fault
    right = {name: is_right(report(two_figures, [line], "height-off"), two_figures, fault) for name, line in lines.items()}
    assert [name for name, is_so in right.items() if is_so] == [fault["target"]]


def test_marks_are_clicked_with_a_hand_s_error_and_never_give_the_eye_level(two_figures: BenchPage) -> None:
    given = page_as_given(two_figures)
    size = np.array(two_figures.gray.shape[::-1])
    assert not given.earlier
    assert len(given.figures) >= 2
    for figure in given.figures:
        true = next(one for one in two_figures.panel["figures"] if one["character"] == figure.character.name)
        height_px = np.hypot(*np.subtract(true["crown_px"], true["sole_px"]))
        off = [np.hypot(*(np.array(figure.marks[name]) * size - true[f"{name}_px"])) / height_px for name in ("crown", "sole")]
        assert 0 < max(off) < 0.08


def test_a_line_is_given_to_the_edge_it_runs_along_and_to_none_if_it_crosses() -> None:
    edges = [{"solid": name, "ends_px": [[0.0, y], [200.0, y]]} for name, y in (("near", 100.0), ("far", 120.0))]
    along, crossing = np.array([[20.0, 103.0], [90.0, 104.0]]), np.array([[100.0, 80.0], [101.0, 140.0]])
    assert edge_along(along, edges) is edges[0]
    assert edge_along(crossing, edges) is None


def outcome(kind: str | None, size: float, right: tuple = (), wrong: tuple = ()) -> Outcome:
    return Outcome(kind, "final", size, size, 1, right, wrong)


def test_precision_and_recall_count_what_they_say() -> None:
    results = [
        outcome("turned-edge", 6.0, ("stray-edge",)), outcome("turned-edge", 8.0), outcome("turned-edge", 4.0, ("stray-edge",)),
        outcome("turned-edge", 2.0, ("stray-edge",)), outcome("turned-edge", 3.0), outcome(None, 0.0, (), ("stray-edge",)),
        outcome("figure-height", 18.0, (), ("stray-edge",)),
    ]
    assert recall(results[:5]) == pytest.approx(200 / 3)  # the small ones are not asked for
    assert reports(results, ["stray-edge"]) == (2, 2)  # nor do they count as right
    assert precision(results, ["stray-edge"]) == pytest.approx(50.0)


def test_where_nothing_was_reported_there_is_no_precision_and_no_bar_held() -> None:
    row = at_least("precision", precision([outcome(None, 0.0)], ["stray-edge"]), 98)
    assert row.holds is False
    assert row.as_json()["value"] is None


@pytest.mark.parametrize("kind", ["turned-edge", "turned-solid", "eye-level-split"])
def test_a_fault_under_white_paint_is_not_asked_for(kind: str) -> None:
    page = next(iter(bench_pages(kind, 1, "pencil", first_seed=503)))  # whose first picture shows it
    (left, top), _, (right, bottom), _ = np.array(page.fault["region_px"])
    painted = page.gray.copy()
    painted[int(max(top, 0)) : int(bottom) + 1, int(max(left, 0)) : int(right) + 1] = 250
    assert is_shown(page.gray, page.panel)
    assert not is_shown(painted, page.panel)


def test_exact_edges_miss_nothing_and_a_turned_one_misses_by_its_turn(turned: BenchPage) -> None:
    edges = shown_edges(turned.gray, turned.panel)
    (miss,) = [edge.miss_deg for edge in edges if edge.is_turned]
    assert miss == pytest.approx(abs(turned.fault["amount"]), abs=0.05)
    neighbours = [edge.miss_deg for edge in edges if not edge.is_turned]
    assert max(neighbours) < 1e-6


def test_every_kind_of_fault_is_asked_for_in_a_size_that_counts() -> None:
    assert all(len(set(sizes)) >= 4 for sizes in AMOUNTS.values())


@pytest.mark.parametrize(("turn_deg", "off_px", "share", "found"), [
    (0.0, 0.0, 1.0, True), (0.4, 0.0, 1.0, True), (0.0, 1.4, 0.6, True),
    (0.7, 0.0, 1.0, False), (0.0, 1.7, 1.0, False), (0.0, 0.0, 0.4, False),
])
def test_a_drawn_line_is_found_within_half_a_degree_and_a_pixel_and_a_half(
    turn_deg: float, off_px: float, share: float, found: bool
) -> None:
    line = np.array([[100.0, 100.0], [300.0, 100.0]])
    half = 100 * share * np.array([np.cos(np.radians(turn_deg)), np.sin(np.radians(turn_deg))])
    middle = np.array([200.0, 100.0 + off_px])
    assert is_found(line, np.concatenate([middle - half, middle + half])[None]) is found


def test_overlapping_pieces_of_a_line_are_counted_once() -> None:
    assert covered_px(np.array([[0.0, 10.0], [5.0, 12.0], [20.0, 21.0]])) == pytest.approx(13.0)


def test_segments_on_a_balloon_or_along_the_border_are_no_part_of_the_picture() -> None:
    square = [[0.0, 0.0], [400.0, 0.0], [400.0, 300.0], [0.0, 300.0]]
    balloon = {"polygon_px": [[40.0, 40.0], [120.0, 40.0], [120.0, 90.0], [40.0, 90.0]]}
    panel = {"polygon_px": square, "framed": True, "balloons": [balloon]}
    in_balloon, on_border, in_picture = [[60, 60], [100, 60]], [[50, 299], [250, 298]], [[150, 150], [260, 190]]
    assert [is_elsewhere(np.array(line, float), panel) for line in (in_balloon, on_border, in_picture)] == [True, True, False]


def test_the_stroke_of_an_edge_is_turned_about_its_middle_and_nothing_is_left_of_it() -> None:
    edge = np.array([[60.0, 100.0], [240.0, 120.0]])
    gray = cv2.line(np.full((220, 300), 250, np.uint8), (60, 100), (240, 120), 20, 3)
    line = max(find_lines(turned_copy(gray, edge, 4.0)).segments, key=lambda one: np.hypot(*(one[2:] - one[:2])))
    run, step = (line[2:] - line[:2]) * np.sign(line[2] - line[0]), edge[1] - edge[0]
    turn = np.degrees(np.arctan2(step[1], step[0]) - np.arctan2(run[1], run[0]))
    assert turn == pytest.approx(TURN_DEG, abs=0.3)
    assert np.hypot(*(line.reshape(2, 2).mean(0) - edge.mean(0))) < 2
    assert turned_copy(gray, edge, 4.0)[100, 62] > 230  # where its end was
