"""Whether a figure that is marked in one panel was drawn again in another, in the same pose and at the same place in the drawing.

The drawing around a figure says where it would stand; whether it does, only the figure itself can say: the same set is drawn with
other people in it as often as with the same ones. So patches of the head and of the body are looked up where they would lie, and
have to lie there together. Our own rule; no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np

from board.not_measured import NotMeasured
from board.vision.drawing_prints import known_again, print_of
from board.vision.edge_field import edge_field
from board.vision.patch_votes import PatchVotes, vote
from board.vision.shared_drawing import SharedDrawing, find_shared_drawing

TALL_PX = 240  # figures are looked at this tall
LEAST_PX = 60.0  # a smaller one has no head to know it by
PAD = 0.25  # of its height, around it
PATCH_PX, STEP_PX, REACH_PX, SLACK_PX = 28, 7, 16, 4.5
HALF_WIDTH = 0.09  # of its height: of the strip about the axis that is sure to be figure
HEAD, BODY = (-0.02, 0.2), (0.2, 1.0)  # from the crown down
FEWEST = 4  # patches
# Own measurement on 110 pairs of drawn panels: the less of the two is .79 and more where a figure is drawn again in its pose, .72
# and more in nine of ten drawn again by a looser hand, .39 and less for anything else.
SURE_HEAD, SURE_BODY = 0.75, 0.6


@dataclass(frozen=True)
class RedrawnFigure:
    """`head`, `body` 0..1: how much of each lies where it would; `shift_px` (2,) by how much all of it stands beside, px of after;
    `to_after` (3, 3) from px of before to px of after, that shift included."""

    head: float
    body: float
    shift_px: np.ndarray
    to_after: np.ndarray

    @property
    def sure(self) -> float:
        return min(self.head, self.body)

    @property
    def is_sure(self) -> bool:
        return self.head >= SURE_HEAD and self.body >= SURE_BODY


def maps_between(before: np.ndarray, after: np.ndarray, *, is_same_as: bool) -> list[np.ndarray]:
    """Where the drawing of one panel lies in another, (3, 3) each, px of before to px of after: none, one or two.

    `is_same_as`: somebody said that the later one takes the earlier one's drawing over, frame on frame.
    """
    shared = find_shared_drawing(before, after) if is_same_as else None
    found = [shared.H_before_to_after] if isinstance(shared, SharedDrawing) else []
    known = known_again(print_of(after), print_of(np.ascontiguousarray(after[:, ::-1])), [print_of(before)])
    found += [one.H_before_to_after for one in known[:1]]
    wide = before.shape[1], after.shape[1]
    return [np.diag([wide[1], wide[1], 1.0]) @ H @ np.diag([1 / wide[0], 1 / wide[0], 1.0]) for H in found]


def find_redrawn(before: np.ndarray, after: np.ndarray, maps: Sequence[np.ndarray], crown: np.ndarray, sole: np.ndarray,
                 ) -> RedrawnFigure | None:
    """The surest of those that are sure, over all maps; None where the figure is not drawn again as far as can be told."""
    looks = [look_for_figure(before, after, to_after, crown, sole) for to_after in maps]
    sure = [look for look in looks if isinstance(look, RedrawnFigure) and look.is_sure]
    return max(sure, key=lambda look: look.sure, default=None)


def look_for_figure(before: np.ndarray, after: np.ndarray, to_after: np.ndarray, crown: np.ndarray, sole: np.ndarray,
                    ) -> RedrawnFigure | NotMeasured:
    """before, after: uint8 gray of two panels; `to_after` (3, 3) a similarity, mirrored or not, px of before to px of after;
    `crown`, `sole` (2,) px of before."""
    ends = moved(to_after, np.array([crown, sole]))
    tall_px = float(np.hypot(*(ends[1] - ends[0])))
    if min(tall_px, float(np.hypot(*np.subtract(sole, crown)))) < LEAST_PX:
        return NotMeasured("The figure is too small to be known again.")
    if (ends < 0).any() or (ends >= after.shape[::-1]).any():
        return NotMeasured("The figure would stand outside the panel.")
    scale = TALL_PX / tall_px
    corner = ends.min(0) - PAD * tall_px
    size = tuple(int(v) for v in np.ceil((np.ptp(ends, axis=0) + 2 * PAD * tall_px) * scale))
    to_work = np.array([[scale, 0, -corner[0] * scale], [0, scale, -corner[1] * scale], [0, 0, 1.0]])
    earlier, later = (edge_field(warped(one, H, size)) for one, H in ((before, to_work @ to_after), (after, to_work)))
    votes = vote(earlier, later, PATCH_PX, REACH_PX, STEP_PX)
    at = _along(votes.centre, moved(to_work, ends))
    head, body = (part_of(votes, _within(at, part)) for part in (HEAD, BODY))
    if min(len(head), len(body)) < FEWEST:
        return NotMeasured("The figure shows too few lines to be known again.")
    shift = common(part_of(votes, _within(at, (HEAD[0], BODY[1]))))
    agree = [one.agreement(one.shift - shift, SLACK_PX) for one in (head, body)]
    back = np.eye(3)
    back[:2, 2] = shift / scale
    return RedrawnFigure(agree[0], agree[1], shift / scale, back @ to_after)


def warped(gray: np.ndarray, H: np.ndarray, size: tuple[int, ...]) -> np.ndarray:
    """Shrunk without flicker: blurred as much as it gets smaller."""
    smaller = 1 / max(1e-6, float(np.sqrt(abs(np.linalg.det(H[:2, :2])))))
    if smaller > 1.2:
        gray = cv2.GaussianBlur(gray, (0, 0), 0.4 * smaller)
    return cv2.warpAffine(gray, H[:2], size, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)


def _along(centre: np.ndarray, ends: np.ndarray) -> np.ndarray:
    """(N, 2): from the crown down, and aside, as shares of the height."""
    down = ends[1] - ends[0]
    tall = float(np.hypot(*down))
    down = down / tall
    return (centre - ends[0]) @ np.array([down, [-down[1], down[0]]]).T / tall


def _within(at: np.ndarray, part: tuple[float, float]) -> np.ndarray:
    return (at[:, 0] > part[0]) & (at[:, 0] < part[1]) & (np.abs(at[:, 1]) < HALF_WIDTH)


def part_of(votes: PatchVotes, keep: np.ndarray) -> PatchVotes:
    return PatchVotes(votes.centre[keep], votes.shift[keep], votes.likeness[keep], votes.runner_up[keep], votes.say[keep])


def common(votes: PatchVotes) -> np.ndarray:
    """The shift that most patches agree on (2,): the median of those near the densest place."""
    near = np.hypot(*(votes.shift[:, None] - votes.shift[None]).transpose(2, 0, 1)) < SLACK_PX
    best = int((near @ votes.likeness).argmax())
    return np.median(votes.shift[near[best]], axis=0)


def moved(H: np.ndarray, points: np.ndarray) -> np.ndarray:
    return points @ H[:2, :2].T + H[:2, 2]
