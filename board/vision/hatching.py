"""Which segments are strokes of a hatching: many lines close beside each other, parallel however far apart they lie.

A hatching shades a face; it runs to no vanishing point. Lines that recede (boards, tiles, courses of stone) close up towards their
point, so that neighbours differ in direction as they differ in place. Rain and lines of speed stand alone.
The limits are from trials on drawn panels, no source.
"""

import numpy as np

from board.vision.junctions import point_distances

MOST_JUDGED = 1200  # longest first; beyond it nothing is called hatching
REACH_SHARE = 0.035  # of the picture's diagonal: strokes of one hatching stand no further apart
NEAREST_PX = 1.5  # nearer than this it is the same stroke, drawn or found twice
TURN_RAD = np.radians(4.0)
OVERLAP = 0.3  # of the shorter one, along
FEWEST_BESIDE = 5
# Across a narrow strip each stroke has fewer beside it; there are the more of them.
FEWEST_BESIDE_IN_STRIP, FEWEST_OF_STRIP = 3, 20
ALIKE_RAD = np.radians(3.0)
FEWEST_STREAKS, FREE_SHARE = 16, 0.006  # of the diagonal, from a streak's ends to anything that runs otherwise
ONE_DIRECTION_RAD = np.radians(6.0)
FEWEST_STROKES = 10  # of one direction, over the picture
# Uprights (posts, windows, doors) stand as close in any street; a hatching drawn upright agrees with them anyway.
UPRIGHT_RAD = np.radians(8.0)
STROKES_HEARD = 4.0  # a hatching of any size says as much as so many lines


def hatching_weights(segments: np.ndarray, diagonal_px: float) -> np.ndarray:
    """(N,) in (0, 1]: all strokes of one hatching direction together weigh as few lines; 1 for any other line."""
    labels = hatching_labels(segments, diagonal_px)
    sizes = np.bincount(labels + 1, minlength=1)
    weights = np.minimum(1.0, STROKES_HEARD / np.maximum(sizes, 1))
    weights[0] = 1.0
    return weights[labels + 1]


def hatching_labels(segments: np.ndarray, diagonal_px: float) -> np.ndarray:
    """(N,) int: -1 for a line that stands for itself, else the hatching direction it belongs to; `segments` (N, 4) px.

    Rain and lines of speed are as a hatching.
    """
    labels = np.full(len(segments), -1)
    along = segments[:, 2:] - segments[:, :2]
    length = np.hypot(*along.T)
    rows = np.argsort(-length, kind="stable")[:MOST_JUDGED]
    leaning = rows[np.abs(along[rows, 0]) > np.sin(UPRIGHT_RAD) * length[rows]]
    angle = np.arctan2(along[leaning, 1], along[leaning, 0]) % np.pi
    cos, sin = np.cos(angle), np.sin(angle)
    alike = np.abs(np.outer(sin, cos) - np.outer(cos, sin)) < np.sin(ALIKE_RAD)
    beside = _beside(segments[leaning], segments[rows], REACH_SHARE * diagonal_px).sum(1)
    hatched = beside >= FEWEST_BESIDE_IN_STRIP
    hatched &= (beside >= FEWEST_BESIDE) | ((alike & hatched).sum(1) >= FEWEST_OF_STRIP)
    streaks = (alike.sum(1) >= FEWEST_STREAKS) & ~hatched
    streaks[streaks] = _stand_alone(segments[leaning[streaks]], segments[rows], FREE_SHARE * diagonal_px)
    hatched |= streaks & ((alike & (streaks | hatched)).sum(1) >= FEWEST_STREAKS)
    return _by_direction(labels, leaning[hatched], angle[hatched])


def _stand_alone(segments: np.ndarray, others: np.ndarray, free_px: float) -> np.ndarray:
    """(N,) whether segments (N, 4) meet none of the others (M, 4), at either end, that runs otherwise."""
    along, other_along = (_middle_along_half(lines)[1] for lines in (segments, others))
    across = np.abs(along[:, :1] * other_along[:, 1] - along[:, 1:] * other_along[:, 0]) > np.sin(TURN_RAD)
    near = point_distances(segments.reshape(-1, 2), others).reshape(len(segments), 2, len(others)).min(1) <= free_px
    return ~(near & across).any(1)


def are_hatching(segments: np.ndarray, diagonal_px: float) -> np.ndarray:
    """(N,) bool: strokes of a hatching, and at its rim and among its gaps the lines that run as it does beside a stroke of it."""
    hatched = hatching_labels(segments, diagonal_px) >= 0
    if not hatched.any():
        return hatched
    return hatched | _beside(segments, segments[hatched], REACH_SHARE * diagonal_px).any(1)


def _beside(segments: np.ndarray, others: np.ndarray, reach_px: float) -> np.ndarray:
    """(N, M) which of the `others` lie parallel beside each of the segments, within reach."""
    middle, along, half = _middle_along_half(segments)
    other_middle, other_along, other_half = _middle_along_half(others)
    sine = np.abs(along[:, None, 0] * other_along[None, :, 1] - along[:, None, 1] * other_along[None, :, 0])
    across = np.abs(along[:, :1] * other_middle[None, :, 1] - along[:, 1:] * other_middle[None, :, 0]
                    - (along[:, 0] * middle[:, 1] - along[:, 1] * middle[:, 0])[:, None])
    place = (middle * along).sum(1)
    beyond = np.abs(along[:, :1] * other_middle[None, :, 0] + along[:, 1:] * other_middle[None, :, 1] - place[:, None])
    overlap = half[:, None] + other_half[None, :] - beyond
    beside = (sine < np.sin(TURN_RAD)) & (across < reach_px) & (across > NEAREST_PX)
    return beside & (overlap > OVERLAP * 2 * np.minimum(half[:, None], other_half[None, :]))


def _middle_along_half(segments: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Middles (N, 2), unit directions (N, 2), half lengths (N,); single precision is enough to tell neighbours."""
    segments = segments.astype(np.float32)
    along = segments[:, 2:] - segments[:, :2]
    half = np.hypot(*along.T) / 2
    return (segments[:, :2] + segments[:, 2:]) / 2, along / (2 * half[:, None]), half


def _by_direction(labels: np.ndarray, rows: np.ndarray, angle: np.ndarray) -> np.ndarray:
    """Labels the directions from the fullest down."""
    left, number = np.ones(len(rows), bool), 0
    while left.sum() >= FEWEST_STROKES:
        apart = np.abs((angle[:, None] - angle[None] + np.pi / 2) % np.pi - np.pi / 2) < ONE_DIRECTION_RAD
        fellows = apart & left[None] & left[:, None]
        best = int(fellows.sum(1).argmax())
        if fellows[best].sum() < FEWEST_STROKES:
            break
        labels[rows[fellows[best]]] = number
        left &= ~fellows[best]
        number += 1
    return labels
