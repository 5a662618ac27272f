"""Published proportions and statures, each with its source: starting points for a cast, never truth.

A comic character has its own proportions, and its model sheet decides. No NumPy here: the web side shows them.
Names of segments are those of `figure_landmarks.SPANS`; values are shares of the stature.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True)
class ProportionPreset:
    """`heads` is None where the source gives none: ANSUR II has no height from chin to crown."""

    id: str
    label: str
    source: str
    heads: float | None
    segments: Mapping[str, float]


@dataclass(frozen=True)
class StatureSurvey:
    """Standing height of a surveyed group, m."""

    id: str
    label: str
    source: str
    mean_m: float
    sd_m: float
    p5_m: float
    p95_m: float


def _preset(id_: str, label: str, source: str, heads: float | None, **segments: float) -> ProportionPreset:
    named = {name.replace("_", "-"): share for name, share in segments.items()}
    return ProportionPreset(id_, label, source, heads, MappingProxyType(named))


ANSUR_II = "ANSUR II, US Army survey of 2012 (NATICK/TR-15/007, public data; 4082 men, 1986 women)"
DRILLIS_CONTINI = "Drillis & Contini (1966), as in Winter, Biomechanics and Motor Control of Human Movement (2009), fig. 4.1"
VITRUVIUS = "Vitruvius, De Architectura, III.1"
LEONARDO = "Leonardo da Vinci, Notebooks (tr. Richter, 1888), §343"
DURER = "Dürer, Vier Bücher von menschlicher Proportion (1528), through handbooks"
STUDIO = "Studio practice; common practice, no single source"
NAVY = "US Navy illustrator-draftsman training manual"
CDC = "CDC growth charts (2000), stature-for-age, medians at each year and half a month"

# Chin 1, navel 3, groin 4 heads below the crown, in a figure of 8.
STUDIO_LEVELS = {"chin_height": 7 / 8, "navel_height": 5 / 8, "crotch_height": 4 / 8}

PRESETS: Mapping[str, ProportionPreset] = MappingProxyType({preset.id: preset for preset in (
    _preset("ansur-men", "Men, measured", ANSUR_II, None, eye_height=.9352, shoulder_height=.8203, waist_height=.6014,
            navel_height=.6014, hip_height=.5128, crotch_height=.4815, knee_height=.2780, shoulder_width=.2368, hip_width=.1970,
            hand=.1101, foot=.1544, arm_span=1.0330),
    _preset("ansur-women", "Women, measured", ANSUR_II, None, eye_height=.9331, shoulder_height=.8198, waist_height=.6017,
            navel_height=.6017, hip_height=.5190, crotch_height=.4802, knee_height=.2756, shoulder_width=.2244, hip_width=.2174,
            hand=.1112, foot=.1513, arm_span=1.0195),
    _preset("drillis-contini", "Adult, segment lengths", DRILLIS_CONTINI, 1 / (1 - .870), eye_height=.936, chin_height=.870,
            shoulder_height=.818, hip_height=.530, knee_height=.285, ankle_height=.039, upper_arm=.186, forearm=.146, hand=.108,
            shoulder_width=.259, hip_width=.191, foot=.152),
    _preset("vitruvius", "Vitruvius", VITRUVIUS, 8.0, chin_height=7 / 8, face=1 / 10, hand=1 / 10, foot=1 / 6, cubit=1 / 4,
            arm_span=1.0),
    _preset("leonardo", "Leonardo", LEONARDO, 8.0, chin_height=7 / 8, foot=1 / 7, shoulder_width=1 / 4, hand=1 / 10,
            below_knee=1 / 4),
    _preset("durer-7", "Dürer, sturdy", DURER, 7.0, chin_height=6 / 7),
    _preset("durer-8", "Dürer, slender", DURER, 8.0, chin_height=7 / 8),
    _preset("ordinary", "Ordinary figure", STUDIO, 7.5, chin_height=6.5 / 7.5),
    _preset("ideal", "Ideal figure", STUDIO, 8.0, **STUDIO_LEVELS),
    _preset("heroic", "Heroic figure", STUDIO, 8.5, chin_height=7.5 / 8.5),
    _preset("child-1", "Child of 1 year", NAVY, 4.5, chin_height=3.5 / 4.5),
    _preset("child-8", "Child of 8 years", NAVY, 6.25, chin_height=5.25 / 6.25),
    _preset("child-12", "Child of 12 years", NAVY, 7.0, chin_height=6 / 7),
)})

STATURES: Mapping[str, StatureSurvey] = MappingProxyType({survey.id: survey for survey in (
    StatureSurvey("men", "Men", ANSUR_II, 1.7562, 0.0686, 1.648, 1.870),
    StatureSurvey("women", "Women", ANSUR_II, 1.6285, 0.0642, 1.525, 1.740),
)})

YOUNGEST, OLDEST = 2, 19
# cm, at 2, 3, … 19 years.
MEDIAN_STATURE_CM: Mapping[str, tuple[float, ...]] = MappingProxyType({
    "boys": (86.45, 95.27, 102.51, 109.18, 115.66, 122.03, 128.12, 133.73, 138.82, 143.73, 149.31, 156.41, 164.14, 170.14, 173.61,
             175.34, 176.19, 176.62),
    "girls": (84.98, 94.21, 101.03, 107.96, 115.00, 121.76, 127.83, 133.13, 138.21, 144.26, 151.49, 157.34, 160.48, 161.90, 162.57,
              162.92, 163.13, 163.26),
})


def median_stature_m(group: str, years: float) -> float:
    """Median of `group` ("boys" or "girls") at an age from 2 to 19, straight between whole years. Source: CDC.

    Raises ValueError outside those ages: the table ends there.
    """
    if not YOUNGEST <= years <= OLDEST:
        raise ValueError(f"The table runs from {YOUNGEST} to {OLDEST} years.")
    table = MEDIAN_STATURE_CM[group]
    before = min(int(years) - YOUNGEST, len(table) - 2)
    share = years - YOUNGEST - before
    return (table[before] * (1 - share) + table[before + 1] * share) / 100
