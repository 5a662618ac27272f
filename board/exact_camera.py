"""A still's exact camera, as it was typed in or read from its scene, and what it shows of the picture. No NumPy.

World: x right, y up, z towards the viewer when the camera looks level (as in glTF). Picture: x right, y down, px. It is the camera
of `board.vision.camera`.
"""

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from math import asin, atan2, cos, degrees, hypot, radians, sin, sqrt, tan
from typing import Any

from board.gltf_cameras import GltfCamera

Vector = tuple[float, float, float]
STEEPEST = 0.2  # an eye level with a smaller b runs up the picture


@dataclass(frozen=True)
class ExactCamera:
    """+ pitch looks up, + roll lets the eye level fall to the right, + yaw looks to the right; `source` "typed" or "gltf"."""

    focal_px: float
    pitch_deg: float = 0.0
    roll_deg: float = 0.0
    yaw_deg: float = 0.0
    eye_height_m: float | None = None
    source: str = "typed"
    name: str = ""

    def as_json(self) -> dict[str, Any]:
        return asdict(self)

    def numbers(self, width_px: float, height_px: float) -> dict[str, Any]:
        """As the perspective check tells of a panel, here the whole picture; in page coordinates."""
        right, up, back = self._axes()
        points = [("level", (-back[0], -back[1], -back[2])), ("upright", up), ("level", right)]
        seen = [{"point": self._seen(way, width_px, height_px), "role": role, "confidence": 1.0} for role, way in points]
        return {
            "eye_level": self._eye_level(up, width_px, height_px), "vanishing_points": seen,
            "focal_px": self.focal_px, "pitch_deg": self.pitch_deg, "roll_deg": self.roll_deg, "eye_height_m": self.eye_height_m,
            "is_exact": True,
        }

    def _axes(self) -> tuple[Vector, Vector, Vector]:
        """The world's x, y and z in camera axes: x right, y down, z ahead."""
        pitch, roll, yaw = radians(self.pitch_deg), radians(self.roll_deg), radians(self.yaw_deg)
        turned = ((cos(yaw), 0.0, -sin(yaw)), (0.0, 1.0, 0.0), (sin(yaw), 0.0, cos(yaw)))
        return tuple(_rolled(_pitched((x, -y, -z), pitch), roll) for x, y, z in turned)  # type: ignore[return-value]

    def _seen(self, way: Vector, width_px: float, height_px: float) -> list[float]:
        point = (self.focal_px * way[0] / width_px + way[2] / 2, self.focal_px * way[1] / height_px + way[2] / 2, way[2])
        length = sqrt(sum(v * v for v in point))
        return [v / length for v in point]

    def _eye_level(self, up: Vector, width_px: float, height_px: float) -> list[list[float]] | None:
        a, b = -up[0], -up[1]
        if abs(b) <= STEEPEST * hypot(a, b):
            return None
        # up . (x - w/2, y - h/2, f) = 0 at the picture's left and right side
        levels = [(-up[2] * self.focal_px - up[0] * side * width_px / 2) / up[1] for side in (-1, 1)]
        return [[x, 0.5 + level / height_px] for x, level in zip((0.0, 1.0), levels, strict=True)]


def _pitched(v: Vector, pitch: float) -> Vector:
    return v[0], cos(pitch) * v[1] + sin(pitch) * v[2], -sin(pitch) * v[1] + cos(pitch) * v[2]


def _rolled(v: Vector, roll: float) -> Vector:
    return cos(roll) * v[0] - sin(roll) * v[1], sin(roll) * v[0] + cos(roll) * v[1], v[2]


def focal_px_of(yfov_rad: float, height_px: float) -> float:
    return height_px / 2 / tan(yfov_rad / 2)


def camera_of_gltf(camera: GltfCamera, height_px: float, eye_height_m: float | None = None) -> ExactCamera:
    """Its height over the scene's y = 0 is taken for the eye's over the floor, where nobody says otherwise."""
    up_seen: Sequence[float] = (camera.right[1], -camera.up[1], -camera.back[1])  # the world's y in camera axes
    height_m = camera.place[1] if camera.place[1] > 0 else None
    return ExactCamera(
        focal_px_of(camera.yfov_rad, height_px), degrees(asin(max(-1.0, min(1.0, up_seen[2])))),
        degrees(atan2(up_seen[0], -up_seen[1])), degrees(atan2(-camera.back[0], camera.back[2])),
        eye_height_m or height_m, "gltf", camera.name,
    )
