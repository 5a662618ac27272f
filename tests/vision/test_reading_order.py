"""Reading order of panels given as polygons: tiers, columns, slants, insets, facing pages, both directions."""

import numpy as np
import pytest

from board.vision.reading_order import order_panels

PAGE_WIDTH = 100


def box(left, top, right, bottom):
    return np.array([[left, top], [right, top], [right, bottom], [left, bottom]], float)


# name -> panels in the order they are read from left to right, y down
PLAIN = {
    "one": [box(0, 0, 100, 140)],
    "two tiers": [box(0, 0, 100, 60), box(0, 65, 100, 140)],
    "grid": [box(0, 0, 48, 60), box(52, 0, 100, 60), box(0, 65, 48, 140), box(52, 65, 100, 140)],
    "uneven tiers": [box(0, 0, 30, 40), box(34, 0, 100, 40), box(0, 44, 70, 90), box(74, 44, 100, 90), box(0, 94, 100, 140)],
    "tall at the end of the line": [box(0, 0, 60, 40), box(0, 44, 60, 90), box(64, 0, 100, 90), box(0, 94, 100, 140)],
    "tall at its beginning": [box(0, 0, 40, 90), box(44, 0, 100, 40), box(44, 44, 100, 90), box(0, 94, 100, 140)],
    "slanted columns": [np.array([[0, 0], [20, 0], [35, 60], [0, 60]]), np.array([[25, 0], [80, 0], [65, 60], [40, 60]]),
                        np.array([[85, 0], [100, 0], [100, 60], [70, 60]])],
    "slanted tiers": [np.array([[0, 0], [100, 0], [100, 30], [0, 70]]), np.array([[0, 76], [100, 36], [100, 140], [0, 140]])],
    "a panel that reaches a little into the next tier": [box(0, 0, 48, 64), box(52, 0, 100, 60), box(0, 66, 48, 140),
                                                         box(52, 62, 100, 140)],
    "inset after its host": [box(0, 0, 100, 80), box(60, 50, 95, 75), box(0, 84, 100, 140)],
    "two insets": [box(0, 0, 100, 80), box(50, 20, 95, 45), box(55, 50, 95, 75), box(0, 84, 100, 140)],
    "single panels of uneven width": [box(10, 0, 90, 30), box(30, 34, 100, 80), box(0, 84, 60, 140)],
}


def mirrored(panels):
    return [panel * (-1, 1) + (PAGE_WIDTH, 0) for panel in panels]


@pytest.mark.parametrize("name", PLAIN)
@pytest.mark.parametrize("reading", ["ltr", "rtl"])
@pytest.mark.parametrize("seed", range(3))
def test_panels_are_read_by_tiers(name, reading, seed):
    panels = PLAIN[name] if reading == "ltr" else mirrored(PLAIN[name])
    shuffle = np.random.default_rng(seed).permutation(len(panels))
    order = order_panels([panels[k] for k in shuffle], reading)
    assert [int(shuffle[k]) for k in order.indices] == list(range(len(panels)))
    assert not order.doubtful


@pytest.mark.parametrize("reading", ["ltr", "rtl"])
def test_facing_pages_are_read_one_after_the_other(reading):
    left = [box(3, 0, 95, 60), box(3, 65, 48, 140), box(52, 65, 95, 140)]
    right = [box(105, 0, 150, 60), box(154, 0, 197, 60), box(105, 65, 197, 140)]
    first = left + right
    panels = first if reading == "ltr" else [panel * (-1, 1) + (200, 0) for panel in first]
    assert order_panels(panels, reading).indices == tuple(range(6))


def test_a_strip_of_one_tier_is_no_pair_of_pages():
    panels = [box(k * 50, 0, k * 50 + 45, 60) for k in range(4)]
    assert order_panels(panels).indices == (0, 1, 2, 3)


def test_a_pinwheel_is_ordered_and_called_doubtful():
    panels = [box(0, 0, 60, 40), box(64, 0, 100, 80), box(40, 84, 100, 140), box(0, 44, 36, 140), box(40, 44, 60, 80)]
    order = order_panels(panels)
    assert order.doubtful and order.indices[0] == 0 and sorted(order.indices) == [0, 1, 2, 3, 4]


def test_an_inset_where_the_reader_enters_is_doubtful():
    panels = [box(0, 0, 100, 80), box(5, 5, 30, 25)]
    assert order_panels(panels).doubtful and not order_panels(panels, "rtl").doubtful


def test_nothing_has_an_order_too():
    assert order_panels([]).indices == () and not order_panels([]).doubtful


def test_another_direction_is_refused():
    with pytest.raises(ValueError, match="ltr or rtl"):
        order_panels([], "ttb")
