"""Things drawn outside the 60° cone of vision: there it is stretched for an eye anywhere but at its station point.

The cone of 60° is common practice of perspective drawing, no source; the stretch is plain geometry: at an angle `a` from the
centre of vision a pinhole draws a small ball 1 / cos a times as long as it is wide.
"""

from dataclasses import dataclass

import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from board.vision.junctions import end_distances
from board.vision.perspective import Perspective
from board.vision.thing_signs import run_apart

HALF_CONE_DEG = 30.0
FEWEST_EDGES = 4  # a face of a thing, not a corner of the floor
SMALLEST_SHARE = 0.06  # of the picture's diagonal: what is smaller stretches unseen
TOUCH_SHARE = 0.012
WIDEST_INTERVAL = 2.0  # high end of the focal length by its low end


@dataclass(frozen=True)
class OutsideCone:
    """`segments` rows of the things outside, the farthest one first, whose middle stands at `angle_deg` from the centre of vision.

    The cone's edge is a circle of `cone_radius_px` about `centre` (2,) px. `stretch` is how much longer than wide a ball would be
    drawn at that thing; `distance_px` the eye's distance that would bring it in.
    """

    segments: np.ndarray
    angle_deg: float
    stretch: float
    centre: np.ndarray
    cone_radius_px: float
    distance_px: float
    confidence: float


def find_outside_cone(segments: np.ndarray, drawn: np.ndarray, perspective: Perspective, image_size: tuple[float, float], *,
                      tolerance_deg: float) -> OutsideCone | None:
    """The things all of which lies more than `tolerance_deg` outside the cone about the middle of the picture, if there are any.

    `segments` (N, 4) px; `drawn` the rows that are no hatching. None where the eye's distance is not seen, or not well enough.
    """
    if perspective.focal_px is None or perspective.focal_interval is None:
        return None
    low_px, high_px = perspective.focal_interval
    if high_px > WIDEST_INTERVAL * low_px:
        return None
    centre, limit_px = np.asarray(image_size, float) / 2, high_px * np.tan(np.radians(HALF_CONE_DEG + tolerance_deg))
    distance_px = np.hypot(*(segments.reshape(-1, 2, 2) - centre).transpose(2, 0, 1))
    members = np.intersect1d(drawn, np.concatenate([point.members for point in perspective.vanishing_points]))
    outside = members[distance_px[members].min(1) > limit_px]
    things = [outside[rows] for rows in _touching(segments[outside], float(np.hypot(*image_size)))]
    if not things:
        return None
    far_px = [float(np.hypot(*(segments[rows].reshape(-1, 2).mean(0) - centre))) for rows in things]
    rows, far = np.concatenate([things[k] for k in np.argsort(-np.array(far_px))]), max(far_px)
    angle = np.arctan(far / perspective.focal_px)
    sigma_px = (high_px - low_px) / 4
    margin = (far / np.tan(np.radians(HALF_CONE_DEG + tolerance_deg)) - perspective.focal_px) / max(sigma_px, 1e-9)
    return OutsideCone(rows, float(np.degrees(angle)), float(1 / np.cos(angle)), centre,
                       float(perspective.focal_px * np.tan(np.radians(HALF_CONE_DEG))),
                       float(far / np.tan(np.radians(HALF_CONE_DEG))), float(1 - np.exp(-max(margin, 0) ** 2 / 2)))


def _touching(segments: np.ndarray, diagonal_px: float) -> list[np.ndarray]:
    """Rows of segments (N, 4) that meet each other and make up something with extent in more than one direction."""
    if not len(segments):
        return []
    meets = (end_distances(segments) <= TOUCH_SHARE * diagonal_px).any(1)
    count, group = connected_components(coo_matrix(meets | meets.T), directed=False)
    found = [np.flatnonzero(group == k) for k in range(count)]
    return [rows for rows in found if len(rows) >= FEWEST_EDGES and run_apart(segments[rows])
            and np.hypot(*np.ptp(segments[rows].reshape(-1, 2), axis=0)) >= SMALLEST_SHARE * diagonal_px]
