"""One pinhole camera, and what photographs and drawings tell about it.

World: x right, y up, z towards the viewer when the camera looks level (as in glTF). Picture: x right, y down, px.
"""

from dataclasses import dataclass

import numpy as np

FLIP = np.diag([1.0, -1.0, -1.0])  # glTF cameras look down -z with y up; pictures have y down and z ahead


@dataclass(frozen=True)
class Camera:
    """`R_world_to_camera` (3, 3) with camera axes x right, y down, z ahead; focal length and principal point in px."""

    R_world_to_camera: np.ndarray
    focal_px: float
    principal_px: np.ndarray

    @property
    def K(self) -> np.ndarray:
        x, y = self.principal_px
        return np.array([[self.focal_px, 0, x], [0, self.focal_px, y], [0, 0, 1.0]])

    @property
    def up(self) -> np.ndarray:
        """(3,) the world's upward direction in camera axes."""
        return self.R_world_to_camera[:, 1]

    @property
    def pitch_deg(self) -> float:
        """+ looks up."""
        return float(np.degrees(np.arcsin(np.clip(self.up[2], -1, 1))))

    @property
    def roll_deg(self) -> float:
        """+ where the eye level falls to the right."""
        return float(np.degrees(np.arctan2(self.up[0], -self.up[1])))

    def vanishing_point(self, direction: np.ndarray) -> np.ndarray:
        """(3,) homogeneous point in px of a world direction (3,)."""
        return self.K @ self.R_world_to_camera @ np.asarray(direction, float)

    def horizon(self) -> np.ndarray:
        """(a, b, c) with a² + b² = 1 and a x + b y + c = 0 along the eye level; b > 0 where the camera is not rolled over."""
        line = -np.linalg.inv(self.K).T @ self.up
        return line / np.hypot(*line[:2])

    def project(self, points: np.ndarray, position: np.ndarray | None = None) -> np.ndarray:
        """(N, 2) px of world points (N, 3), seen from `position` (3,), by default the origin."""
        seen = (np.asarray(points, float) - (0 if position is None else position)) @ self.R_world_to_camera.T
        return seen[:, :2] / seen[:, 2:] * self.focal_px + self.principal_px

    def field_of_view_deg(self, length_px: float) -> float:
        """Angle under which a length of the picture, centred on the principal point, is seen."""
        return float(2 * np.degrees(np.arctan(length_px / 2 / self.focal_px)))


def camera_from_angles(focal_px: float, image_size: tuple[float, float], *, pitch_deg: float = 0.0, roll_deg: float = 0.0,
                       yaw_deg: float = 0.0) -> Camera:
    """A camera typed in: + pitch looks up, + roll lets the eye level fall to the right, + yaw looks to the right."""
    pitch, roll, yaw = np.radians([pitch_deg, roll_deg, yaw_deg])
    turn_yaw = np.array([[np.cos(yaw), 0, np.sin(yaw)], [0, 1, 0], [-np.sin(yaw), 0, np.cos(yaw)]])
    turn_pitch = np.array([[1, 0, 0], [0, np.cos(pitch), np.sin(pitch)], [0, -np.sin(pitch), np.cos(pitch)]])
    turn_roll = np.array([[np.cos(roll), -np.sin(roll), 0], [np.sin(roll), np.cos(roll), 0], [0, 0, 1]])
    return Camera(turn_roll @ turn_pitch @ FLIP @ turn_yaw, float(focal_px), np.asarray(image_size, float) / 2)


def camera_from_gltf(yfov_rad: float, R_node_to_world: np.ndarray, image_size: tuple[float, float]) -> Camera:
    """A glTF 2.0 perspective camera: `yfov_rad` its vertical field of view, `R_node_to_world` (3, 3) the rotation of its node."""
    focal_px = image_size[1] / 2 / np.tan(yfov_rad / 2)
    return Camera(FLIP @ np.asarray(R_node_to_world, float).T, float(focal_px), np.asarray(image_size, float) / 2)


def field_of_view_deg_of_lens(focal_mm: float, film_mm: float) -> float:
    return float(2 * np.degrees(np.arctan(film_mm / 2 / focal_mm)))


def viewing_distance(length: float, field_of_view_deg: float) -> float:
    """How far from a picture of this length an eye sees it under this angle; the unit is that of `length`."""
    return length / 2 / float(np.tan(np.radians(field_of_view_deg) / 2))


def focal_from_two_points(first_px: np.ndarray, second_px: np.ndarray, principal_px: np.ndarray) -> float | None:
    """Focal length in px from the vanishing points (2,) of two right-angled directions: f² = -(v1 - p) · (v2 - p).

    None where the points stand on one side of the principal point, as no camera sees right-angled directions so.
    Source: Hartley and Zisserman, Multiple View Geometry, chapter 8 (from memory: the page).
    """
    product = float(np.dot(np.asarray(first_px, float) - principal_px, np.asarray(second_px, float) - principal_px))
    return float(np.sqrt(-product)) if product < 0 else None


def camera_of_three_points(points_px: np.ndarray) -> tuple[float, np.ndarray] | None:
    """Focal length and principal point, px, from three finite vanishing points (3, 2) of a right-angled corner.

    The principal point is the orthocentre of their triangle. None where they stand in a line or the triangle is not acute.
    """
    a, b, c = np.asarray(points_px, float)
    sides = np.array([c - b, c - a])
    if abs(np.linalg.det(sides)) < 1e-9 * np.linalg.norm(sides[0]) * np.linalg.norm(sides[1]):
        return None
    principal_px = np.linalg.solve(sides, np.array([(c - b) @ a, (c - a) @ b]))
    focal_px = focal_from_two_points(a, b, principal_px)
    return None if focal_px is None else (focal_px, principal_px)


def depth_by_distance_point(base: float, share: float) -> float:
    """Depth that a base laid on the ground line measures off when it is drawn to the 1/n distance point (`share` = n)."""
    return base * share


def tilt_deg_from_horizon(distance_px: float, focal_px: float) -> float:
    """Tilt of a camera whose eye level passes `distance_px` from the principal point."""
    return float(np.degrees(np.arctan(distance_px / focal_px)))


def upright_distance_px(horizon_distance_px: float, focal_px: float) -> float:
    """How far from the principal point, on the side away from the eye level, the uprights meet; infinite when level."""
    return float("inf") if horizon_distance_px == 0 else focal_px**2 / horizon_distance_px


def height_at(horizon: np.ndarray, x: float | np.ndarray) -> float | np.ndarray:
    """y px where the eye level (a, b, c) crosses each of the columns x."""
    return -(horizon[0] * x + horizon[2]) / horizon[1]
