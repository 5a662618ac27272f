"""Fingerprints of drawn panels, by which a drawing is known again: elsewhere, at another size, shifted, turned or mirrored."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import atan2, degrees, hypot

import cv2
import numpy as np

WIDE_PX = 480  # panels are looked at this wide
LOOKED_THROUGH, MOST_POINTS = 1600, 400
PLOT, MOST_IN_A_PLOT = 1 / 12, 11  # panel widths: hatching and foliage would take all the points
FRAME_SHARE = 0.03  # of the panel's width: every frame looks like every other
LEADING = 110  # the strongest points say which panels are worth a closer look
LOOKED_AT = 10  # so many of them
NEAR_BITS = 66  # of 256, in which two points that show the same may differ
SLACK = 0.012  # panel widths by which a point may lie off where the whole drawing lies
SIZES = (0.3, 3.3)  # a drawing is known again between these
CELL = 1 / 24  # panel widths: points closer to each other than this say one thing once
# Own measurement on 180 scenes: a drawing taken over reaches it in 92 of 100, another drawing 10 at most (of some 10000).
FEWEST_CELLS = 11
# A drawing taken over at another stage often falls short of that: a pencil's points and a final line's differ. Where a few agree,
# all are asked again, more loosely, whether one like them lies where the drawing says. Own measurement on 36 scenes in pencil and
# final: of 9 that fell short 7 reach it, by 17 places and more; another drawing 13 at most (of 3800).
WORTH_ASKING = 6
ALIKE_BITS, ALIKE_SLACK, FEWEST_ALIKE = 80, 0.008, 16


@dataclass(frozen=True, eq=False)
class DrawingPrint:
    """`at` float32 (N, 2) in panel widths from the panel's upper left corner, strongest first; `bits` uint8 (N, 32); `high`, the
    panel's height in its widths."""

    at: np.ndarray
    bits: np.ndarray
    high: float

    @cached_property
    def signs(self) -> np.ndarray:
        """The bits as -1 and 1, float32 (N, 256): their products count in how many two points agree."""
        return np.unpackbits(self.bits, axis=1).astype(np.float32) * 2 - 1


@dataclass(frozen=True, eq=False)
class KnownDrawing:
    """`index` of the earlier print; `H_before_to_after` (3, 3) in panel widths of each; `at` (M, 2) points known again, here;
    `cells`, in how many places that is; `is_mirrored`."""

    index: int
    H_before_to_after: np.ndarray
    at: np.ndarray
    cells: int
    is_mirrored: bool

    def against_frame(self, high: float) -> tuple[float, float, float]:
        """How far the earlier panel's middle lies off the later one's, in panel widths, of a later panel `high` widths; the scale;
        the turn in degrees, once mirrored."""
        H, middle = self.H_before_to_after, np.array([0.5, high / 2])
        off = H[:2, :2] @ middle + H[:2, 2] - middle
        side = -1 if self.is_mirrored else 1
        return float(np.hypot(*off)), hypot(H[0, 0], H[1, 0]), degrees(atan2(side * H[1, 0], side * H[0, 0]))


def print_of(panel: np.ndarray, left_out: np.ndarray | None = None) -> DrawingPrint:
    """The fingerprint of one panel, uint8 gray (H, W); `left_out` bool of that shape: words, and what belongs to other panels.

    The points are ORB's (Rublee and others, ICCV 2011) as OpenCV finds them. Raises ValueError for anything but a gray picture.
    """
    if panel.ndim != 2 or panel.dtype != np.uint8 or not panel.size:
        raise ValueError("A panel's fingerprint is taken of a gray picture, uint8 (H, W).")
    size = WIDE_PX, max(1, round(WIDE_PX * panel.shape[0] / panel.shape[1]))
    small = cv2.resize(panel, size, interpolation=cv2.INTER_AREA)
    looked_at = np.zeros(small.shape, np.uint8)
    rim = round(FRAME_SHARE * WIDE_PX)
    looked_at[rim:-rim, rim:-rim] = 255
    if left_out is not None:
        looked_at[cv2.resize(left_out.astype(np.uint8), size, interpolation=cv2.INTER_NEAREST) > 0] = 0
    orb = cv2.ORB.create(LOOKED_THROUGH, fastThreshold=10)
    points, bits = orb.detectAndCompute(small, looked_at)
    if bits is None:
        return DrawingPrint(np.zeros((0, 2), np.float32), np.zeros((0, 32), np.uint8), panel.shape[0] / panel.shape[1])
    order = np.argsort([-point.response for point in points], kind="stable")
    at = np.array([points[i].pt for i in order], np.float32) / WIDE_PX
    kept = _spread(at)[:MOST_POINTS]
    return DrawingPrint(at[kept], np.ascontiguousarray(bits[order][kept]), panel.shape[0] / panel.shape[1])


def _spread(at: np.ndarray) -> np.ndarray:
    """Indices of the first few points of each plot, in order."""
    plots = np.floor(at / PLOT).astype(int) @ [1000, 1]
    seen: dict[int, int] = {}
    kept = []
    for index, plot in enumerate(plots.tolist()):
        seen[plot] = seen.get(plot, 0) + 1
        if seen[plot] <= MOST_IN_A_PLOT:
            kept.append(index)
    return np.array(kept)


def known_again(later: DrawingPrint, mirrored: DrawingPrint, earlier: Sequence[DrawingPrint]) -> list[KnownDrawing]:
    """The drawings among `earlier` that the later panel shows again, the surest first; none is no error, but an empty list.

    mirrored: the print of the later panel's mirror image. `H_before_to_after` is a similarity fitted by RANSAC, in panel widths.
    """
    if not earlier:
        return []
    votes = [_votes(one, earlier) for one in (later, mirrored)]
    found: dict[int, KnownDrawing] = {}
    for one, counted, is_mirrored in ((later, votes[0], False), (mirrored, votes[1], True)):
        for index in np.argsort(-counted, kind="stable")[:LOOKED_AT]:
            # What is alike on its left and right is found both ways: nothing says then that it was mirrored.
            if not (is_mirrored and index in found) and (known := _look_closely(one, earlier[index], int(index), is_mirrored)):
                found[known.index] = known
    return sorted(found.values(), key=lambda known: -known.cells)


def _votes(later: DrawingPrint, earlier: Sequence[DrawingPrint]) -> np.ndarray:
    """(K,) how many of the strongest points of each earlier panel come nearest to one of the later panel's."""
    votes = np.zeros(len(earlier))
    if not len(later.at):
        return votes
    whose = np.repeat(np.arange(len(earlier)), [min(LEADING, len(one.at)) for one in earlier])
    bits = np.concatenate([one.bits[:LEADING] for one in earlier])
    if not len(bits):
        return votes
    for near in cv2.BFMatcher(cv2.NORM_HAMMING).knnMatch(later.bits[:LEADING], bits, k=4):
        for one in near:
            votes[whose[one.trainIdx]] += one.distance < NEAR_BITS
    return votes


def _look_closely(later: DrawingPrint, before: DrawingPrint, index: int, is_mirrored: bool) -> KnownDrawing | None:
    if min(len(later.at), len(before.at)) < WORTH_ASKING:
        return None
    here, there = _nearest_pairs(later, before)
    if len(here) < WORTH_ASKING:
        return None
    src, dst = before.at[there], later.at[here]
    cv2.setRNGSeed(1)
    similar, agree = cv2.estimateAffinePartial2D(src, dst, ransacReprojThreshold=SLACK, maxIters=1000)
    if similar is None or not SIZES[0] < np.hypot(*similar[0, :2]) < SIZES[1]:
        return None
    agree = agree.ravel() > 0
    cells = min(_cells(src[agree]), _cells(dst[agree]))
    found: KnownDrawing | None = KnownDrawing(index, np.vstack([similar, [0, 0, 1]]), dst[agree], cells, is_mirrored)
    if found and cells < FEWEST_CELLS:
        found = _ask_again(later, before, found) if cells >= WORTH_ASKING else None
    return _seen_from(found) if found else None


def _nearest_pairs(later: DrawingPrint, before: DrawingPrint) -> tuple[np.ndarray, np.ndarray]:
    """(M,) twice: which points of the two are nearest to one another and near. By one product of matrices, since a board of many
    pages is asked for thousands of these: half of what a matcher takes."""
    alike = later.signs @ before.signs.T
    here, there = np.arange(len(alike)), alike.argmax(1)
    is_near = (256 - alike[here, there]) / 2 < NEAR_BITS
    is_pair = is_near & (alike.argmax(0)[there] == here)
    return here[is_pair], there[is_pair]


def _ask_again(later: DrawingPrint, before: DrawingPrint, known: KnownDrawing) -> KnownDrawing | None:
    """The same by all points that have one like them where it should lie, the map fitted to those; None where too few have."""
    similar = known.H_before_to_after[:2]
    for _ in range(2):
        src, dst = _alike(later, before, similar, SLACK)
        if len(src) < WORTH_ASKING:
            return None
        similar = cv2.estimateAffinePartial2D(src, dst, ransacReprojThreshold=ALIKE_SLACK, maxIters=300)[0]
        if similar is None:
            return None
    src, dst = _alike(later, before, similar, ALIKE_SLACK)
    cells = min(_cells(src), _cells(dst))
    if cells < FEWEST_ALIKE:
        return None
    return KnownDrawing(known.index, np.vstack([similar, [0, 0, 1]]), dst, cells, known.is_mirrored)


def _alike(later: DrawingPrint, before: DrawingPrint, similar: np.ndarray, slack: float) -> tuple[np.ndarray, np.ndarray]:
    """(M, 2) twice: points of the earlier panel, and those of the later one that lie there and look like them."""
    went = before.at @ similar[:, :2].T + similar[:, 2]
    here, there = np.nonzero(np.hypot(*(later.at[:, None] - went[None]).transpose(2, 0, 1)) < slack)
    bits = np.unpackbits(later.bits[here] ^ before.bits[there], axis=1).sum(1)
    return before.at[there[bits < ALIKE_BITS]], later.at[here[bits < ALIKE_BITS]]


def _seen_from(known: KnownDrawing) -> KnownDrawing:
    """In the panel as it is drawn: what was looked at mirrored is turned back."""
    if not known.is_mirrored:
        return known
    back = np.array([[-1.0, 0, 1], [0, 1, 0], [0, 0, 1]])
    return KnownDrawing(known.index, back @ known.H_before_to_after, np.column_stack([1 - known.at[:, 0], known.at[:, 1]]),
                        known.cells, True)


def _cells(at: np.ndarray) -> int:
    return len(np.unique(np.floor(at / CELL), axis=0))
