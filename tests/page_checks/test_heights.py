"""Heights: figures on a drawn ground are hung on the eye level; who is off is named, and what cannot be told is not."""

from dataclasses import replace

import numpy as np
import pytest

from board.check_contract import MARK_KINDS, CharacterUnderCheck, FigureUnderCheck, Findings, PageUnderCheck, PanelUnderCheck
from board.not_measured import NotMeasured
from board.page_checks.heights import check
from board.page_format import FORMATS
from board.vision.camera import Camera, camera_from_angles

WIDTH, HEIGHT = 1500, 1000
BLANK = np.full((HEIGHT, WIDTH), 255, np.uint8)
PANEL = PanelUnderCheck(7, 1, ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)))
UP = np.array([0.0, 1.0, 0.0])
TALL = CharacterUnderCheck(1, "Wenna", 1.80, 7.5)
SMALL = CharacterUnderCheck(2, "Tibb", 1.20, 5.5)
MIDDLE = CharacterUnderCheck(3, "Marl", 1.60, 7.0)
SQUAT = CharacterUnderCheck(4, "Grue", 1.45, 6.0)
ORM = CharacterUnderCheck(5, "Orm", 1.60, 7.0)


def camera_at(pitch_deg=0.0, roll_deg=0.0) -> Camera:
    return camera_from_angles(1200.0, (WIDTH, HEIGHT), pitch_deg=pitch_deg, roll_deg=roll_deg)


def perspective_numbers(camera: Camera, panel=7, *, interval_px=0.5, shift_px=0.0):
    """What the perspective check stores of a panel that fills the page."""
    a, b, c = camera.horizon()
    upright = camera.vanishing_point(UP) / [WIDTH, HEIGHT, 1.0]
    level = abs(camera.pitch_deg) < 1e-9
    seen = [] if level else [{"point": list(upright / np.linalg.norm(upright)), "role": "upright", "confidence": 0.9}]
    return {"panels": [{
        "panel": panel, "focal_px": camera.focal_px, "pitch_deg": camera.pitch_deg, "roll_deg": camera.roll_deg,
        "eye_level": [[x / WIDTH, (-(a * x + c) / b + shift_px) / HEIGHT] for x in (0, WIDTH)],
        "eye_level_interval_px": interval_px,
        "vanishing_points": seen,
    }]}


def standing(number, character, camera, x, away, *, eye_m=1.5, drawn=1.0, floor_m=0.0, sigma=0.0, rng=None, **more):
    """A figure drawn `drawn` times as tall as its character; clicks disturbed by `sigma` of its height on the page."""
    feet = np.array([x, floor_m - eye_m, -away])
    sole, crown = camera.project(np.array([feet, feet + UP * character.height_m * drawn]))
    if rng is not None:
        noise = rng.normal(0, sigma * np.linalg.norm(crown - sole), (2, 2))
        sole, crown = sole + noise[0], crown + noise[1]
    marks = {name: (float(p[0] / WIDTH), float(p[1] / HEIGHT)) for name, p in (("sole", sole), ("crown", crown))}
    return FigureUnderCheck(number, 7, character, marks, **more)


def page_of(camera, figures, *, eye_height_m=None, panel=PANEL, **numbers):
    panel = replace(panel, eye_height_m=eye_height_m)
    earlier = {"perspective": perspective_numbers(camera, **numbers)}
    return PageUnderCheck(BLANK, "final", FORMATS["a4"], panels=(panel,), figures=tuple(figures), earlier=earlier)


def three(camera, *, last=1.0):
    return [standing(11, TALL, camera, -1.5, 5.0), standing(12, SMALL, camera, 0.3, 7.0),
            standing(13, MIDDLE, camera, 1.4, 6.0, drawn=last)]


def test_a_figure_that_cannot_be_read_says_so_beside_others_that_are():
    camera = camera_at()
    bent = standing(14, SQUAT, camera, -0.5, 6.0)
    x, y = bent.marks["crown"]
    result = check(page_of(camera, [*three(camera), replace(bent, marks={**bent.marks, "crown": (x + 0.05, y)})]))
    assert (result.found, result.not_measured) == ((), {})
    assert [(figure, "leans" in why.reason) for figure, why in result.figures_not_measured["height-off"].items()] == [(14, True)]


@pytest.mark.parametrize("pitch_deg", [0, -5, -10, -15, -20, 8, 20])
@pytest.mark.parametrize("roll_deg", [0, 4])
def test_figures_of_an_exact_page_have_their_heights_within_a_thousandth(pitch_deg, roll_deg):
    camera = camera_at(pitch_deg, roll_deg)
    result = check(page_of(camera, three(camera), eye_height_m=1.5))
    assert isinstance(result, Findings)
    assert (result.found, result.not_measured) == ((), {})
    heights = {one["figure"]: one["height_m"] for one in result.numbers["panels"][0]["figures"]}
    assert heights == pytest.approx({11: 1.80, 12: 1.20, 13: 1.60}, rel=1e-3)


def test_without_the_upright_point_a_tilted_page_would_have_been_misread():
    camera = camera_at(-20)
    page = page_of(camera, [standing(11, TALL, camera, 0, 3.2, eye_m=2.6)], eye_height_m=2.6)
    row = page.earlier["perspective"]["panels"][0]
    plain = replace(page, earlier={"perspective": {"panels": [{**row, "vanishing_points": [], "pitch_deg": 0}]}})
    read, misread = (check(one).numbers["panels"][0]["figures"][0]["height_m"] for one in (page, plain))
    assert read == pytest.approx(1.80, rel=1e-3)
    assert abs(misread / 1.80 - 1) > 0.03


def test_the_eye_height_is_read_from_figures_that_agree():
    camera = camera_at(-8)
    result = check(page_of(camera, three(camera)))
    assert result.found == ()
    assert result.numbers["panels"][0]["eye_height_m"] == pytest.approx(1.5, rel=1e-3)
    assert result.numbers["panels"][0]["eye_height_is_given"] is False


def test_a_figure_too_tall_for_a_known_eye_height_is_found_with_its_percent_and_its_post():
    camera = camera_at(-6)
    (finding,) = check(page_of(camera, three(camera, last=1.15), eye_height_m=1.5)).found
    assert (finding.finding, finding.panel, finding.unit, finding.expected) == ("height-off", 7, "% of height", 100.0)
    assert finding.measured == pytest.approx(115, abs=0.2)
    assert "Marl is drawn 15% too tall for the viewer's eye height: 1.84 m" in finding.text
    assert finding.text.endswith("under hair and hat.")
    post = next(mark for mark in finding.geometry["marks"] if mark["kind"] == "post")
    true_crown = camera.project(np.array([[1.4, 0.1, -6.0]]))[0]
    assert post["points"][0] == pytest.approx([true_crown[0] / WIDTH, true_crown[1] / HEIGHT], abs=1e-6)
    assert sum(mark["kind"] == "tick" for mark in finding.geometry["marks"]) == 6
    assert {mark["kind"] for mark in finding.geometry["marks"]} <= set(MARK_KINDS)


def test_two_that_agree_against_a_third_show_which_is_off():
    camera = camera_at(-6)
    (finding,) = check(page_of(camera, three(camera, last=0.85))).found
    assert "Marl is drawn 15% too short beside Wenna and Tibb" in finding.text
    assert "If it kneels, bends or sits, give it that posture" in finding.text
    assert [mark["label"] for mark in finding.geometry["marks"] if mark["kind"] == "support"] == ["Wenna", "Tibb"]


def test_two_that_agree_are_believed_where_no_two_others_do():
    camera = camera_at(-6)
    off = [standing(14, SQUAT, camera, -0.6, 8.0, drawn=1.2), standing(15, ORM, camera, 2.0, 8.0, drawn=0.85)]
    told = check(page_of(camera, [*three(camera)[:2], *off])).found
    assert {finding.text.split(":")[0] for finding in told} == {
        "Grue is drawn 20% too tall beside Wenna and Tibb", "Orm is drawn 15% too short beside Wenna and Tibb"}


def test_two_against_two_are_only_shown_to_disagree():
    camera = camera_at(-6)
    off = [standing(14, SQUAT, camera, -0.6, 8.0, drawn=1.2), standing(15, ORM, camera, 2.0, 8.0, drawn=1.2)]
    (finding,) = check(page_of(camera, [*three(camera)[:2], *off])).found
    assert "do not fit on one ground" in finding.text
    assert "or give who kneels, bends or sits that posture" in finding.text


def test_two_alone_are_only_shown_to_disagree_and_both_are_named():
    camera = camera_at()
    figures = [standing(11, TALL, camera, -1, 5.0, drawn=1.15), standing(12, SMALL, camera, 1, 5.0)]
    result = check(page_of(camera, figures))
    (finding,) = result.found
    assert "Wenna and Tibb do not fit on one ground" in finding.text
    assert "cannot be told" in finding.text
    assert sum(mark["kind"] == "post" for mark in finding.geometry["marks"]) == 2
    assert result.numbers["panels"][0]["eye_height_m"] is None


def test_where_everyone_is_off_to_one_side_the_eye_level_is_doubted_in_one_note():
    camera = camera_at()
    (finding,) = check(page_of(camera, three(camera), eye_height_m=1.9)).found
    assert "more likely off than the figures" in finding.text


def test_one_figure_alone_is_not_measured_but_gives_the_eye_height_for_posts():
    camera = camera_at()
    result = check(page_of(camera, [standing(11, TALL, camera, 0, 5.0)]))
    assert "One figure alone sets the scale" in result.not_measured[7].reason
    assert result.numbers["panels"][0]["eye_height_m"] == pytest.approx(1.5)


def test_a_stated_floor_is_taken_into_account():
    camera = camera_at(-5)
    on_step = standing(12, SMALL, camera, 0.5, 6.0, floor_m=0.4)
    told, untold = (check(page_of(camera, [replace(on_step, ground_offset_m=floor)], eye_height_m=1.5)) for floor in (0.4, None))
    assert told.found == ()
    assert told.numbers["panels"][0]["figures"][0]["height_m"] == pytest.approx(1.20, rel=1e-3)
    assert [finding.finding for finding in untold.found] == ["height-off"]


def test_a_figure_on_a_floor_over_the_viewers_eye_is_measured():
    camera = camera_at()
    on_roof = standing(11, TALL, camera, 0, 9.0, floor_m=3.0, ground_offset_m=3.0)
    result = check(page_of(camera, [on_roof], eye_height_m=1.5))
    assert result.numbers["panels"][0]["figures"][0]["height_m"] == pytest.approx(1.80, rel=1e-3)


@pytest.mark.parametrize(("change", "reason"), [
    ({"pose": "seated"}, "Wenna is seated"),
    ({"pose": "crouching"}, "Wenna is crouching or bent"),
    ({"pose": "far"}, "far off"),
    ({"character": CharacterUnderCheck(1, "Wenna")}, "no height in the cast"),
    ({"marks": {"crown": (0.5, 0.2)}}, "not both marked"),
    ({"marks": {"crown": (0.5, 0.2), "sole": (0.5, 0.2)}}, "same place"),
    ({"marks": {"crown": (0.7, 0.3), "sole": (0.5, 0.9)}}, "leans"),
    ({"marks": {"crown": (0.5, 0.2), "sole": (0.5, 0.5)}}, "eye level"),
])
def test_what_cannot_be_measured_says_why(change, reason):
    camera = camera_at()
    figure = replace(standing(11, TALL, camera, 0, 5.0, drawn=1.3), **change)
    result = check(page_of(camera, [figure], eye_height_m=1.5))
    assert result.found == ()
    assert reason in result.not_measured[7].reason


def test_a_figure_too_near_the_eye_level_is_not_measured():
    camera = camera_at()
    far_off = standing(11, TALL, camera, 0, 60.0, drawn=1.3)
    result = check(page_of(camera, [far_off], eye_height_m=1.5, interval_px=8.0))
    assert "could only be told within" in result.not_measured[7].reason


def test_an_uncertain_eye_level_keeps_quiet_about_what_it_covers():
    camera = camera_at()
    figure = standing(11, TALL, camera, 0, 6.0, drawn=1.12)
    sure, unsure = (check(page_of(camera, [figure], eye_height_m=1.5, interval_px=wide)) for wide in (0.5, 20.0))
    assert [finding.finding for finding in sure.found] == ["height-off"]
    assert unsure.found == ()


def test_unconfirmed_figures_are_not_measured():
    camera = camera_at()
    figures = [replace(one, is_confirmed=False) for one in three(camera, last=1.3)]
    assert check(page_of(camera, figures, eye_height_m=1.5)) == NotMeasured("No figure is marked on this page.")


def test_a_panel_left_alone_and_one_without_an_eye_level_are_not_measured():
    camera = camera_at()
    left = check(page_of(camera, three(camera, last=1.3), panel=replace(PANEL, left_alone=True)))
    blind = check(replace(page_of(camera, three(camera, last=1.3)), earlier={}))
    assert "left alone" in left.not_measured[7].reason
    assert blind.not_measured == {7: NotMeasured("No eye level is known in this panel.")}
