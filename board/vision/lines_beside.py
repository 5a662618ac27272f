"""How straight lines lie by each other: turned, aside, and how far they run side by side."""

import numpy as np

HAND_DEG = 0.5  # by which a drawn line strays; own choice, no source


class Lines:
    """Segments (N, 4) with what is asked of them again and again; `doubt_deg` (N,) by which the direction of each is in doubt."""

    def __init__(self, segments: np.ndarray, doubt_deg: np.ndarray) -> None:
        self.segments, self.doubt_deg = segments, doubt_deg
        step = segments[:, 2:] - segments[:, :2]
        self.length = np.maximum(np.hypot(*step.T), 1e-9)
        self.along = step / self.length[:, None]
        self.normal = np.stack([-self.along[:, 1], self.along[:, 0]], axis=1)
        self.middle = (segments[:, :2] + segments[:, 2:]) / 2

    def __len__(self) -> int:
        return len(self.segments)

    def only(self, rows: np.ndarray | list[int]) -> "Lines":
        return Lines(self.segments[rows], self.doubt_deg[rows])


class Beside:
    """How each of N drawn lines lies by each of M edges: `turn_deg` -90..90 clockwise as seen, `aside` px between middles across
    the edge, and the span `low`..`high` px along the edge, from its middle, where they run side by side."""

    def __init__(self, drawn: Lines, edges: Lines) -> None:
        cross = edges.along[None, :, 0] * drawn.along[:, None, 1] - edges.along[None, :, 1] * drawn.along[:, None, 0]
        dot = drawn.along @ edges.along.T
        self.turn_deg = np.degrees(np.arctan2(np.where(dot < 0, -cross, cross), np.abs(dot)))
        apart = drawn.middle[:, None] - edges.middle[None]
        self.aside = np.abs((apart * edges.normal[None]).sum(-1))
        place = (apart * edges.along[None]).sum(-1)
        half = drawn.length[:, None] / 2 * np.abs(dot)
        self.low, self.high = np.maximum(place - half, -edges.length / 2), np.minimum(place + half, edges.length / 2)
        self.overlap = np.maximum(self.high - self.low, 0)
        self.sigma_deg = np.hypot(HAND_DEG, np.hypot(drawn.doubt_deg[:, None], edges.doubt_deg))


def as_line(segment: np.ndarray) -> Lines:
    """One segment (4,) that is sure of its direction."""
    return Lines(segment[None], np.zeros(1))


def union(low: np.ndarray, high: np.ndarray) -> float:
    """The length, px, that spans `low`..`high` (N,) px of one line cover together."""
    total, reach = 0.0, -np.inf
    for row in np.argsort(low):
        total += max(0.0, high[row] - max(low[row], reach))
        reach = max(reach, high[row])
    return total
