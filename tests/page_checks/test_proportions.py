"""Proportions: marked figures are held against their model sheets, and what a picture foreshortens is left out."""

from dataclasses import replace

import numpy as np
import pytest

from board.check_contract import MARK_KINDS, CharacterUnderCheck, FigureUnderCheck, Findings, PageUnderCheck, PanelUnderCheck
from board.not_measured import NotMeasured
from board.page_checks.proportions import check
from board.page_format import FORMATS
from board.vision.camera import camera_from_angles

SIZE = (1000, 1500)
BLANK = np.full((1500, 1000), 255, np.uint8)
PANEL = PanelUnderCheck(7, 1, ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)))
WENNA = CharacterUnderCheck(1, "Wenna", 1.7, 7.5, {
    "shoulder-height": 0.82, "crotch-height": 0.48, "knee-height": 0.28, "upper-arm": 0.18, "forearm": 0.15, "shoulder-width": 0.24,
    "head-width": 0.70, "head-depth": 0.85,
})
TALL_PX = 700.0


def drawn(heads=7.5, *, number=11, head_width=0.7, **more):
    """Wenna standing upright, 700 px tall; levels and limbs as on her sheet but for what `heads` and `levels` change."""
    levels = {"shoulder": 0.82, "crotch": 0.48, "knee": 0.28, **more.pop("levels", {})}
    arm = more.pop("arm", 0.18)
    at = {"crown": (0, 1), "sole": (0, 0), "chin": (0, 1 - 1 / heads), "crotch": (0, levels["crotch"])}
    for side, x in (("left", 0.12), ("right", -0.12)):
        at[f"shoulder-{side}"], at[f"knee-{side}"] = (x, levels["shoulder"]), (x / 2, levels["knee"])
        at[f"elbow-{side}"], at[f"wrist-{side}"] = (x, levels["shoulder"] - arm), (x, levels["shoulder"] - arm - 0.15)
        at[f"head-{side}"] = (np.sign(x) * head_width / heads / 2, 1 - 0.5 / heads)
    marks = {name: ((500 + TALL_PX * x) / SIZE[0], (1200 - TALL_PX * y) / SIZE[1]) for name, (x, y) in at.items()}
    return FigureUnderCheck(number, 7, WENNA, marks, **more)


def checked(*figures, panel=PANEL, **page):
    return check(PageUnderCheck(BLANK, page.pop("stage", "final"), FORMATS["a4"], panels=(panel,), figures=figures, **page))


def only(figure, *names):
    return replace(figure, marks={name: figure.marks[name] for name in names})


def exact(figure):
    """Marks that were snapped to a line: a thousandth of the figure's height."""
    return replace(figure, mark_sigma=dict.fromkeys(figure.marks, 0.001))


def test_a_figure_true_to_its_sheet_raises_nothing_and_gives_its_measures():
    result = checked(drawn())
    assert isinstance(result, Findings)
    assert (result.found, result.not_measured) == ((), {})
    (numbers,) = result.numbers["figures"]
    assert numbers["heads"][0] == pytest.approx(7.5)
    sheet = {name: share for name, share in WENNA.segments.items() if name != "head-depth"}
    assert {name: numbers["segments"][name][0] for name in sheet} == pytest.approx(sheet)


@pytest.mark.parametrize(("heads", "size"), [(6.2, "too large"), (9.0, "too small")])
def test_a_head_off_its_sheet_is_found_in_heads(heads, size):
    (finding,) = checked(only(exact(drawn(heads)), "crown", "chin", "sole")).found
    assert (finding.finding, finding.panel, finding.unit) == ("heads-off", 7, "heads")
    assert (finding.measured, finding.expected) == (pytest.approx(heads), 7.5)
    assert size in finding.text
    assert ("give it that posture" in finding.text) == (size == "too large")
    assert {mark["kind"] for mark in finding.geometry["marks"]} == {"post", "edge", "tick"} <= set(MARK_KINDS)


def test_the_first_tick_stands_where_the_chin_belongs():
    (finding,) = checked(only(exact(drawn(6.2)), "crown", "chin", "sole")).found
    first = next(mark["points"] for mark in finding.geometry["marks"] if mark["kind"] == "tick")
    assert np.mean(first, 0) == pytest.approx([0.5, (1200 - TALL_PX * (1 - 1 / 7.5)) / 1500])


def test_clicks_too_loose_for_a_head_say_nothing():
    assert checked(drawn(6.2)).found == ()


def test_short_legs_are_found_in_percent_of_height_as_one_note():
    (finding,) = checked(exact(drawn(levels={"crotch": 0.40, "knee": 0.22}))).found
    assert (finding.finding, finding.unit, finding.expected) == ("segment-off", "% of height", 48)
    assert finding.measured == pytest.approx(40)
    assert "Knees too" in finding.text
    assert {mark["kind"] for mark in finding.geometry["marks"]} == {"post", "edge", "true-edge"}


def test_an_arm_too_long_is_found_but_one_too_short_may_point_at_the_viewer():
    (finding,) = checked(exact(drawn(arm=0.26))).found
    assert (finding.finding, finding.measured, finding.expected) == ("segment-off", pytest.approx(26), 18)
    assert checked(exact(drawn(arm=0.09))).found == ()


@pytest.mark.parametrize(("width", "view", "is_found"), [
    (0.70, None, False), (0.78, None, False), (0.85, None, False), (0.60, None, True), (0.95, None, True),
    (0.80, "front", True), (0.70, "side", True), (0.85, "side", False),
])
def test_the_width_of_a_head_is_held_against_the_view_it_is_seen_in(width, view, is_found):
    found = checked(exact(drawn(head_width=width, view=view))).found
    assert [finding.unit for finding in found] == (["% of head height"] if is_found else [])


def test_a_head_of_unknown_view_is_left_out_where_the_sheet_has_only_its_front():
    front_only = replace(WENNA, segments={"head-width": 0.7})
    assert checked(replace(exact(drawn(head_width=0.9)), character=front_only)).found == ()


def tilted(pitch_deg, *, eye_m=1.5, away=4.0, heads=7.5):
    """A page on which a tilted camera sees a flat figure of 1.7 m, with what the perspective check stores of it."""
    camera = camera_from_angles(1800.0, SIZE, pitch_deg=pitch_deg)
    levels = {"sole": 0, "crown": 1, "chin": 1 - 1 / heads, "crotch": 0.48, "elbow-left": 0.5, "shoulder-left": 0.82}
    points = camera.project(np.array([[0.0, 1.7 * level - eye_m, -away] for level in levels.values()]))
    marks = {name: (point[0] / SIZE[0], point[1] / SIZE[1]) for name, point in zip(levels, points, strict=True)}
    upright = camera.vanishing_point(np.array([0.0, 1.0, 0.0])) / [*SIZE, 1.0]
    _, b, c = camera.horizon()
    row = {"panel": 7, "eye_level": [[x, -c / b / SIZE[1]] for x in (0.0, 1.0)], "focal_px": 1800.0, "pitch_deg": pitch_deg,
           "vanishing_points": [{"point": list(upright), "role": "upright", "confidence": 0.9}]}
    return FigureUnderCheck(11, 7, WENNA, marks), {"earlier": {"perspective": {"panels": [row]}}}


@pytest.mark.parametrize("pitch_deg", [-5, -10, -15, -20, 5, 20])
def test_tilt_is_taken_out_of_head_count_and_levels(pitch_deg):
    figure, page = tilted(pitch_deg)
    (numbers,) = checked(figure, **page).numbers["figures"]
    (plain,) = checked(figure).numbers["figures"]
    assert numbers["heads"][0] == pytest.approx(7.5, rel=1e-3)
    assert numbers["segments"]["crotch-height"][0] == pytest.approx(0.48, rel=1e-3)
    assert abs(plain["heads"][0] - 7.5) > 0.05


def test_limbs_are_left_out_beyond_10_degrees_of_tilt_and_figures_beyond_20():
    (slightly,), (tipped,), (steep,) = (checked(figure, **page).numbers["figures"] for figure, page in map(tilted, (-8, -15, -24)))
    assert "upper-arm" in slightly["segments"]
    assert "upper-arm" not in tipped["segments"]
    assert "tilted by 24°" in steep["reason"]


@pytest.mark.parametrize(("change", "reason"), [
    ({"pose": "seated"}, "seated"),
    ({"pose": "crouching"}, "bent is foreshortened"),
    ({"marks": {"crown": (0.5, 0.2), "chin": (0.5, 0.3)}}, "soles"),
    ({"marks": {"sole": (0.5, 0.8), "chin": (0.5, 0.3)}}, "crown"),
    ({"marks": {"sole": (0.5, 0.8), "crown": (0.5, 0.8)}}, "same place"),
])
def test_what_cannot_be_measured_says_why(change, reason):
    result = checked(replace(drawn(5.0), **change))
    assert result.found == ()
    assert reason in result.not_measured[7].reason


def test_unconfirmed_figures_are_not_measured():
    assert checked(drawn(5.0, is_confirmed=False)) == NotMeasured("No figure is marked on this page.")


def test_a_panel_left_alone_is_not_measured():
    result = checked(drawn(5.0), panel=replace(PANEL, left_alone=True))
    assert result.found == ()
    assert "left alone" in result.not_measured[7].reason


def test_a_figure_that_shows_too_little_says_so_beside_others_that_are_measured():
    seated, half = drawn(5.0, number=12, pose="seated"), only(exact(drawn(5.0, number=13)), "crown", "sole")
    silent = checked(drawn(), seated, half).figures_not_measured
    assert {kind: sorted(figures) for kind, figures in silent.items()} == {"heads-off": [12, 13], "segment-off": [12, 13]}
    assert "foreshortened" in silent["heads-off"][12].reason
    assert "chin is not marked" in silent["heads-off"][13].reason
    assert "None of the lengths" in silent["segment-off"][13].reason


def test_a_character_without_a_sheet_is_measured_and_not_judged():
    result = checked(replace(drawn(5.0), character=CharacterUnderCheck(2, "Tibb")))
    assert result.found == ()
    assert result.figures_not_measured == {"heads-off": {}, "segment-off": {}}
    assert result.numbers["figures"][0]["heads"][0] == pytest.approx(5.0)


DRIFTING = tuple((page, 7.5 - 0.15 * page, 0.1) for page in range(1, 6))


def with_history(heads, history):
    return replace(only(exact(drawn(heads)), "crown", "chin", "sole"), character=replace(WENNA, heads_by_page=history))


def test_a_character_that_drifts_over_pages_is_told_on_the_latest_page():
    found = checked(with_history(6.6, DRIFTING), number=6).found
    assert "off-model-trend" in [finding.finding for finding in found]
    trend = found[-1]
    assert trend.panel is None
    assert "from 7.3 heads on page 1 to 6.6 on page 6" in trend.text


def test_who_follows_a_sheet_that_changes_does_not_drift():
    """Half grown up to page 3, and of 7.5 heads from page 4 on."""
    young = dict.fromkeys((1, 2, 3), 6.0)
    grown = with_history(7.5, tuple((page, young.get(page, 7.5), 0.05) for page in range(1, 6)))
    assert [finding.finding for finding in checked(grown, number=6).found] == ["off-model-trend"]
    known = replace(grown, character=replace(grown.character, sheet_heads=young))
    assert checked(known, number=6).found == ()


def test_a_drift_over_a_change_of_sheet_names_both():
    history = tuple((page, 6.0 - 0.12 * page, 0.05) for page in range(1, 6))
    drifting = with_history(6.6, history)
    drifting = replace(drifting, character=replace(drifting.character, sheet_heads=dict.fromkeys(range(1, 6), 6.0)))
    (trend,) = [finding for finding in checked(drifting, number=6).found if finding.finding == "off-model-trend"]
    assert "5.9 heads on page 1, where the model sheet has 6.0, to 6.6 on page 6, where it has 7.5" in trend.text


@pytest.mark.parametrize(("heads", "is_told"), [(2.3, False), (2.8, True), (7.9, False)])
def test_of_few_heads_less_is_let_go(heads, is_told):
    """A tenth of what the sheet has, and half a head at most: by the head count, and by the drift to it."""
    on_sheet = 7.5 if heads > 5 else 2.5
    history = tuple((page, on_sheet + (heads - on_sheet) * (page - 1) / 5, 0.02) for page in range(1, 6))
    figure = with_history(heads, history)
    figure = replace(figure, character=replace(figure.character, head_count=on_sheet))
    kinds = [finding.finding for finding in checked(figure, number=6).found]
    assert kinds == (["heads-off", "off-model-trend"] if is_told else [])


def test_a_drift_is_not_told_on_an_earlier_page_nor_without_a_page_number():
    for number in (3, None):
        kinds = [finding.finding for finding in checked(with_history(7.0, (*DRIFTING, (6, 6.6, 0.1))), number=number).found]
        assert "off-model-trend" not in kinds
