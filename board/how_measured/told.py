"""What a page says of one kind of finding."""

from collections.abc import Mapping
from dataclasses import dataclass, field

COMMON_PRACTICE = "Common practice, no source."
OWN_DRAWN = "The tolerance: our own choice, tried on pages drawn by our own code."


@dataclass(frozen=True)
class Tolerance:
    """`label` stands before the number; `times` turns the number as it is kept into the unit that people read.

    `means` says in one sentence what it is held against, for who sets another.
    """

    label: str
    unit: str = ""
    times: float = 1.0
    means: str = ""

    def number(self, kept: float) -> str:
        return f"{self.times * kept:.4g}"


@dataclass(frozen=True)
class HowMeasured:
    """Written for who draws. `tolerances`: name in the check registry -> how it is shown."""

    what: str
    how: tuple[str, ...]
    sources: tuple[str, ...]
    unseen: tuple[str, ...]
    trust: tuple[str, ...]
    tolerances: Mapping[str, Tolerance] = field(default_factory=dict)
    at_thumbnail: str = ""
    caution: str = ""


CLICK = Tolerance(
    "A click of unknown zoom is taken to be sure within", " % of the figure's height", 100.0,
    "How exact a mark is taken to be where nobody knows how near it was looked at; the larger, the fewer notes.",
)
