"""Panels whose drawing stands elsewhere on the page: they changed places, or others came before them or went."""

from collections.abc import Iterable, Sequence

import numpy as np

from board.vision.change_map import PanelChange, change_alone
from board.vision.coarse_alignment import Glance
from board.vision.edge_field import edge_field
from board.vision.laid_over import cut_out
from board.vision.panel_map import PanelMap, map_panel
from board.vision.panel_matching import PanelMatch, PanelMatching
from board.vision.registration_pyramid import COARSE_PX, shrunk

# Small copies of two panels that are less alike are not looked at closely. Own measurement on drawn pages whose panels moved and
# went on to the next stage: 19 of 20 drawings and themselves elsewhere reach 0.4 (of 141), 1 of 100 others reaches 0.31 (of 683).
LEAST_LIKENESS = 0.3
# In common between a drawing and itself elsewhere, at the least: as much as carries a note. Each try takes a third of what
# registering a page takes; of the places that a panel may have gone to, so many are tried. Own choice.
LEAST_IN_COMMON, MOST_TRIES, TRIES_A_PANEL = 0.35, 16, 2
# By so much more does a drawing have to be found where another one stood than where it stood itself: panels that show one set have
# something in common wherever they stand. Own measurement: 0.85 and none for drawings that changed places, 0.57 to 0.78 and 0.65 to
# 0.74 for two views of one room that were drawn anew.
SURER = 0.25
ASTRAY = ("redrawn", "gone", "new")
Pair = tuple[int, int]  # a panel of before and one of after
Pictures = tuple[np.ndarray, np.ndarray]


def follow_elsewhere(matching: PanelMatching, changes: Sequence[PanelChange], pictures: Pictures) -> tuple[PanelChange, ...]:
    """The changes, with those panels moved whose drawing was not found where they stood and is found where another one stood.

    changes: of these matches, as `change_map` tells them by place; pictures: of before and after, uint8 gray (H, W). Of a panel
    that seems parted, or of several that seem joined, one drawing may stand alone in one of the places. What is left over on both
    sides is dropped and added. Frames alone have something in common: what moved has to be drawn there too.
    """
    astray = [change for change in changes if change.word in ASTRAY]
    in_place = [(change.match.before[0], change.match.after[0]) for change in astray if _is_one_to_one(change)]
    maps = {pair: map_panel(pictures, matching.before[pair[0]], matching.after[pair[1]])
            for pair in _likely(matching, astray, in_place, pictures)}
    if not any(one.quality > LEAST_IN_COMMON for one in maps.values()):
        return tuple(changes)
    rivals = [pair for pair in in_place if any(pair[0] == i or pair[1] == j for i, j in maps)]
    maps |= {(i, j): map_panel(pictures, matching.before[i], matching.after[j]) for i, j in rivals}
    in_groups = {(i, j) for change in astray for i in change.match.before for j in change.match.after}
    pairs = [PanelMatch("resized" if pair in in_groups else "moved", pair[:1], pair[1:], 0.0)
             for pair in _found_elsewhere(maps, set(in_place))]
    moved = [change_alone(pair, maps[pair.before[0], pair.after[0]], pictures, matching) for pair in pairs]
    return _with_moved(changes, [change for change in moved if change.word != "redrawn"])


def _is_one_to_one(change: PanelChange) -> bool:
    return len(change.match.before) == len(change.match.after) == 1


def _likely(matching: PanelMatching, astray: Sequence[PanelChange], but: Iterable[Pair], pictures: Pictures) -> list[Pair]:
    """Pairs worth a closer look, the likeliest first: small copies of the two panels are alike."""
    sides = [sorted({index for change in astray for index in getattr(change.match, side)}) for side in ("before", "after")]
    if not all(sides):
        return []
    older, newer = (
        {index: edge_field(shrunk(cut_out(gray, outlines[index])[0], COARSE_PX)) for index in indices}
        for gray, outlines, indices in zip(pictures, (matching.before, matching.after), sides, strict=True)
    )
    alike = {(i, j): Glance(older[i], newer[j], upright=True).likeness for i in sides[0] for j in sides[1] if (i, j) not in but}
    first = [sorted((pair for pair in alike if pair[0] == i), key=lambda pair: -alike[pair])[:TRIES_A_PANEL] for i in sides[0]]
    likely = [pair for pairs in first for pair in pairs if alike[pair] >= LEAST_LIKENESS]
    return sorted(likely, key=lambda pair: -alike[pair])[:MOST_TRIES]


def _found_elsewhere(maps: dict[Pair, PanelMap], in_place: set[Pair]) -> list[Pair]:
    """Surest first, each panel once. One that is found where it stood as well as elsewhere stays."""
    taken: list[Pair] = []
    for pair in sorted(maps, key=lambda one: -maps[one].quality):
        rivals = [maps[one].quality for one in in_place if one in maps and (one[0] == pair[0] or one[1] == pair[1])]
        is_surer = pair in in_place or maps[pair].quality >= max(rivals, default=0.0) + SURER
        if maps[pair].quality > LEAST_IN_COMMON and is_surer and not any(pair[k] == one[k] for one in taken for k in (0, 1)):
            taken.append(pair)
    return [pair for pair in taken if pair not in in_place]


def _with_moved(changes: Sequence[PanelChange], moved: list[PanelChange]) -> tuple[PanelChange, ...]:
    went, came = ({index for change in moved for index in getattr(change.match, side)} for side in ("before", "after"))
    kept = list(moved)
    for change in changes:
        before, after = (tuple(one for one in indices if one not in gone)
                         for indices, gone in ((change.match.before, went), (change.match.after, came)))
        if (before, after) == (change.match.before, change.match.after):
            kept.append(change)
        else:
            kept += [PanelChange(PanelMatch("dropped", (i,), (), 0.0), "gone", 0.0, 0.0) for i in before]
            kept += [PanelChange(PanelMatch("added", (), (j,), 0.0), "new", 0.0, 0.0) for j in after]
    last = max((j for change in kept for j in change.match.after), default=0) + 1
    return tuple(sorted(kept, key=lambda change: (change.match.after or (last,), change.match.before)))
