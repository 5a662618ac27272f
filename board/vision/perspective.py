"""Vanishing points, eye level and camera of one picture from its line segments."""

from dataclasses import dataclass

import numpy as np

from board.not_measured import NotMeasured
from board.vision.camera import Camera
from board.vision.given_perspective import GivenPerspective, with_given_rays
from board.vision.perspective_refine import KINDS, CameraPrior, moved
from board.vision.perspective_search import RULED, ChosenCamera, search_cameras
from board.vision.segment_bundle import SegmentBundle, bundle_segments
from board.vision.vanishing_hypotheses import CameraPool
from board.vision.vanishing_likelihood import likelihood_ratios, squared_sines
from board.vision.vanishing_release import release_points

FEWEST_SEGMENTS = 8
FEWEST_WHEN_GIVEN = 3
LEAST_GAIN = 4.0  # nats that the lines as a whole must gain over lines drawn at random
LEAST_POINT_GAIN = 3.0  # nats of one point, once the others stand
MEMBER = 0.5
SEEN_LOG_FOCAL = 0.2  # a wider uncertainty of the focal length's logarithm is no focal length
LEAST_OVER_FRONTAL = 4.0  # nats: looked at straight, a wall shows no focal length
NINETY_PERCENT = 1.645
AXIS_ROLES = ("level", "upright", "level")


@dataclass(frozen=True)
class VanishingPoint:
    """`point` (3,) homogeneous, px, unit length; `members` rows of the segments that run to it; `confidence` 0..1."""

    point: np.ndarray
    role: str
    members: np.ndarray
    confidence: float


@dataclass(frozen=True)
class Perspective:
    """What the lines of one picture show; px of that picture.

    `horizon` (a, b, c) with a x + b y + c = 0 and a² + b² = 1 (a picture without one is NotMeasured); `horizon_interval` half width
    in px (90 %).
    `focal_px` is None where it cannot be seen, `focal_interval` (low, high) at 90 %. `pitch_deg` + looks up and is None where the
    focal length is, but for parallel uprights; `roll_deg` + where the eye level falls to the right. `camera` agrees with itself,
    for grids and overlays; the reported points may be freed from it. `kind` is frontal, level or tilted: one, two, three finite
    points; `noise_deg` the spread of the hand measured here; `evidence` nats by which the camera beats lines drawn at random.
    """

    vanishing_points: tuple[VanishingPoint, ...]
    horizon: np.ndarray
    horizon_interval: float
    focal_px: float | None
    focal_interval: tuple[float, float] | None
    pitch_deg: float | None
    roll_deg: float
    camera: Camera
    kind: str
    noise_deg: float
    evidence: float


def solve_perspective(segments: np.ndarray, image_size: tuple[float, float],
                      given: GivenPerspective | None = None, *, is_ruled: bool = False) -> Perspective | NotMeasured:
    """`segments` (N, 4) x1 y1 x2 y2 in px of a picture of `image_size` (width, height); deterministic.

    `given` is what a person says: it is taken as so, and what the lines add is fitted to it. `is_ruled`: the lines are those of a
    render or a photograph, and no hand's spread is looked for in them: among many short edges, as of a tiled floor, too wide a
    spread lets points run together that are apart. NotMeasured where there are too few
    segments, or where they run together no more than lines drawn at random would.
    """
    bundle = bundle_segments(segments, image_size)
    fewest = FEWEST_SEGMENTS if given is None else FEWEST_WHEN_GIVEN
    if len(bundle) < fewest:
        return NotMeasured(f"{len(bundle)} segments found; {fewest} are needed")
    prior = CameraPrior()
    if given is not None:
        prior = CameraPrior(horizon=given.horizon_in(bundle))
        bundle = with_given_rays(bundle, given)
    chosen = search_cameras(bundle, prior, RULED if is_ruled else None)
    if given is None and chosen.refined.evidence[0] < LEAST_GAIN:
        return NotMeasured(f"The {len(bundle)} segments run together no more than lines drawn at random would.")
    return _report(chosen, bundle, given)


def _gains_of_points(chosen: ChosenCamera, bundle: SegmentBundle) -> np.ndarray:
    """(3,) nats by which each point explains the segments better than the other two alone."""
    ratios = likelihood_ratios(chosen.points, bundle, chosen.spread) * chosen.refined.shares[0, 1:, None]
    total = ratios.sum(0) + chosen.refined.shares[0, 0]
    return -np.log1p(-np.minimum(ratios / total, 1 - 1e-9)) @ bundle.testimony


def _report(chosen: ChosenCamera, bundle: SegmentBundle, given: GivenPerspective | None) -> Perspective | NotMeasured:
    gains = _gains_of_points(chosen, bundle)
    seen = gains >= LEAST_POINT_GAIN
    points = release_points(chosen, bundle) @ bundle.H_picture_to_px.T
    if (given is None or given.horizon is None) and not _shows_eye_level(chosen, seen):
        return NotMeasured("The lines show no eye level: they run parallel, or to no point.")
    camera = _camera_in_px(chosen, bundle)
    log_focal_sd = float(np.sqrt(np.linalg.inv(chosen.refined.information[0])[3, 3]))
    focal_is_seen = chosen.kind > 0 and chosen.over_frontal > LEAST_OVER_FRONTAL and log_focal_sd < SEEN_LOG_FOCAL
    reach = np.exp(NINETY_PERCENT * log_focal_sd)
    points /= np.linalg.norm(points, axis=1, keepdims=True)
    member = (chosen.refined.membership[0] > MEMBER) & ~bundle.is_given
    reported = [VanishingPoint(points[k], AXIS_ROLES[k], bundle.index[member[k]], float(1 - np.exp(-gains[k] / 6)))
                for k in np.argsort(-gains, kind="stable")]
    return Perspective(
        vanishing_points=tuple(reported),
        horizon=camera.horizon() if given is None or given.horizon is None else _unit_line(given.horizon),
        horizon_interval=_horizon_interval_px(chosen, bundle),
        focal_px=camera.focal_px if focal_is_seen else None,
        focal_interval=(camera.focal_px / reach, camera.focal_px * reach) if focal_is_seen else None,
        pitch_deg=0.0 if chosen.kind < 2 else camera.pitch_deg if focal_is_seen else None,
        roll_deg=camera.roll_deg,
        camera=camera,
        kind=KINDS[chosen.kind],
        noise_deg=_hand_deg(points, member, bundle, chosen),
        evidence=float(chosen.refined.evidence[0]),
    )


def _hand_deg(points: np.ndarray, member: np.ndarray, bundle: SegmentBundle, chosen: ChosenCamera) -> float:
    """Spread, as of a normal error, of the members' directions about their points: 1.4826 times the median miss.

    Long lines count by the square of their length: in short ones the ends of the segment tell more of the miss than the hand.
    """
    points = points @ np.linalg.inv(bundle.H_picture_to_px).T
    misses = np.sqrt(squared_sines(points, bundle))[member]
    if not len(misses):
        return float(np.degrees(chosen.noise.angle_rad))
    weights = np.broadcast_to(bundle.half_length_px**2, member.shape)[member]
    order = np.argsort(misses, kind="stable")
    reached = np.cumsum(weights[order])
    return float(np.degrees(1.4826 * misses[order][np.searchsorted(reached, reached[-1] / 2)]))


def _shows_eye_level(chosen: ChosenCamera, seen: np.ndarray) -> bool:
    """A finite level point and one more point to hang the eye level by, or two level ones."""
    finite = np.abs(chosen.points[:, 2]) > 0.05 * np.linalg.norm(chosen.points, axis=1)
    return bool((seen & finite)[[0, 2]].any() and seen.sum() >= 2)


def _unit_line(line: np.ndarray) -> np.ndarray:
    line = np.asarray(line, float) / np.hypot(*np.asarray(line, float)[:2])
    return line if line[1] >= 0 else -line


def _camera_in_px(chosen: ChosenCamera, bundle: SegmentBundle) -> Camera:
    cameras = chosen.refined.cameras
    rotation = cameras.rotation[0] * np.array([1.0, -1.0, -1.0])
    principal_px = cameras.principal[0] * bundle.unit_px + bundle.centre_px
    return Camera(rotation, float(cameras.focal[0] * bundle.unit_px), principal_px)


def _horizon_interval_px(chosen: ChosenCamera, bundle: SegmentBundle) -> float:
    """Half width, at 90 %, of the eye level where it crosses the middle of the picture."""
    covariance = np.linalg.inv(chosen.refined.information[0])
    cameras = chosen.refined.cameras
    step = 1e-5 * np.vstack([np.eye(6), -np.eye(6)])
    around = moved(cameras.subset(np.zeros(12, int)), step)
    points = CameraPool(around.rotation, around.focal, around.principal).points()
    line = np.cross(points[:, 0], points[:, 2])
    offset = line[:, 2] / np.hypot(line[:, 0], line[:, 1]) * np.sign(line[:, 1])
    slope = (offset[:6] - offset[6:]) / 2e-5
    return float(NINETY_PERCENT * np.sqrt(slope @ covariance @ slope) * bundle.unit_px)
