"""Which vanishing points of a picture are sure enough to hold a line against, and which lines may have been meant for another."""

import numpy as np

from board.vision.perspective import Perspective, VanishingPoint
from board.vision.segment_rays import misses_deg

LEAST_CONFIDENCE = 0.9
LEAST_EVIDENCE = 12.0  # nats
FEWEST_SUPPORT = 6  # members that a point needs before a line can be said to miss it
WIDEST_INTERVAL = 0.04  # of the picture's height: an eye level less sure than this is held against nothing
MOST_ROLL_DEG = 15.0
LESS_SURE_DEG, LESS_SURE_DOUBTS = 2.0, 2.5  # a line within either runs to a point
SAME_POINT_RAD = np.radians(8.0)
# Speed lines run to one point, or one way, as no built thing does: of 84 panels of them, under tone too, none had more than 0.12 of
# its main direction's length along another point of this confidence; 298 drawn panels with an eye level have 0.18 at least. Three
# of 285 others have less, and plain uprights all three; of 140 other panels of such lines two have those too (own measurement).
PLAIN_CONFIDENCE, ONE_DIRECTION = 0.8, 0.15


def is_sure_enough(perspective: Perspective, image_size: tuple[float, float]) -> bool:
    """Whether a drawing's own perspective is so well seen that an edge can be held against it."""
    return (len(sure_points(perspective)) >= 2 and perspective.evidence >= LEAST_EVIDENCE
            and abs(perspective.roll_deg) <= MOST_ROLL_DEG
            and perspective.horizon_interval <= WIDEST_INTERVAL * image_size[1])


def runs_one_way(perspective: Perspective, segments: np.ndarray) -> bool:
    """Whether nearly all that runs to any point runs to one, and no uprights stand beside it: that shows no eye level.

    `segments` (N, 4) px, those that the perspective was solved from.
    """
    length = np.hypot(*(segments[:, 2:] - segments[:, :2]).T)
    plain = [p for p in perspective.vanishing_points if p.confidence >= PLAIN_CONFIDENCE]
    lengths = sorted(((float(length[p.members].sum()), p.role) for p in plain), reverse=True)
    if len(lengths) < 2:
        return True
    (first, _), *others = lengths
    return others[0][0] < ONE_DIRECTION * first and all(role != "upright" for _, role in others)


def sure_points(perspective: Perspective) -> list[VanishingPoint]:
    return [p for p in perspective.vanishing_points if p.confidence >= LEAST_CONFIDENCE and len(p.members) >= FEWEST_SUPPORT]


def runs_to_less_sure(segments: np.ndarray, perspective: Perspective, doubt_deg: np.ndarray) -> np.ndarray:
    """(N,) which lines run to a point that too few lines show, or that only the camera tells of: it may well have been meant."""
    sure = {id(p) for p in sure_points(perspective)}
    seen = [p.point for p in perspective.vanishing_points if id(p) not in sure]
    told = (perspective.camera.K @ perspective.camera.R_world_to_camera).T
    points = np.array([*seen, *told[[not _is_among(point, perspective) for point in told]]]).reshape(-1, 3)
    return np.any(misses_deg(segments, points) <= np.maximum(LESS_SURE_DEG, LESS_SURE_DOUBTS * doubt_deg)[:, None], axis=1)


def _is_among(point: np.ndarray, perspective: Perspective) -> bool:
    """Whether a homogeneous point lies where one of the picture's own does, seen from its camera."""
    rays = np.linalg.inv(perspective.camera.K) @ np.array([point, *(p.point for p in perspective.vanishing_points)]).T
    rays = rays / np.linalg.norm(rays, axis=0)
    return bool((np.abs(rays[:, 0] @ rays[:, 1:]) > np.cos(SAME_POINT_RAD)).any())
