"""Which panel of a revision is which on the next one."""

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
from scipy.optimize import linear_sum_assignment

from board.vision.page_registration import PageRegistration
from board.vision.panels_by_drawing import find_by_drawing

# Panels are compared as areas on a raster of this side (of a square as large as the page): 0.2 % of it a cell.
RASTER_PX = 500
# The same panel if the two share this much of their union; a redrawn frame seldom keeps less. Own choice.
SAME_PANEL = 0.5
# A part of a split panel lies in the old one to this share, and the parts make up this share of it.
PART, WHOLE = 0.8, 0.8
# A whole panel is not looked for parts where one panel takes its place this well: an inset was added, or a sliver cut off.
STILL_WHOLE = 0.9
# Frames are drawn by hand: less than this share of the panel's side is no resizing, less than this share of the diagonal no move.
RESIZED, MOVED = 0.05, 0.01


@dataclass(frozen=True)
class PanelMatch:
    """`kind` is kept, moved, resized, split, merged, added or dropped; `before` and `after` are indices into the two lists.

    `overlap` 0..1 is the intersection over union of the two areas, the older one carried onto the newer picture.
    """

    kind: str
    before: tuple[int, ...]
    after: tuple[int, ...]
    overlap: float


@dataclass(frozen=True, eq=False)
class PanelMatching:
    """Every panel of both revisions stands in exactly one of `matches`. Polygons (K, 2) in px of their own picture; `carried` are
    those of before in px of after."""

    before: tuple[np.ndarray, ...]
    after: tuple[np.ndarray, ...]
    carried: tuple[np.ndarray, ...]
    matches: tuple[PanelMatch, ...]


def match_panels(
    before: Sequence, after: Sequence, registration: PageRegistration, pictures: tuple[np.ndarray, np.ndarray] | None = None
) -> PanelMatching:
    """Matches panels, given as polygons (K, 2) in px of the two pictures, by where the drawing has gone.

    Splits and merges first, since a half must not pass for the whole resized; then the pairing with most overlap in all. With the
    two `pictures` (uint8 gray) at hand, panels left over are looked for by their drawing anywhere on the newer page; without them
    they are dropped and added. Moved and resized are meant against the sheet as a whole, so a shifted scan moves no panel.
    """
    before, after = (tuple(np.asarray(polygon, float).reshape(-1, 2) for polygon in polygons) for polygons in (before, after))
    carried = tuple(_carried(polygon, registration) for polygon in before)
    shared, areas_before, areas_after = _areas(carried, after, registration.size_after)
    union = areas_before[:, None] + areas_after[None] - shared
    overlap = shared / np.maximum(union, 1)
    parted = _parted(shared, areas_before, areas_after, overlap)
    joined = [(kind, b, a) for kind, a, b in _parted(shared.T, areas_after, areas_before, overlap.T, "merged")]
    groups = _compatible([*parted, *joined])
    by_place = _paired(overlap, _free(len(before), groups, 1), _free(len(after), groups, 2))
    # Where the sheets have nothing in common, the same place on the page says less than the same drawing.
    pairs = [] if pictures and registration.quality == 0 else by_place
    if pictures:
        taken = [*groups, *(("", (i,), (j,)) for i, j in pairs)]
        found = find_by_drawing(before, after, _free(len(before), taken, 1), _free(len(after), taken, 2), pictures)
        pairs = pairs + found
    pairs += [pair for pair in by_place if not any(pair[k] == other[k] for other in pairs for k in (0, 1))]
    taken = [*groups, *(("", (i,), (j,)) for i, j in pairs)]
    diagonal = float(np.hypot(*registration.size_after))
    laid = _settled([_laid(polygon, registration.H_before_to_after) for polygon in before], after, pairs, diagonal)
    matches = [PanelMatch(kind, b, a, _joint(shared, areas_before, areas_after, b, a)) for kind, b, a in groups]
    matches += [PanelMatch(_kind(laid[i], after[j], diagonal), (i,), (j,), float(overlap[i, j])) for i, j in pairs]
    taken = [*groups, *(("", (i,), (j,)) for i, j in pairs)]
    matches += [PanelMatch("dropped", (i,), (), 0.0) for i in _free(len(before), taken, 1)]
    matches += [PanelMatch("added", (), (j,), 0.0) for j in _free(len(after), taken, 2)]
    return PanelMatching(before, after, carried, tuple(sorted(matches, key=lambda m: (m.after or (len(after),), m.before))))


def _carried(polygon: np.ndarray, registration: PageRegistration) -> np.ndarray:
    """The outline on the newer picture; long edges get points on the way, so that they bend with the paper."""
    steps = np.linspace(0, 1, 8, endpoint=False)[None, :, None]
    dense = polygon[:, None] * (1 - steps) + np.roll(polygon, -1, 0)[:, None] * steps
    return registration.map_points(dense.reshape(-1, 2))


def _areas(
    carried: Sequence[np.ndarray], after: Sequence[np.ndarray], size: tuple[int, int]
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    scale = RASTER_PX / np.sqrt(size[0] * size[1])
    shape = max(1, round(size[1] * scale)), max(1, round(size[0] * scale))
    older, newer = (
        np.array([_mask(polygon * scale, shape) for polygon in polygons], np.float32).reshape(len(polygons), shape[0] * shape[1])
        for polygons in (carried, after)
    )
    return older @ newer.T, older.sum(1), newer.sum(1)


def _mask(polygon: np.ndarray, shape: tuple[int, ...]) -> np.ndarray:
    mask = np.zeros(shape, np.uint8)
    cv2.fillPoly(mask, [np.round((polygon - 0.5) * 16).astype(np.int32)], 1, shift=4)
    return mask.ravel().astype(np.float32)


def _parted(
    shared: np.ndarray, areas: np.ndarray, areas_of_parts: np.ndarray, overlap: np.ndarray, kind: str = "split"
) -> list:
    """(kind, whole, parts) for each panel whose area several others have taken over."""
    found = []
    for i in range(len(areas)):
        parts = np.flatnonzero(shared[i] >= PART * np.maximum(areas_of_parts, 1))
        covers = shared[i, parts].sum() >= WHOLE * areas[i]
        disjoint = areas_of_parts[parts].sum() <= 1.1 * areas[i]
        if len(parts) > 1 and covers and disjoint and overlap[i].max() < STILL_WHOLE:
            found.append((kind, (i,), tuple(int(j) for j in parts)))
    return found


def _compatible(groups: list) -> list:
    """No panel in two groups: the first that claims it keeps it."""
    kept: list = []
    for group in groups:
        if not any(set(group[k]) & set(other[k]) for other in kept for k in (1, 2)):
            kept.append(group)
    return kept


def _free(count: int, groups: list, side: int) -> list[int]:
    taken = {i for group in groups for i in group[side]}
    return [i for i in range(count) if i not in taken]


def _laid(polygon: np.ndarray, H: np.ndarray) -> np.ndarray:
    return cv2.perspectiveTransform(polygon[None], H)[0]


def _settled(
    laid: list[np.ndarray], after: Sequence[np.ndarray], pairs: list[tuple[int, int]], diagonal: float
) -> list[np.ndarray]:
    """The outlines moved by the plane transform that most frames agree on.

    The drawing's own transform tips a little towards a panel that slid, and so would make the others slide. Two panels cannot say
    which of them moved: then it stays as it is.
    """
    if len(pairs) < 3:
        return laid
    older, newer = (np.concatenate([_corners(side[pair[k]]) for pair in pairs]) for k, side in enumerate((laid, after)))
    H, _ = cv2.findHomography(older, newer, cv2.RANSAC, MOVED / 2 * diagonal)
    return laid if H is None else [_laid(polygon, H) for polygon in laid]


def _corners(polygon: np.ndarray) -> np.ndarray:
    (left, top), (right, bottom) = polygon.min(0), polygon.max(0)
    return np.array([[left, top], [right, top], [right, bottom], [left, bottom]])


def _paired(overlap: np.ndarray, free_before: list[int], free_after: list[int]) -> list[tuple[int, int]]:
    block = np.where(overlap >= SAME_PANEL, overlap, 0)[np.ix_(free_before, free_after)]
    rows, cols = linear_sum_assignment(-block)
    return [(free_before[r], free_after[c]) for r, c in zip(rows, cols, strict=True) if block[r, c] > 0]


def _is_resized(older: np.ndarray, newer: np.ndarray) -> bool:
    side, new_side = np.ptp(older, 0), np.ptp(newer, 0)
    return bool((np.abs(new_side - side) > RESIZED * np.maximum(side, new_side)).any())


def _kind(older: np.ndarray, newer: np.ndarray, diagonal: float) -> str:
    if _is_resized(older, newer):
        return "resized"
    shift = (newer.min(0) + newer.max(0) - older.min(0) - older.max(0)) / 2
    return "moved" if np.hypot(*shift) > MOVED * diagonal else "kept"


def _joint(
    shared: np.ndarray, areas_before: np.ndarray, areas_after: np.ndarray, before: Sequence[int], after: Sequence[int]
) -> float:
    both = shared[np.ix_(before, after)].sum()
    return float(both / max(1.0, areas_before[list(before)].sum() + areas_after[list(after)].sum() - both))
