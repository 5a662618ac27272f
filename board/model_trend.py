"""Whether one character drifts from page to page: a straight line through its head counts.

No NumPy here: the web side draws the character's chart from it.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import sqrt

from board.not_measured import NotMeasured

FEWEST_PAGES = 4
CERTAIN = 3.0  # sigmas of the drift itself
LEAST_SIGMA = 0.02  # heads; nothing drawn by hand is measured more exactly

HeadsOnPage = tuple[int, float, float]  # page number, heads, 1 sigma


@dataclass(frozen=True)
class ModelTrend:
    """`pages`: one weighted mean a page, in page order. The line runs from `first_heads` to `last_heads`; `sigma` of the drift."""

    pages: tuple[HeadsOnPage, ...]
    first_heads: float
    last_heads: float
    sigma: float

    @property
    def drift(self) -> float:
        """Heads gained from the first page to the last."""
        return self.last_heads - self.first_heads

    def is_off(self, tolerance: float) -> bool:
        return abs(self.drift) > max(tolerance, CERTAIN * self.sigma)


def find_trend(measured: Iterable[HeadsOnPage]) -> ModelTrend | NotMeasured:
    """From any number of figures a page. Pages that scatter more than their sigmas say widen the drift's sigma likewise."""
    pages = _by_page(measured)
    if len(pages) < FEWEST_PAGES:
        return NotMeasured(f"This character's heads were measured on {len(pages)} pages; {FEWEST_PAGES} are needed.")
    weights = [1 / sigma**2 for _, _, sigma in pages]
    total = sum(weights)
    middle = sum(w * page for w, (page, _, _) in zip(weights, pages, strict=True)) / total
    mean = sum(w * heads for w, (_, heads, _) in zip(weights, pages, strict=True)) / total
    lever = sum(w * (page - middle) ** 2 for w, (page, _, _) in zip(weights, pages, strict=True))
    slope = sum(w * (page - middle) * (heads - mean) for w, (page, heads, _) in zip(weights, pages, strict=True)) / lever
    first, last = (mean + slope * (pages[k][0] - middle) for k in (0, -1))
    left_over = sum(w * (heads - mean - slope * (page - middle)) ** 2 for w, (page, heads, _) in zip(weights, pages, strict=True))
    widened = max(1.0, sqrt(left_over / (len(pages) - 2)))
    return ModelTrend(pages, first, last, widened * (pages[-1][0] - pages[0][0]) / sqrt(lever))


def _by_page(measured: Iterable[HeadsOnPage]) -> tuple[HeadsOnPage, ...]:
    rows: dict[int, list[tuple[float, float]]] = {}
    for page, heads, sigma in measured:
        rows.setdefault(page, []).append((heads, 1 / max(sigma, LEAST_SIGMA) ** 2))
    means = []
    for page in sorted(rows):
        weight = sum(w for _, w in rows[page])
        means.append((page, sum(heads * w for heads, w in rows[page]) / weight, weight**-0.5))
    return tuple(means)
