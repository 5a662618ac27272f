"""What speaks for a gutter and what against it, weighed together."""

from dataclasses import dataclass

from board.vision.weighed_signs import weigh

# From trials on drawn pages, no source.
THIN, THICKEST = -0.35, 0.3  # a border is hardly ever thinner or thicker; logarithms, against the page's pen
PALEST = -1.0, 3.0
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
    bare: float  # of what lies between the flanks, what is paper
    lesser_stroke: float  # a stroke covers, of the flank that has less
    greater_stroke: float
    wavier_stroke: float  # strays
    straighter_stroke: float
    wavy_flank: float
    thinner_stroke: float  # thickness, no less than THIN
    is_thin: float  # thinner than that
    paler_stroke: float  # than the page's pen draws, in steps of twelve grey values, no more than PALEST either way
    off_width: float  # from the page's other gutters, no more than OFF
    is_off: float  # more than that
    has_others: float  # other gutters are known
    repeats: float  # the next run of paper is as wide: boards or bars
    crossed_ends: float  # 0 to 4 where a border runs on past the panels
    leads_out: float  # it is ground nearly all its way, and leads out of the piece at one end
    leans: float  # as beams and boards do
    slants: float
    goes_on: float = 0.0  # as ground, beyond the piece
    shut_off: float = 0.0  # borders run on past both ends of it, unbroken, and it does not go on


# The mean of two logistic regressions: on 9 000 lines in 714 pages drawn by three hands and 138 layouts of 23 other styles, without
# what is bare and how pale strokes are; and on 6 700 lines in 775 other pages, most of them thumbnails, and 138 such layouts.
# `shut_off` beside those, kept as they are, on 8 600 lines in 800 pages: it is so of one gutter in 1 600.
WEIGHTS = GutterSigns(
    support=4.87,
    strip=4.36,
    ground=6.27,
    bare=2.77,
    lesser_stroke=1.32,
    greater_stroke=2.14,
    wavier_stroke=-1.26,
    straighter_stroke=-0.62,
    wavy_flank=-0.38,
    thinner_stroke=7.31,
    is_thin=-2.91,
    paler_stroke=-0.44,
    off_width=-1.04,
    is_off=-2.72,
    has_others=-0.90,
    repeats=-2.11,
    crossed_ends=1.49,
    leads_out=0.38,
    leans=-4.31,
    slants=-1.06,
    goes_on=3.17,
    shut_off=-3.65,
)
BIAS = -8.95


def log_odds(signs: GutterSigns) -> float:
    """Natural logarithm of the odds that it is a gutter."""
    return BIAS + weigh(signs, WEIGHTS)
