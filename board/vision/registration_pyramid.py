"""One drawing laid on another from coarse to fine: a guess for the whole sheet, then votes of its patches at growing size."""

from collections.abc import Iterable
from dataclasses import dataclass, field

import cv2
import numpy as np

from board.vision.coarse_alignment import Glance, Placement
from board.vision.edge_field import edge_field
from board.vision.homography_fit import fit_homography, misses
from board.vision.laid_over import lay_over
from board.vision.local_warp import LocalWarp, fit_local_warp, still, undone
from board.vision.patch_votes import vote

COARSE_PX = 110
# Pages with nothing in common agree up to 0.4 (frames fit frames), pages drawn over one another mostly above 0.6. Own measurement.
UNSURE = 0.45
# Below this, at the last size but one, other ways up are tried too.
SURE = 0.6
# From here on, sheet laid on sheet, no other place is looked for: most revisions are saved from the same file as the one before.
SURE_AS_IT_LIES = 0.8
# A place or a way up that is less like than these is not looked at closely: of the likeliest one's likeness, and at all. On 36
# turned pairs of stages of a drawn comic the true way up was 1.5 times as like as any other, and 0.25 or more (own measurement).
LIKELY, LEAST_LIKENESS = 0.75, 0.12


@dataclass(frozen=True)
class Level:
    """One size to work at: lengths in its own pixels. `side_px` is the side of a square as large as either picture, so that
    a strip keeps enough of its height to be told by."""

    side_px: int
    patch_px: int
    step_px: int
    reach_px: int
    slack_px: float
    plane_rounds: int
    local_rounds: int


LEVELS = (
    Level(110, 40, 10, 10, 1.5, 5, 1),
    Level(220, 48, 16, 10, 1.5, 1, 2),
    Level(440, 64, 32, 10, 1.2, 0, 2),
    Level(880, 96, 48, 10, 1.2, 0, 1),
)


@dataclass(frozen=True)
class Alignment:
    """How before lies on after: first `H_before_to_after` (3, 3) in continuous pixels of the two pictures, then `local`, shifts in
    pixels of after. `agreement` 0..1: the share of the patches that it brings where they belong."""

    H_before_to_after: np.ndarray
    local: LocalWarp
    agreement: float


@dataclass(frozen=True, eq=False)
class Sizes:
    """A picture (uint8 gray) and it made smaller, with its edges: each size is asked for again and again."""

    gray: np.ndarray
    small: dict[int, np.ndarray] = field(default_factory=dict)
    fields: dict[int, np.ndarray] = field(default_factory=dict)

    def at(self, side_px: int) -> np.ndarray:
        if side_px not in self.small:
            self.small[side_px] = shrunk(self.gray, side_px)
        return self.small[side_px]

    def edges(self, side_px: int) -> np.ndarray:
        if side_px not in self.fields:
            self.fields[side_px] = edge_field(self.at(side_px))
        return self.fields[side_px]


def align(before: np.ndarray, after: np.ndarray, upright: bool = False) -> Alignment | None:
    """Lays `before` on `after` (uint8 gray, any two sizes). None where nothing speaks for any place.

    A sheet that finds no sure place as it is is tried on its side and upside down as well, unless both are known to be `upright`.
    """
    older, newer = Sizes(before), Sizes(after)
    if any(not one.edges(COARSE_PX).any() for one in (older, newer)):
        return None
    best = _as_it_lies(older, newer)
    if best is None:
        places = _placements(Glance(older.edges(COARSE_PX), newer.edges(COARSE_PX)), most=4)
        best = _next_size(older, newer, _best_of(older, newer, places, 0))
        if not upright and (best is None or best.agreement < SURE):
            best = _surest((best, _next_size(older, newer, _best_turned(older, newer, places))))
    return refine(older, newer, best, LEVELS[3]) if best else None


def _surest(alignments: Iterable[Alignment | None]) -> Alignment | None:
    return max((one for one in alignments if one), key=lambda one: one.agreement, default=None)


def _next_size(before: Sizes, after: Sizes, start: Alignment | None) -> Alignment | None:
    return refine(before, after, start, LEVELS[2]) if start else None


def _as_it_lies(before: Sizes, after: Sizes) -> Alignment | None:
    """At all sizes but the last, from the plain scaling of one sheet to the other; None where that leaves doubt."""
    size_before, size_after = before.gray.shape[::-1], after.gray.shape[::-1]
    scaling = np.diag([size_after[0] / size_before[0], size_after[1] / size_before[1], 1.0])
    start = refine(before, after, Alignment(scaling, still(size_after), 0), LEVELS[0])
    start = refine(before, after, start, LEVELS[1])
    return refine(before, after, start, LEVELS[2]) if start.agreement >= SURE_AS_IT_LIES else None


def _best_turned(before: Sizes, after: Sizes, upright: tuple[Placement, ...]) -> Alignment | None:
    """The best rough placement on its side or upside down, where one is about as likely as the `upright` ones."""
    glances = {turns: Glance(edge_field(np.rot90(before.at(COARSE_PX), -turns)), after.edges(COARSE_PX)) for turns in (1, 2, 3)}
    least = _least([*(glance.likeness for glance in glances.values()), *(place.likeness for place in upright)])
    likely = [turns for turns, glance in glances.items() if glance.likeness >= least]
    return _surest(_best_of(before, after, _placements(glances[turns], most=2), turns) for turns in likely)


def _placements(glance: Glance, most: int) -> tuple[Placement, ...]:
    """The likely rough places of a small picture; the likeliest first."""
    places = glance.placements(most)
    least = _least([place.likeness for place in places])
    return tuple(place for place in places if place.likeness >= least)


def _least(likenesses: Iterable[float]) -> float:
    return max(LEAST_LIKENESS, LIKELY * max(likenesses, default=0.0))


def _best_of(before: Sizes, after: Sizes, places: Iterable[Placement], quarter_turns: int) -> Alignment | None:
    """The best of the rough placements of a picture turned by quarters, at the first two sizes."""
    small_before, small_after, size_after = before.at(COARSE_PX), after.at(COARSE_PX), after.gray.shape[::-1]
    H_to_turned = _quarter_turn(small_before.shape, quarter_turns)
    lifted = [_lift(place.H_before_to_after @ H_to_turned, before.gray, after.gray, small_before, small_after) for place in places]
    starts = [refine(before, after, Alignment(H, still(size_after), 0), LEVELS[0]) for H in lifted]
    return _surest(refine(before, after, start, LEVELS[1]) for start in _distinct(starts, before.gray.shape, after.gray.shape))


def _distinct(starts: list[Alignment], before_shape: tuple[int, ...], after_shape: tuple[int, ...]) -> list[Alignment]:
    """Drops starts that have run into the same place as a better one."""
    corners = np.array([[[0, 0], [1, 0], [1, 1], [0, 1]]], float) * before_shape[::-1]
    kept: list[Alignment] = []
    places: list[np.ndarray] = []
    for start in sorted(starts, key=lambda one: -one.agreement):
        place = cv2.perspectiveTransform(corners, start.H_before_to_after)[0]
        if all(np.abs(place - other).max() > 0.02 * max(after_shape) for other in places):
            kept.append(start)
            places.append(place)
    return kept


def _quarter_turn(shape: tuple[int, ...], turns: int) -> np.ndarray:
    """Pixel indices of a picture to those of it turned clockwise by quarters."""
    H, (height, width) = np.eye(3), shape
    for _ in range(turns):
        H = np.array([[0, -1, height - 1], [1, 0, 0], [0, 0, 1.0]]) @ H
        height, width = width, height
    return H


def shrunk(gray: np.ndarray, side_px: int) -> np.ndarray:
    share = side_px / np.sqrt(gray.size)
    if share >= 1:
        return gray
    size = max(1, round(gray.shape[1] * share)), max(1, round(gray.shape[0] * share))
    return cv2.resize(gray, size, interpolation=cv2.INTER_AREA)


def refine(before: Sizes, after: Sizes, start: Alignment, level: Level) -> Alignment:
    """Betters an alignment that is off by the reach of the level at most."""
    small_before, small_after = before.at(level.side_px), after.at(level.side_px)
    fixed, extent = after.edges(level.side_px), small_after.shape[::-1]
    patch_px = min(level.patch_px, *extent)
    H = _lower(start.H_before_to_after, before.gray, after.gray, small_before, small_after)
    local = start.local.scaled(extent)
    for round_ in range(level.plane_rounds + level.local_rounds):
        back = undone(local)
        votes = vote(_field_laid_over(small_before, H, back, fixed.shape), fixed, patch_px, level.reach_px, level.step_px)
        first_slack = level.reach_px / (2 if round_ == 0 else 4)
        if round_ < level.plane_rounds:
            step = fit_homography(votes, extent, level.slack_px, first_slack)
            H, left = step @ H, misses(votes, step)
        else:
            at = votes.centre + back.at(votes.centre)
            shift = votes.centre + votes.shift - at
            local = fit_local_warp(at, votes, shift, extent, level.slack_px, first_slack)
            left = shift - local.at(at)
    agreement = votes.agreement(left, 2 * level.slack_px)
    H_lifted = _lift(H, before.gray, after.gray, small_before, small_after)
    return Alignment(H_lifted, local.scaled(after.gray.shape[::-1]), agreement)


def _field_laid_over(before: np.ndarray, H: np.ndarray, back: LocalWarp, shape: tuple[int, ...]) -> np.ndarray:
    """The edge field of `before` as it lies in the frame of after; nothing where the sheet does not reach, nor at its rim."""
    laid, inside = lay_over(before, H, back, shape)
    return np.where(inside, edge_field(laid), 0).astype(np.complex64)


def resized(picture: np.ndarray, small: np.ndarray) -> np.ndarray:
    """Continuous pixels of a picture to pixel indices of its small copy."""
    kx, ky = small.shape[1] / picture.shape[1], small.shape[0] / picture.shape[0]
    return np.array([[kx, 0, -0.5], [0, ky, -0.5], [0, 0, 1.0]])


def _lift(
    H_small: np.ndarray, before: np.ndarray, after: np.ndarray, small_before: np.ndarray, small_after: np.ndarray
) -> np.ndarray:
    return np.linalg.inv(resized(after, small_after)) @ H_small @ resized(before, small_before)


def _lower(
    H: np.ndarray, before: np.ndarray, after: np.ndarray, small_before: np.ndarray, small_after: np.ndarray
) -> np.ndarray:
    return resized(after, small_after) @ H @ np.linalg.inv(resized(before, small_before))
