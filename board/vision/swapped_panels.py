"""Panels that changed places on the page: each drawn otherwise where it stood, and found again where another one stood."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from board.vision.change_map import PanelChange
from board.vision.panel_matching import PanelMatch, PanelMatching
from board.vision.panels_by_drawing import find_by_drawing, in_common

# In common between a drawing and itself elsewhere, at the least: as much as carries a note. Each try takes as long as registering a
# page. Own choice.
LEAST_IN_COMMON, MOST_TRIES = 0.35, 6
# By so much more does a drawing have to be found where another one stood than where it stood itself: panels that show one set have
# something in common wherever they stand. Own measurement: 0.85 and none for drawings that changed places, 0.57 to 0.78 and 0.65 to
# 0.74 for two views of one room that were drawn anew.
SURER = 0.25
# Where more were drawn anew, the page was: nothing changed places. Own choice.
MOST_REDRAWN = 4


def follow_swapped(
    matching: PanelMatching, changes: Sequence[PanelChange], pictures: tuple[np.ndarray, np.ndarray]
) -> PanelMatching | None:
    """The matching with those panels moved that seem to have changed places among themselves; None where none did.

    Whether each shows the drawing of the other is for `change_map` to say: frames alone have something in common.

    changes: of these matches, as `change_map` tells them by place; pictures: of before and after, uint8 gray (H, W).
    """
    by_place = {
        change.match.before[0]: change.match.after[0] for change in changes
        if change.word == "redrawn" and len(change.match.before) == len(change.match.after) == 1
    }
    if not 2 <= len(by_place) <= MOST_REDRAWN:
        return None
    pairs = find_by_drawing(matching.before, matching.after, list(by_place), list(by_place.values()), pictures,
                            least=LEAST_IN_COMMON, most_tries=MOST_TRIES, but=by_place.items())
    went = {i: j for i, j, _ in pairs}
    if not went or {by_place[i] for i in went} != set(went.values()):
        return None
    if any(in_common(matching.before[i], matching.after[by_place[i]], pictures) > there - SURER for i, _, there in pairs):
        return None
    stay = [match for match in matching.matches if not (match.before and match.before[0] in went)]
    moved = [PanelMatch("moved", (i,), (j,), 0.0) for i, j in went.items()]
    last = len(matching.after)
    return replace(matching, matches=tuple(sorted([*stay, *moved], key=lambda one: (one.after or (last,), one.before))))
