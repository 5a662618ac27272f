"""Panels of a sheet put together to pages: exact boxes, loose ones, and sheets on which nothing has to be put together."""

import numpy as np
import pytest

from board.vision.sheet_pages import pages_on_sheet

RATIO = 148 / 210
PAGE = (148.0, 210.0)
TIERS = {
    "one": [(0, 0, 1, 1)],
    "two": [(0, 0, 1, 0.48), (0, 0.52, 1, 1)],
    "three": [(0, 0, 1, 0.48), (0, 0.52, 0.47, 1), (0.52, 0.52, 1, 1)],
    "six": [(x, y, x + 0.48, y + 0.3) for y in (0, 0.35, 0.7) for x in (0, 0.52)],
}


def box(left: float, top: float, right: float, bottom: float) -> np.ndarray:
    return np.array([[left, top], [right, top], [right, bottom], [left, bottom]], float)


def sheet(layouts: list[list[str]], gap: float = 40.0, noise: float = 0.0, seed: int = 0) -> tuple[list[np.ndarray], list[tuple]]:
    """Panels row by row as they come, and the box (left, top, right, bottom) of each page."""
    rng = np.random.default_rng(seed)
    panels, pages = [], []
    for row, names in enumerate(layouts):
        for column, name in enumerate(names):
            x, y = 50 + column * (PAGE[0] + gap), 50 + row * (PAGE[1] + gap)
            pages.append((x, y, x + PAGE[0], y + PAGE[1]))
            for left, top, right, bottom in TIERS[name]:
                corners = box(x + left * PAGE[0], y + top * PAGE[1], x + right * PAGE[0], y + bottom * PAGE[1])
                panels.append(corners + rng.normal(0, noise, (4, 2)))
    return panels, pages


def middles(outlines) -> np.ndarray:
    return np.array([(outline.min(0) + outline.max(0)) / 2 for outline in outlines])


@pytest.mark.parametrize("noise", [0.0, 1.5])
@pytest.mark.parametrize("seed", range(3))
def test_panels_of_a_page_are_put_together(noise, seed):
    panels, pages = sheet([["two", "six", "three"], ["six", "two", "two"]], noise=noise, seed=seed)
    found = pages_on_sheet(list(np.random.default_rng(seed).permutation(np.array(panels))), RATIO)
    truth = np.array([[(left + right) / 2, (top + bottom) / 2] for left, top, right, bottom in pages])
    assert middles(found) == pytest.approx(truth, abs=6)
    for outline, (left, _, right, _) in zip(found, pages, strict=True):
        assert right - left <= np.ptp(outline[:, 0]) <= 1.2 * (right - left)


def test_read_from_the_right_the_first_page_stands_right():
    panels, pages = sheet([["two", "three"]])
    assert middles(pages_on_sheet(panels, RATIO, "rtl"))[0, 0] == pytest.approx(pages[1][0] + PAGE[0] / 2, abs=3)


@pytest.mark.parametrize("gap", [20.0, 60.0])
def test_framed_thumbnails_stay_as_they_are(gap):
    panels, _ = sheet([["one", "one", "one"], ["one", "one", "one"]], gap=gap)
    assert all(outline is panel for outline, panel in zip(pages_on_sheet(panels, RATIO), panels, strict=True))


def test_a_sheet_that_is_one_page_is_left_to_the_person():
    panels, _ = sheet([["six"]])
    assert len(pages_on_sheet(panels, RATIO)) == 6


@pytest.mark.parametrize("panels", [[], [box(0, 0, 10, 10)]])
def test_where_there_is_little_nothing_is_put_together(panels):
    assert len(pages_on_sheet(panels, RATIO)) == len(panels)
