"""What speaks for a gutter and what against it, weighed together."""

from dataclasses import astuple, dataclass

import numpy as np

# From trials on drawn pages, no source.
THIN, THICKEST = -0.35, 0.3  # a border is hardly ever thinner or thicker; logarithms, against the page's pen
OFF = 3.0  # a gutter is hardly ever further off the width of others; thousandths of the longer side
STRAIGHTEST, WAVIEST, WAVIEST_FLANK = 0.6, 3.0, 10.0  # times as far as the page's pen: more tells no more


@dataclass(frozen=True)
class GutterSigns:
    """What is seen of a gutter that may run along a line: shares 0..1 of its way, yes or no as 1 or 0, how far strokes stray from
    straight in times of what the page's pen does, how thick they are in logarithms against it, widths in thousandths of the page's
    longer side."""

    support: float  # a side of a panel lies along it
    strip: float  # both flanks are there, with paper between
    ground: float  # of the way, what is ground
    lesser_stroke: float  # a stroke covers, of the flank that has less
    greater_stroke: float
    wavier_stroke: float  # strays
    straighter_stroke: float
    wavy_flank: float
    thinner_stroke: float  # thickness, no less than THIN
    is_thin: float  # thinner than that
    off_width: float  # from the page's other gutters, no more than OFF
    is_off: float  # more than that
    has_others: float  # other gutters are known
    repeats: float  # the next run of paper is as wide: boards or bars
    crossed_ends: float  # 0 to 4 where a border runs on past the panels
    leads_out: float  # it is ground nearly all its way, and leads out of the piece at one end
    leans: float  # as beams and boards do
    slants: float
    goes_on: float = 0.0  # as ground, beyond the piece


# Logistic regression on 9 000 lines (2 000 in gutters) in 714 pages drawn by three hands and 138 layouts of 23 other styles.
WEIGHTS = GutterSigns(
    support=3.90,
    strip=6.24,
    ground=5.04,
    lesser_stroke=3.26,
    greater_stroke=9.28,
    wavier_stroke=-1.55,
    straighter_stroke=-1.20,
    wavy_flank=-0.67,
    thinner_stroke=7.56,
    is_thin=-3.01,
    off_width=-0.78,
    is_off=-3.01,
    has_others=-2.35,
    repeats=-2.53,
    crossed_ends=1.01,
    leads_out=2.28,
    leans=-4.29,
    slants=-1.41,
    goes_on=2.05,
)
BIAS = -12.16


def log_odds(signs: GutterSigns) -> float:
    """Natural logarithm of the odds that it is a gutter."""
    return BIAS + float(np.dot(astuple(WEIGHTS), astuple(signs)))
