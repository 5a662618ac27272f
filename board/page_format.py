"""The printed page: trim, bleed and live area in millimetres, and how many pixels fall on an inch."""

from dataclasses import dataclass
from typing import Literal

MM_PER_INCH = 25.4


@dataclass(frozen=True)
class PageFormat:
    """Sizes of one page, all in mm; `safe_mm` is the distance of the live area from the trim."""

    trim_width_mm: float
    trim_height_mm: float
    bleed_mm: float = 3.0
    safe_mm: float = 8.0

    def __post_init__(self) -> None:
        if min(self.trim_width_mm, self.trim_height_mm) <= 0 or min(self.bleed_mm, self.safe_mm) < 0:
            raise ValueError("A page has a width and a height, and no margin under 0 mm.")
        if 2 * self.safe_mm >= min(self.trim_width_mm, self.trim_height_mm):
            raise ValueError("The live area would be empty.")

    def as_spread(self) -> "PageFormat":
        """Two facing pages drawn as one picture."""
        return PageFormat(2 * self.trim_width_mm, self.trim_height_mm, self.bleed_mm, self.safe_mm)

    @property
    def bleed_size_mm(self) -> tuple[float, float]:
        return self.trim_width_mm + 2 * self.bleed_mm, self.trim_height_mm + 2 * self.bleed_mm

    @property
    def live_size_mm(self) -> tuple[float, float]:
        return self.trim_width_mm - 2 * self.safe_mm, self.trim_height_mm - 2 * self.safe_mm


def dpi_at(length_px: float, length_mm: float) -> float:
    """Pixels per inch when `length_px` pixels are printed `length_mm` long."""
    return length_px * MM_PER_INCH / length_mm


# ISO 216 and JIS P 0138 for the paper sizes; the US comic page is common practice of printers.
FORMATS: dict[str, PageFormat] = {
    "a4": PageFormat(210, 297),
    "a5": PageFormat(148, 210),
    "jis-b5": PageFormat(182, 257),
    "us-comic": PageFormat(168.275, 260.35, 3.175, 9.525),
}
FormatName = Literal["a4", "a5", "jis-b5", "us-comic"]
