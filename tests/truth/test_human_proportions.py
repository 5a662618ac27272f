"""Proportions of adults: the presets against the tables they are taken from, and figures drawn from those tables read back.

ANSUR II: US Army survey of 2012 (NATICK/TR-15/007, public data; 4082 men, 1986 women), recomputed. Drillis & Contini (1966), as in
Winter, Biomechanics and Motor Control of Human Movement (2009), fig. 4.1. Vitruvius, De Architectura, III.1. Leonardo da Vinci,
Notebooks (tr. Richter, 1888), §343. Dürer, Vier Bücher von menschlicher Proportion (1528), through handbooks. Studio heads: common
practice, no single source.
"""

import pytest

from board.figure_landmarks import SPANS
from board.figure_proportions import measure_proportions
from board.proportion_presets import PRESETS, STATURES

# mm: men, women, and the segment.
ANSUR_MM = [
    (1642.4, 1519.5, "eye-height"), (1440.7, 1335.1, "shoulder-height"), (1056.5, 980.1, "waist-height"),
    (900.9, 845.4, "hip-height"), (845.9, 782.3, "crotch-height"), (488.4, 449.0, "knee-height"), (1814.2, 1660.3, "arm-span"),
    (415.7, 365.3, "shoulder-width"), (345.7, 353.8, "hip-width"), (193.3, 181.1, "hand"), (271.2, 246.3, "foot"),
]
STATURE_MM = (1756.2, 1628.5)
DRILLIS_CONTINI = {
    "ankle-height": .039, "knee-height": .285, "hip-height": .530, "shoulder-height": .818, "eye-height": .936, "chin-height": .870,
    "upper-arm": .186, "forearm": .146, "hand": .108, "shoulder-width": .259, "hip-width": .191, "foot": .152,
}


@pytest.mark.parametrize(("men_mm", "women_mm", "segment"), ANSUR_MM)
def test_ansur_presets_are_the_surveys_means_over_its_mean_stature(men_mm, women_mm, segment):
    # The table's ratios were worked out person by person, so they part from those of the means in the fourth place.
    assert PRESETS["ansur-men"].segments[segment] == pytest.approx(men_mm / STATURE_MM[0], abs=3e-4)
    assert PRESETS["ansur-women"].segments[segment] == pytest.approx(women_mm / STATURE_MM[1], abs=3e-4)


@pytest.mark.parametrize(("group", "mean_mm", "sd_mm", "p5_mm", "p95_mm"),
                         [("men", 1756.2, 68.6, 1648, 1870), ("women", 1628.5, 64.2, 1525, 1740)])
def test_statures_of_adults_are_those_of_ansur(group, mean_mm, sd_mm, p5_mm, p95_mm):
    survey = STATURES[group]
    assert (survey.mean_m, survey.sd_m, survey.p5_m, survey.p95_m) == pytest.approx(
        (mean_mm / 1000, sd_mm / 1000, p5_mm / 1000, p95_mm / 1000))
    # A survey of statures is close to normal, so 5 % lie 1.645 standard deviations below the mean.
    assert survey.p5_m == pytest.approx(survey.mean_m - 1.645 * survey.sd_m, abs=0.007)
    assert survey.p95_m == pytest.approx(survey.mean_m + 1.645 * survey.sd_m, abs=0.007)


def test_ansur_has_no_head_count_and_none_is_made_up():
    assert PRESETS["ansur-men"].heads is None
    assert PRESETS["ansur-women"].heads is None


def test_drillis_and_contini_has_its_segments_and_7_69_heads():
    preset = PRESETS["drillis-contini"]
    assert dict(preset.segments) == DRILLIS_CONTINI
    assert preset.heads == pytest.approx(7.69, abs=5e-3)


def test_a_figure_drawn_from_drillis_and_contini_is_read_back():
    tall_px, at = 900.0, DRILLIS_CONTINI
    levels = {name: at[f"{name}-height"] for name in ("ankle", "knee", "hip", "shoulder", "chin")}
    levels |= {"crown": 1, "sole": 0, "eyes": at["eye-height"]}
    marks = {name: (500.0, 1000 - tall_px * level) for name, level in levels.items()}
    elbow = at["shoulder-height"] - at["upper-arm"]
    arm = {"shoulder": at["shoulder-height"], "elbow": elbow, "wrist": elbow - at["forearm"],
           "fingertip": elbow - at["forearm"] - at["hand"]}
    for side, across in (("left", at["shoulder-width"] / 2), ("right", -at["shoulder-width"] / 2)):
        marks |= {f"{name}-{side}": (500 + tall_px * across, 1000 - tall_px * level) for name, level in arm.items()}
    measured = measure_proportions(marks)
    assert measured.head_count == pytest.approx(1 / (1 - .870))
    assert measured.segments == pytest.approx({name: share for name, share in at.items() if name not in ("hip-width", "foot")})


def test_vitruvius_has_his_fractions():
    preset = PRESETS["vitruvius"]
    assert preset.heads == 8
    assert preset.segments == pytest.approx(
        {"chin-height": 7 / 8, "face": .1, "hand": .1, "foot": 1 / 6, "cubit": 1 / 4, "arm-span": 1})


def test_leonardo_has_his_fractions():
    preset = PRESETS["leonardo"]
    assert preset.heads == 8
    assert preset.segments == pytest.approx(
        {"chin-height": 7 / 8, "foot": 1 / 7, "shoulder-width": 1 / 4, "hand": 1 / 10, "below-knee": 1 / 4})


def test_canons_and_the_surveys_agree_as_far_as_bodies_do():
    """Forearm and hand are a quarter of the stature, the span is the stature, the hand a tenth: within a tenth of each other."""
    by_survey, by_segments, canon = (PRESETS[name].segments for name in ("ansur-men", "drillis-contini", "vitruvius"))
    assert by_survey["arm-span"] == pytest.approx(canon["arm-span"], rel=0.1)
    assert by_survey["foot"] == pytest.approx(canon["foot"], rel=0.1)
    assert by_segments["forearm"] + by_segments["hand"] == pytest.approx(canon["cubit"], rel=0.1)
    for segment in ("eye-height", "shoulder-height", "hip-height", "knee-height"):
        assert by_survey[segment] == pytest.approx(by_segments[segment], rel=0.04)


@pytest.mark.parametrize(("preset", "heads"), [("durer-7", 7), ("durer-8", 8), ("ordinary", 7.5), ("ideal", 8), ("heroic", 8.5)])
def test_studio_figures_have_their_heads(preset, heads):
    assert PRESETS[preset].heads == heads
    assert PRESETS[preset].segments["chin-height"] == pytest.approx(1 - 1 / heads)


def test_the_ideal_figure_has_its_navel_3_and_its_groin_4_heads_below_the_crown():
    segments = PRESETS["ideal"].segments
    assert [8 * (1 - segments[name]) for name in ("chin-height", "navel-height", "crotch-height")] == pytest.approx([1, 3, 4])


def test_every_preset_names_its_source_and_known_segments():
    for preset in PRESETS.values():
        assert len(preset.source) > 10
        assert set(preset.segments) <= set(SPANS)
        assert preset.heads is None or preset.segments["chin-height"] == pytest.approx(1 - 1 / preset.heads)


def test_a_preset_cannot_be_changed():
    with pytest.raises(TypeError):
        PRESETS["leonardo"].segments["foot"] = 1
