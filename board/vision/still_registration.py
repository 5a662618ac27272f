"""Where a still of the set lies under the panel that was drawn from it: scaled, turned and shifted.

Rough places come from a correlation of the two fields of edges; votes of patches make the best of them exact. A place holds only if
more patches agree there than would on a drawing of something else: an a-contrario test, after Desolneux, Moisan and Morel,
"Meaningful alignments", IJCV 2000.
"""

from dataclasses import dataclass
from functools import cached_property

import cv2
import numpy as np
from scipy.special import bdtrc

from board.not_measured import NotMeasured
from board.vision.coarse_alignment import find_placements
from board.vision.edge_field import edge_field
from board.vision.homography_fit import misses
from board.vision.patch_votes import PatchVotes, vote
from board.vision.registration_pyramid import resized, shrunk
from board.vision.similarity_fit import fit_similarity, sigmas

COARSE_PX = 120
PLACES_TRIED = 8, 3, 2  # at each level
FRAME_SHARE = 0.03  # of the panel's width: its border runs along no edge of the still
RIM_PX = 3  # of the still, whose own border is no edge
FEWEST_PATCHES = 8
# The proof: patches whose peak is like enough say where they belong; under any other drawing they would say so anywhere in reach.
LEAST_LIKENESS = 0.3
FIXED_BOTH_WAYS = 0.2  # of a vote's say: a patch that shows a corner, not a line
PLACES_OF_ALL, PLACES_NEAR = 5e6, 1e4  # that a search looks through: turns, scales and shifts
# log10 of placements as good that chance would give, near where somebody placed it and anywhere. Own measurement: 0.2 at best where
# the still shows another set; where it shows the same from another camera a part of it does fit: 4 of 60 pass -4, one of them
# and 3 of 48 others -6.
MOST_FALSE_ALARMS, MOST_ANYWHERE = -4.0, -6.0
NOT_FOUND = "The drawing and the still have too few lines in common to tell where it lies. Place it by two points."


@dataclass(frozen=True)
class Level:
    """`side_px` is the side of a square as large as the panel at this size; the rest in its px."""

    side_px: int
    patch_px: int
    step_px: int
    reach_px: int
    slack_px: float
    rounds: int


LEVELS = (Level(120, 36, 12, 10, 1.5, 4), Level(240, 48, 20, 9, 1.2, 2), Level(480, 72, 30, 8, 1.0, 2))
PROOF = Level(480, 44, 44, 12, 1.8, 0)  # patches that do not overlap, with room to belong elsewhere


@dataclass(frozen=True)
class StillRegistration:
    """`S_still_to_panel` (3, 3) similarity, continuous px of both pictures; `at` (N, 2) px of the panel, where patches agree.

    `false_alarms` log10 of how many placements as good chance would give. `sigma` (4,) of shift right and down in px at the
    panel's middle, of growth, and of turn in radians.
    """

    S_still_to_panel: np.ndarray
    at: np.ndarray
    false_alarms: float
    sigma: np.ndarray


def register_still(still: np.ndarray, panel: np.ndarray, near: np.ndarray | None = None) -> StillRegistration | NotMeasured:
    """`still` and `panel`: uint8 gray (H, W), the panel cut to its outline's box; `near` (3, 3), px, where it lies roughly.

    Without `near` it may be turned by up to 12°, and shown larger or smaller by the panel, in part. NotMeasured where no place is
    sure. Raises ValueError for anything but two gray pictures.
    """
    if any(one.ndim != 2 or one.dtype != np.uint8 or min(one.shape, default=0) < 8 for one in (still, panel)):
        raise ValueError("A still is laid under a panel as two gray pictures, uint8 (H, W).")
    pair = _Pair(still, panel)
    places = [near] if near is not None else pair.rough_places()
    for level, most in zip(LEVELS, (*PLACES_TRIED[1:], PLACES_TRIED[-1]), strict=True):
        better = [pair.refined(place, level) for place in places]
        places = [place for place, _ in sorted(better, key=lambda one: -one[1])[:most]]
    told = [pair.told(place, PLACES_OF_ALL if near is None else PLACES_NEAR) for place in places]
    best = min((one for one in told if one), key=lambda one: one.false_alarms, default=None)
    allowed = MOST_ANYWHERE if near is None else MOST_FALSE_ALARMS
    return best if best and best.false_alarms <= allowed else NotMeasured(NOT_FOUND)


class _Pair:
    def __init__(self, still: np.ndarray, panel: np.ndarray) -> None:
        self.still, self.panel = still, panel

    @cached_property
    def panels(self) -> dict[int, "_SmallPanel"]:
        return {side_px: _SmallPanel(self.panel, side_px) for side_px in {level.side_px for level in LEVELS}}

    def rough_places(self) -> list[np.ndarray]:
        small, panel = shrunk(self.still, COARSE_PX), self.panels[COARSE_PX]
        places = find_placements(edge_field(small), panel.field, PLACES_TRIED[0])
        return [np.linalg.inv(panel.to_small) @ one.H_before_to_after @ resized(self.still, small) for one in places]

    def votes(self, S: np.ndarray, level: Level) -> PatchVotes:
        """Of the still's patches, laid where S has it, in pixel indices of the panel at the level's size."""
        panel = self.panels[level.side_px]
        S_small = panel.to_small @ S
        share = min(1.0, float(np.hypot(*S_small[:2, 0])))
        still = cv2.resize(self.still, None, fx=share, fy=share, interpolation=cv2.INTER_AREA) if share < 0.7 else self.still
        lay = (S_small @ np.linalg.inv(resized(self.still, still)))[:2]
        laid = cv2.warpAffine(still, lay, panel.extent, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
        reaches = np.zeros(still.shape, np.uint8)
        reaches[RIM_PX:-RIM_PX, RIM_PX:-RIM_PX] = 1
        inside = cv2.warpAffine(reaches, lay, panel.extent, flags=cv2.INTER_NEAREST)
        moving = np.where(inside, edge_field(laid), 0).astype(np.complex64)
        return vote(moving, panel.field, min(level.patch_px, *panel.extent), level.reach_px, level.step_px)

    def refined(self, S: np.ndarray, level: Level) -> tuple[np.ndarray, float]:
        """Bettered by votes, and the share of them that agree."""
        panel, agreement = self.panels[level.side_px], 0.0
        for round_ in range(level.rounds):
            votes = self.votes(S, level)
            if len(votes) < FEWEST_PATCHES:
                return S, 0.0
            step, _ = fit_similarity(votes, panel.extent, level.slack_px, level.reach_px / (4 if round_ else 2))
            S = np.linalg.inv(panel.to_small) @ step @ panel.to_small @ S
            agreement = votes.agreement(misses(votes, step), 2 * level.slack_px)
        return S, agreement

    def told(self, S: np.ndarray, places: float) -> StillRegistration | None:
        votes, panel = self.votes(S, PROOF), self.panels[PROOF.side_px]
        if len(votes) < FEWEST_PATCHES:
            return None
        agrees, log_chance = _proof(votes)
        all_votes = self.votes(S, LEVELS[-1])
        _, weight = fit_similarity(all_votes, panel.extent, LEVELS[-1].slack_px, LEVELS[-1].slack_px)
        overlap = (LEVELS[-1].patch_px / LEVELS[-1].step_px) ** 2 / 2
        sigma = sigmas(all_votes, weight, panel.extent, overlap) * [*2 * [max(self.panel.shape) / 2], 1, 1]
        at = (votes.centre[agrees] + 0.5) / np.diag(panel.to_small)[:2]
        return StillRegistration(S, at, float(np.log10(places) + log_chance), sigma)


class _SmallPanel:
    """The panel's edges at one size, its border left out; `to_small` from px of the panel to pixel indices there."""

    def __init__(self, panel: np.ndarray, side_px: int) -> None:
        small = shrunk(panel, side_px)
        self.extent, self.to_small = small.shape[::-1], resized(panel, small)
        rim = max(2, round(FRAME_SHARE * small.shape[1]))
        self.field = np.zeros(small.shape, np.complex64)
        self.field[rim:-rim, rim:-rim] = edge_field(small)[rim:-rim, rim:-rim]


def _proof(votes: PatchVotes) -> tuple[np.ndarray, float]:
    """(N,) which patches lie where they belong, and log10 of the chance that so many would on another drawing.

    A corner could lie anywhere in reach, a line anywhere across it. The two counts are one test: for a product x of two chances,
    that of a smaller one is x (1 - ln x).
    """
    fixed, ways = np.linalg.eigh(votes.say)
    like = votes.likeness >= LEAST_LIKENESS
    corner = like & (fixed[:, 0] >= FIXED_BOTH_WAYS)
    off, across = np.hypot(*votes.shift.T), np.abs((votes.shift * ways[:, :, 1]).sum(1))
    agrees = np.where(corner, off, across) < PROOF.slack_px
    room = 2 * PROOF.reach_px + 1
    log_x = 0.0
    for kind, chance in ((corner, np.pi * PROOF.slack_px**2 / room**2), (like & ~corner, 2 * PROOF.slack_px / room)):
        # The upper tail of a binomial; all of `scipy.stats` would take half a second to load.
        with np.errstate(divide="ignore"):
            log_x += np.log(bdtrc((kind & agrees).sum() - 1, kind.sum(), chance))
    return corner & agrees, float((log_x + np.log1p(-log_x)) / np.log(10))
