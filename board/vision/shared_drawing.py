"""How the drawing that two panels share lies in the later one: shifted, scaled and turned against the frame by so much."""

from dataclasses import dataclass

import cv2
import numpy as np

from board.not_measured import NotMeasured
from board.vision.edge_field import edge_field
from board.vision.patch_votes import PatchVotes, vote

# The frame itself is left out of the comparison: it stands still when what it holds has slipped.
FRAME_SHARE = 0.04
# By which the panels' shapes may differ: a panel cut otherwise shows its drawing elsewhere on purpose.
SAME_SHAPE = 0.04
LEAST_AGREEMENT = 0.3  # of what is drawn; figures and balloons of either panel agree with nothing
LEAST_PATCHES = 12
NEAR_SLACKS = 3  # within so many slacks, a patch lies where it belongs


@dataclass(frozen=True)
class Level:
    """One size to work at, in px of its own: the panels are `wide_px` wide."""

    wide_px: int
    patch_px: int
    step_px: int
    reach_px: int
    slack_px: float
    rounds: int


LEVELS = (Level(160, 40, 10, 18, 1.2, 3), Level(320, 56, 20, 8, 0.8, 2), Level(560, 72, 30, 6, 0.8, 2))


@dataclass(frozen=True)
class SharedDrawing:
    """`shift` (x, y) of the panel's middle and its `shift_sigma`, in panel widths, to the right and down; `scale`; `turn_deg`
    clockwise as seen; `agreement` 0..1, the share of the drawing that lies there, and `unmoved`, what stands where it stood.

    `H_before_to_after` (3, 3) in shares of the panel's width from its top left corner; `at` (N, 2) where patches agree, in the
    later panel.
    """

    shift: tuple[float, float]
    shift_sigma: float
    scale: float
    scale_sigma: float
    turn_deg: float
    turn_sigma_deg: float
    agreement: float
    unmoved: float
    H_before_to_after: np.ndarray
    at: np.ndarray

    @property
    def shift_size(self) -> float:
        return float(np.hypot(*self.shift))


def find_shared_drawing(before: np.ndarray, after: np.ndarray) -> SharedDrawing | NotMeasured:
    """Lays the drawing of one panel on another's (uint8 gray, each cut to its outline's box), whatever stands in front of it.

    One similarity is fitted to the votes of many patches by Geman and McClure's function, so that what was drawn anew has no say.
    NotMeasured where the panels differ in shape, or have too little in common. Raises ValueError for anything but
    two gray pictures.
    """
    if any(one.ndim != 2 or one.dtype != np.uint8 or min(one.shape, default=0) < 8 for one in (before, after)):
        raise ValueError("A shared drawing is looked for in two gray pictures, uint8 (H, W).")
    shapes = [one.shape[0] / one.shape[1] for one in (before, after)]
    if abs(np.log(shapes[0] / shapes[1])) > SAME_SHAPE:
        return NotMeasured("The two panels differ in shape, so that a shift between them may be meant.")
    terms = np.zeros(4)
    for level in LEVELS:
        for _ in range(level.rounds):
            votes = _votes(before, after, terms, level, shapes[1])
            if len(votes) < LEAST_PATCHES:
                return NotMeasured("The two panels show too little to lay one on the other.")
            step, weight = _fit(votes, level, shapes[1])
            terms = _after(terms, step)
    stands = _votes(before, after, np.zeros(4), level, shapes[1])
    unmoved = stands.agreement(stands.shift, NEAR_SLACKS * level.slack_px) if len(stands) else 0.0
    return _told(terms, votes, weight, level, shapes[1], unmoved)


def _votes(before: np.ndarray, after: np.ndarray, terms: np.ndarray, level: Level, high: float) -> PatchVotes:
    """Edges of both, the frame left out, the earlier panel laid where `terms` put it. In px of the level."""
    size = level.wide_px, max(8, round(level.wide_px * high))
    small = [cv2.resize(one, size, interpolation=cv2.INTER_AREA) for one in (before, after)]
    H = _in_px(terms, level, high)
    moved = cv2.warpAffine(small[0], H[:2], size, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    inside = np.zeros(size[::-1], np.uint8)
    rim = round(FRAME_SHARE * level.wide_px)
    inside[rim:-rim, rim:-rim] = 1
    was_inside = cv2.warpAffine(inside, H[:2], size, flags=cv2.INTER_NEAREST)
    earlier = np.where(inside & was_inside, edge_field(moved), 0).astype(np.complex64)
    later = np.where(inside, edge_field(small[1]), 0).astype(np.complex64)
    return vote(earlier, later, level.patch_px, level.reach_px, level.step_px)


def _fit(votes: PatchVotes, level: Level, high: float) -> tuple[np.ndarray, np.ndarray]:
    """Terms (4,) that move most patches where they belong, and what each vote counted (N,)."""
    jacobian, shift, terms = _jacobian(votes.centre, level, high), votes.shift / level.wide_px, np.zeros(4)
    weight = votes.worth
    calm = np.diag([0.001, 0.001, 0.01, 0.01])
    for slack in np.geomspace(level.reach_px / 2, level.slack_px, 8):
        miss = shift - jacobian @ terms
        off = np.einsum("ni,nij,nj->n", miss, votes.say, miss) * level.wide_px**2
        weight = votes.worth / (1 + off / slack**2) ** 2
        say = votes.say * weight[:, None, None]
        terms = np.linalg.solve(np.einsum("nik,nij,njl->kl", jacobian, say, jacobian) + calm,
                                np.einsum("nik,nij,nj->k", jacobian, say, shift))
    return terms, weight


def _jacobian(at_px: np.ndarray, level: Level, high: float) -> np.ndarray:
    """(N, 2, 4): what shift right, shift down, growth and turn add to a point, in panel widths about the panel's middle."""
    x, y = ((at_px + 0.5) / level.wide_px - [0.5, high / 2]).T
    zero, one = np.zeros_like(x), np.ones_like(x)
    return np.stack([np.stack([one, zero, x, -y], -1), np.stack([zero, one, y, x], -1)], 1)


def _matrix(terms: np.ndarray) -> np.ndarray:
    """(3, 3) about the panel's middle, in panel widths."""
    x, y, grown, turned = terms
    return np.array([[1 + grown, -turned, x], [turned, 1 + grown, y], [0, 0, 1.0]])


def _after(terms: np.ndarray, step: np.ndarray) -> np.ndarray:
    both = _matrix(step) @ _matrix(terms)
    return np.array([both[0, 2], both[1, 2], both[0, 0] - 1, both[1, 0]])


def _in_px(terms: np.ndarray, level: Level, high: float) -> np.ndarray:
    wide = level.wide_px
    to_px = np.array([[wide, 0, wide / 2 - 0.5], [0, wide, wide * high / 2 - 0.5], [0, 0, 1.0]])
    return to_px @ _matrix(terms) @ np.linalg.inv(to_px)


def _told(terms: np.ndarray, votes: PatchVotes, weight: np.ndarray, level: Level, high: float,
          unmoved: float) -> SharedDrawing | NotMeasured:
    left = votes.shift
    agreement = votes.agreement(left, NEAR_SLACKS * level.slack_px)
    agrees = np.hypot(*left.T) < NEAR_SLACKS * level.slack_px
    if agreement < LEAST_AGREEMENT or agrees.sum() < LEAST_PATCHES:
        return NotMeasured("The two panels have too little drawing in common.")
    sigma = _sigmas(votes, weight, level, high)
    centre = np.array([[1, 0, 0.5], [0, 1, high / 2], [0, 0, 1.0]])
    return SharedDrawing(
        (float(terms[0]), float(terms[1])), float(np.hypot(*sigma[:2])),
        float(np.hypot(1 + terms[2], terms[3])), float(sigma[2]),
        float(np.degrees(np.arctan2(terms[3], 1 + terms[2]))), float(np.degrees(sigma[3])), agreement, unmoved,
        centre @ _matrix(terms) @ np.linalg.inv(centre), (votes.centre[agrees] + 0.5) / level.wide_px,
    )


def _sigmas(votes: PatchVotes, weight: np.ndarray, level: Level, high: float) -> np.ndarray:
    """One sigma of each term, from how the votes scatter; patches overlap, so that only every other one counts as its own."""
    jacobian = _jacobian(votes.centre, level, high)
    say = votes.say * weight[:, None, None]
    miss = votes.shift / level.wide_px
    bread = np.linalg.inv(np.einsum("nik,nij,njl->kl", jacobian, say, jacobian) + 1e-6 * np.eye(4))
    pull = np.einsum("nik,nij,nj->nk", jacobian, say, miss)
    overlap = (level.patch_px / level.step_px) ** 2 / 2
    return np.sqrt(np.diag(bread @ (pull.T @ pull) @ bread) * overlap)
