"""Where a figure stands that was mended: drawn again on its soles, but taller or smaller, or with another head.

Nobody carries the marks of such a figure by the map of the drawing around it: its head is just what does not lie where it lay. So
the head is looked for along the figure's own axis, at other sizes too, and the legs about its soles. Our own rule; no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np

from board.vision.edge_field import as_channels, edge_field
from board.vision.patch_votes import PatchVotes, vote
from board.vision.redrawn_figure import (
    FEWEST,
    HALF_WIDTH,
    LEAST_PX,
    PATCH_PX,
    REACH_PX,
    SLACK_PX,
    STEP_PX,
    TALL_PX,
    common,
    moved,
    part_of,
    warped,
)

SIZES = np.geomspace(1 / 1.4, 1.4, 13)  # against what they had before: of the legs, and of the head
BETWEEN_SIZES = 0.03  # half a step
HEAD_TALL = 0.17  # of a figure whose chin nobody marked
HEAD_WIDE = 1.1  # of its height
LEGS = (0.5, 1.0)  # from the crown down; what is above them moves with another head
# Own measurement on drawn panels: in 25 figures that were mended the head is .86 and more and the legs .64 and more; in 20 of
# others, in another pose, beside it or of nobody the head is .66 and less, but once. Drawn in another pose on its soles, a figure
# has its head alone to be known by.
SURE_HEAD, SURE_LEGS, SURE_ALONE = 0.75, 0.6, 0.85
# The strip about the axis that is looked at, upright, px: half its width, what lies above the soles, and what below.
ASIDE, ABOVE, BELOW = 64, 380, 44
SIZE = 2 * ASIDE, ABOVE + BELOW
SOLE_AT = np.array([float(ASIDE), float(ABOVE)])
WHOLE = 0.03  # of its height, by which the head may lie off where the legs have it, and the legs off their ground
MOST_HEADS = 6  # places that are looked at more closely


@dataclass(frozen=True)
class MendedFigure:
    """`head`, `legs` 0..1: how much of each lies where it would; `head_to_after`, `body_to_after` (3, 3) from px of before to px of
    after, of what is above the chin and of the rest; where the legs tell nothing, the rest is where the drawing around it has it.
    `is_whole`: what is between chin and legs went with them."""

    head: float
    legs: float
    head_to_after: np.ndarray
    body_to_after: np.ndarray
    is_whole: bool

    @property
    def sure(self) -> float:
        return self.head

    @property
    def is_sure(self) -> bool:
        return self.head >= (SURE_HEAD if self.legs >= SURE_LEGS else SURE_ALONE)


def find_mended(before: np.ndarray, after: np.ndarray, maps: Sequence[np.ndarray], crown: np.ndarray, sole: np.ndarray,
                head_tall: float = HEAD_TALL) -> MendedFigure | None:
    """The surest of those that are sure, over all maps; None where no such figure is found.

    before, after: uint8 gray of two panels; each map (3, 3) a similarity from px of before to px of after, mirrored ones are passed
    over; `crown`, `sole` (2,) px of before; `head_tall`, how much of the figure's height is head.
    """
    looks = [look_for_mended(before, after, to_after, np.array([crown, sole]), head_tall)
             for to_after in maps if np.linalg.det(to_after[:2, :2]) > 0]
    return max((look for look in looks if look and look.is_sure), key=lambda look: look.sure, default=None)


def look_for_mended(before: np.ndarray, after: np.ndarray, to_after: np.ndarray, ends: np.ndarray, head_tall: float,
                    ) -> MendedFigure | None:
    """As above, by one map; `ends` (2, 2): crown and sole. None where the figure is too small, or shows too few lines."""
    there = moved(to_after, ends)
    if min(float(np.hypot(*(one[1] - one[0]))) for one in (there, ends)) < LEAST_PX:
        return None
    to_work = _upright(there)
    later = edge_field(warped(after, to_work, SIZE))
    start = to_work @ to_after
    legs, body_to_work = _legs(before, later, start)
    head, head_to_work = _head(before, later, start, head_tall)
    if not head:
        return None
    sole = moved(body_to_work, ends[1:])[0]
    if legs < SURE_LEGS:
        body_to_work = start
    elif np.hypot(*(sole - SOLE_AT)) < WHOLE * TALL_PX:  # on the ground it stood on, which the map knows better than the legs do
        body_to_work = _shifted(SOLE_AT - sole) @ body_to_work
    of_head = np.array([ends[0], ends[0] + head_tall * (ends[1] - ends[0])])
    off_px = np.hypot(*(moved(head_to_work, of_head) - moved(body_to_work, of_head)).T).max()
    back, is_whole = np.linalg.inv(to_work), bool(legs >= SURE_LEGS and off_px < WHOLE * TALL_PX)
    return MendedFigure(head, legs, back @ head_to_work, back @ body_to_work, is_whole)


def _upright(ends: np.ndarray) -> np.ndarray:
    """(3, 3) that takes the sole to its place in the strip, and the crown straight above it, a figure's height up."""
    up = complex(*ends[0]) - complex(*ends[1])
    turn = -1j * TALL_PX / up
    H = np.array([[turn.real, -turn.imag, 0], [turn.imag, turn.real, 0], [0, 0, 1.0]])
    H[:2, 2] = SOLE_AT - moved(H, ends[1:])[0]
    return H


def _legs(before: np.ndarray, later: np.ndarray, start: np.ndarray) -> tuple[float, np.ndarray]:
    """How much of them lies there, 0..1, and where they have the figure, (3, 3) px of before to px of the strip."""
    box = np.array([[-HALF_WIDTH, LEGS[0] - 1], [HALF_WIDTH, LEGS[1] - 1]]) * TALL_PX
    looks = (_lies(before, later, _about(SOLE_AT, grown) @ start, SOLE_AT + grown * box) for grown in SIZES)
    return max(looks, key=lambda one: one[0])


def _head(before: np.ndarray, later: np.ndarray, start: np.ndarray, head_tall: float) -> tuple[float, np.ndarray]:
    """The same of the head: looked for as one piece all along the strip, then at the likeliest places by its parts."""
    middle = SOLE_AT - [0, (1 - head_tall / 2) * TALL_PX]
    half = np.array([HEAD_WIDE, 1.15]) * head_tall / 2 * TALL_PX
    places, channels = [], as_channels(later)
    for grown in SIZES:
        H = _about(middle, grown) @ start
        first, last = (np.round(middle + sign * grown * half).astype(int).clip(0, SIZE) for sign in (-1, 1))
        piece = as_channels(edge_field(warped(before, H, SIZE)))[first[1] : last[1], first[0] : last[0]]
        likeness = cv2.matchTemplate(channels, np.ascontiguousarray(piece), cv2.TM_CCORR_NORMED)
        _, most, _, at = cv2.minMaxLoc(likeness)
        places.append((most, np.subtract(at, first), H, np.stack([first, last])))
    places.sort(key=lambda one: -one[0])
    return max((_lies(before, later, _shifted(shift) @ H, box + shift) for _, shift, H, box in places[:MOST_HEADS]),
               key=lambda one: one[0])


def _lies(before: np.ndarray, later: np.ndarray, H: np.ndarray, box: np.ndarray) -> tuple[float, np.ndarray]:
    """How much of what `H` puts into the box (2, 2 px of the strip) lies there but for one shift, and H with that shift."""
    room = PATCH_PX // 2
    (left, top), (right, bottom) = np.round(box).astype(int) + [[-room], [room]]
    field = np.zeros_like(later)
    inside = slice(max(0, top), max(0, bottom)), slice(max(0, left), max(0, right))
    field[inside] = edge_field(warped(before, H, SIZE))[inside]
    votes = vote(field, later, PATCH_PX, REACH_PX, STEP_PX)
    keep = ((votes.centre >= box[0]) & (votes.centre <= box[1])).all(1)
    votes = part_of(votes, keep)
    if len(votes) < FEWEST:
        return 0.0, H
    miss = votes.shift - common(votes)
    return votes.agreement(miss, SLACK_PX), _onto(votes, np.hypot(*miss.T) < SLACK_PX, box.mean(0)) @ H


def _onto(votes: PatchVotes, agree: np.ndarray, middle: np.ndarray) -> np.ndarray:
    """(3, 3) that moves the patches that agree where they belong, grown about the middle of the part by what is between two sizes
    at most."""
    at, shift, say = votes.centre[agree] - middle, votes.shift[agree], votes.say[agree]
    terms = np.concatenate([np.broadcast_to(np.eye(2), (len(at), 2, 2)), at[:, :, None] / TALL_PX], -1)  # right, down, growth
    left = np.einsum("nik,nij,njl->kl", terms, say, terms) + np.diag([1e-3, 1e-3, (SLACK_PX / TALL_PX / BETWEEN_SIZES) ** 2])
    right, down, grown = np.linalg.solve(left, np.einsum("nik,nij,nj->k", terms, say, shift))
    return _shifted(np.array([right, down])) @ _about(middle, 1 + grown / TALL_PX)


def _about(centre: np.ndarray, grown: float) -> np.ndarray:
    H = np.diag([grown, grown, 1.0])
    H[:2, 2] = centre * (1 - grown)
    return H


def _shifted(shift: np.ndarray) -> np.ndarray:
    H = np.eye(3)
    H[:2, 2] = shift
    return H
