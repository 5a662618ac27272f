"""Maximum-likelihood refinement of many cameras at once: rotation, focal length and principal point together.

Gauss-Newton on the segments' sines against their vanishing points, weighted by membership (expectation-maximisation) and by
Student's t; what is known beforehand of cameras and of pictures enters as a prior. The kinds of picture differ only in priors:
with parallel uprights the pitch is held at 0, and straight at a wall the yaw as well.
"""

from dataclasses import dataclass

import numpy as np

from board.vision.segment_bundle import SegmentBundle
from board.vision.vanishing_hypotheses import CameraPool, point_gradients
from board.vision.vanishing_likelihood import family_shares, ratios_of_sines

PARAMETERS = 6  # three of rotation, log focal, principal x and y
HELD_RAD = 1e-4
GIVEN_HORIZON_RAD = 1e-4
HEAVY_TAILED = np.isin(np.arange(6), (0, 4, 5))  # of what is known of cameras: the roll, and where the principal point lies

EVEN_SHARES = (0.4, 0.2, 0.2, 0.2)

KINDS = ("frontal", "level", "tilted")  # one, two and three finite points


@dataclass(frozen=True)
class CameraPrior:
    """What is known before a line is looked at; picture units and radians. Common practice of cameras and of drawing, no source."""

    roll_rad: float = np.radians(3.0)
    pitch_rad: float = np.radians(15.0)
    log_focal: tuple[float, float] = (0.15, 0.5)
    principal: float = 0.03
    frontal_principal: float = 0.08
    horizon: np.ndarray | None = None  # (3,) as given by a person, picture units


@dataclass(frozen=True)
class RefinedCameras:
    """`cameras` with, for each, memberships (B, 3, N), `shares` (B, 4), log posterior (B,), information matrix (B, 6, 6)."""

    cameras: CameraPool
    membership: np.ndarray
    shares: np.ndarray
    log_posterior: np.ndarray
    information: np.ndarray

    def only(self, row: int) -> "RefinedCameras":
        rows = np.array([row])
        return RefinedCameras(self.cameras.subset(rows), self.membership[rows], self.shares[rows], self.log_posterior[rows],
                              self.information[rows])

    @property
    def evidence(self) -> np.ndarray:
        """(B,) Laplace's approximation of the log probability of the segments under each kind of camera."""
        return self.log_posterior + PARAMETERS / 2 * np.log(2 * np.pi) - 0.5 * np.linalg.slogdet(self.information)[1]


def point_motions(cameras: CameraPool) -> np.ndarray:
    """(B, K, 3, 6): how each vanishing point moves with rotation, log focal length and principal point."""
    axes = np.swapaxes(cameras.rotation, 1, 2)
    turn = np.zeros((*axes.shape[:2], 3, 3))
    turn[..., 0, 1], turn[..., 0, 2] = axes[..., 2], -axes[..., 1]
    turn[..., 1, 0], turn[..., 1, 2] = -axes[..., 2], axes[..., 0]
    turn[..., 2, 0], turn[..., 2, 1] = axes[..., 1], -axes[..., 0]
    K = np.zeros((len(cameras), 3, 3))
    K[:, 0, 0] = K[:, 1, 1] = cameras.focal
    K[:, :2, 2], K[:, 2, 2] = cameras.principal, 1
    motion = np.zeros((*axes.shape[:2], 3, PARAMETERS))
    motion[..., :3] = K[:, None] @ turn
    motion[..., :2, 3] = cameras.focal[:, None, None] * axes[..., :2]
    motion[..., 0, 4] = motion[..., 1, 5] = axes[..., 2]
    return motion


def log_prior(cameras: CameraPool, kinds: np.ndarray, prior: CameraPrior) -> np.ndarray:
    """(B,) nats, for `kinds` (B,) indices into KINDS."""
    value, _, scale = _known_beforehand(cameras, kinds, prior)
    z = value / scale
    nats = np.where(HEAVY_TAILED, -2 * np.log1p(z * z / 3), -0.5 * z * z).sum(1)
    nats -= np.where(np.isfinite(scale), np.log(scale), 0).sum(1) + 0.919 * np.isfinite(scale).sum(1)
    nats -= np.where(kinds == 0, 0.0, np.log(np.pi / 2))
    return nats if prior.horizon is None else nats + _given_horizon_terms(cameras, prior.horizon)[0]


def prior_terms(cameras: CameraPool, kinds: np.ndarray, prior: CameraPrior) -> tuple[np.ndarray, np.ndarray]:
    """Gradient (B, 6) of the log prior, downwards, and its information (B, 6, 6)."""
    value, jacobian, scale = _known_beforehand(cameras, kinds, prior)
    z = value / scale
    weighted = jacobian * (np.where(HEAVY_TAILED, 4 / (3 + z * z), 1.0) / scale**2)[..., None]
    gradient, information = np.einsum("bij,bi->bj", weighted, value), np.swapaxes(weighted, 1, 2) @ jacobian
    if prior.horizon is None:
        return gradient, information
    by_horizon = _given_horizon_terms(cameras, prior.horizon)
    return gradient + by_horizon[1], information + by_horizon[2]


def _known_beforehand(cameras: CameraPool, kinds: np.ndarray, prior: CameraPrior) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """By how much each camera is unusual in six ways (B, 6), how that moves with the camera (B, 6, 6), and how much is usual
    (B, 6), infinite where nothing is known."""
    B = len(cameras)
    jacobian, value, scale = np.zeros((B, 6, PARAMETERS)), np.zeros((B, 6)), np.empty((B, 6))
    down, side = cameras.rotation[..., 1], cameras.rotation[..., 0]
    value[:, 0], jacobian[:, 0, 1], jacobian[:, 0, 2] = down[:, 0], down[:, 2], -down[:, 1]
    value[:, 1], jacobian[:, 1, 0], jacobian[:, 1, 1] = down[:, 2], down[:, 1], -down[:, 0]
    value[:, 2], jacobian[:, 2, 0], jacobian[:, 2, 1] = side[:, 2], side[:, 1], -side[:, 0]
    value[:, 3], jacobian[:, 3, 3] = np.log(cameras.focal) - prior.log_focal[0], 1
    value[:, 4:6] = cameras.principal
    jacobian[:, 4, 4] = jacobian[:, 5, 5] = 1
    scale[:, 0] = prior.roll_rad
    scale[:, 1] = np.where(kinds == 2, prior.pitch_rad, HELD_RAD)
    scale[:, 2] = np.where(kinds == 0, HELD_RAD, np.inf)
    scale[:, 3] = prior.log_focal[1]
    scale[:, 4:6] = np.where(kinds == 0, prior.frontal_principal, prior.principal)[:, None]
    return value, jacobian, scale


def _given_horizon_terms(cameras: CameraPool, horizon: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The same for an eye level (a, b, c) that a person gave: the downward axis stands at right angles to its plane."""
    a, b, c = horizon
    plane = np.stack([cameras.focal * a, cameras.focal * b, cameras.principal @ horizon[:2] + c], axis=1)
    size = np.linalg.norm(plane, axis=1, keepdims=True)
    plane, down = plane / size, cameras.rotation[..., 1]
    value = np.cross(down, plane)
    jacobian = np.zeros((len(cameras), 3, PARAMETERS))
    jacobian[..., :3] = down[:, :, None] * plane[:, None, :] - (down * plane).sum(1)[:, None, None] * np.eye(3)
    by_focal = np.stack([cameras.focal * a, cameras.focal * b, np.zeros(len(cameras))], axis=1) / size
    jacobian[..., 3] = np.cross(down, by_focal)
    jacobian[..., 4] = np.cross(down, np.array([0, 0, a]) / size)
    jacobian[..., 5] = np.cross(down, np.array([0, 0, b]) / size)
    back = np.swapaxes(jacobian, 1, 2) / GIVEN_HORIZON_RAD**2
    return -0.5 * (value**2).sum(1) / GIVEN_HORIZON_RAD**2, (back @ value[..., None])[..., 0], back @ jacobian


def moved(cameras: CameraPool, step: np.ndarray) -> CameraPool:
    """Cameras after a step (B, 6); the rotation is turned by the step's first three numbers about the camera's axes."""
    angle = np.linalg.norm(step[:, :3], axis=1)[:, None, None]
    x, y, z = step[:, :3].T
    zero = np.zeros_like(x)
    cross = np.array([[zero, -z, y], [z, zero, -x], [-y, x, zero]]).transpose(2, 0, 1)
    turn = np.eye(3) + np.sinc(angle / np.pi) * cross + 0.5 * np.sinc(angle / (2 * np.pi)) ** 2 * (cross @ cross)
    focal = np.clip(cameras.focal * np.exp(np.clip(step[:, 3], -0.5, 0.5)), 0.1, 30)
    return CameraPool(turn @ cameras.rotation, focal, cameras.principal + step[:, 4:6])


def refine_cameras(cameras: CameraPool, kinds: np.ndarray, bundle: SegmentBundle, spreads: list[np.ndarray], prior: CameraPrior,
                   shares: np.ndarray | None = None) -> RefinedCameras:
    """`kinds` (B,) indices into KINDS; one round for each of `spreads` (N,) radians, widest first."""
    cameras, shares = nearer_cameras(cameras, kinds, bundle, spreads, prior, shares)
    _, information, membership, ratio = _normal_equations(cameras, shares, bundle, spreads[-1])
    log_posterior = np.log(ratio) @ bundle.testimony + log_prior(cameras, kinds, prior)
    return RefinedCameras(cameras, membership, shares, log_posterior, information + prior_terms(cameras, kinds, prior)[1])


def nearer_cameras(cameras: CameraPool, kinds: np.ndarray, bundle: SegmentBundle, spreads: list[np.ndarray], prior: CameraPrior,
                   shares: np.ndarray | None = None) -> tuple[CameraPool, np.ndarray]:
    """The same rounds, where nobody asks how likely each camera has become: cameras and shares (B, 4)."""
    shares = np.tile(EVEN_SHARES, (len(cameras), 1)) if shares is None else shares
    for spread in spreads:
        gradient, information, membership, _ = _normal_equations(cameras, shares, bundle, spread)
        prior_gradient, prior_information = prior_terms(cameras, kinds, prior)
        step = -np.linalg.solve(information + prior_information + 1e-9 * np.eye(PARAMETERS),
                                (gradient + prior_gradient)[..., None])[..., 0]
        length = np.linalg.norm(step[:, :3], axis=1)
        cameras = moved(cameras, step * np.minimum(1, 0.3 / np.maximum(length, 1e-12))[:, None])
        shares = _shares_of(membership, bundle.testimony)
    return cameras, shares


def _shares_of(membership: np.ndarray, weight: np.ndarray) -> np.ndarray:
    """(B, 4): what no family explains, then each family; two segments' worth of each is taken for granted."""
    counts = membership @ weight  # (B, 3)
    shares = np.concatenate([(weight.sum() - counts.sum(1))[:, None], counts], axis=1) + 2.0
    return shares / shares.sum(1, keepdims=True)


def _normal_equations(cameras: CameraPool, shares: np.ndarray, bundle: SegmentBundle,
                      spread: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Gradient (B, 6) and information (B, 6, 6) of the segments' part, memberships (B, 3, N), likelihood ratios (B, N)."""
    sine, slope = point_gradients(cameras.points(), bundle)
    squared = sine * sine
    membership, ratio = family_shares(ratios_of_sines(squared, spread), shares)
    trust = membership * bundle.testimony * (4 / 3) / (spread**2 + squared / 3)
    weighted = slope * trust[:, :, None]
    per_point, pull = weighted @ np.swapaxes(slope, 2, 3), weighted @ sine[..., None]
    motion = point_motions(cameras)
    back = np.swapaxes(motion, 2, 3)
    return (back @ pull).sum(1)[..., 0], (back @ per_point @ motion).sum(1), membership, ratio
