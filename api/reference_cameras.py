from math import radians
from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers
from rest_framework.parsers import MultiPartParser
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.endpoint import Endpoint
from api.finite_number import FiniteNumber
from api.json_body import JsonBody
from api.references import ReferenceSerializer
from board.access import access_reference, may_change_reference
from board.actions.references import set_still_camera
from board.errors import NotPossibleNow, NotValid
from board.exact_camera import ExactCamera, camera_of_gltf, focal_px_of
from board.gltf_cameras import GltfCamera, read_gltf_cameras
from board.models import Picture

MOST_GLTF_BYTES = 64_000_000
SAME_SHAPE = 0.02  # by which the picture's shape may part from what the camera sees


@extend_schema_field({"type": "string", "format": "binary"})
class GltfFile(serializers.FileField):
    """A glTF 2.0 file, .gltf or .glb."""


class Degrees(FiniteNumber):
    def __init__(self, most: float, **options: Any) -> None:
        super().__init__(**{"required": False, "min_value": -most, "max_value": most, **options})


class StillCamera(Body):
    """A glTF file (as a form), or the numbers: one of `focal_px` and `yfov_deg`, and the angles."""

    gltf = GltfFile(required=False, allow_empty_file=True)
    camera = serializers.CharField(required=False, max_length=200, help_text="Which camera of the file, by its name.")
    focal_px = FiniteNumber(required=False, min_value=1, max_value=1e7)
    yfov_deg = FiniteNumber(required=False, min_value=0.1, max_value=179)
    pitch_deg = Degrees(89, help_text="+ looks up.")
    roll_deg = Degrees(180, help_text="+ where the eye level falls to the right.")
    yaw_deg = Degrees(360, help_text="Against the set; + looks to the right.")
    eye_height_m = FiniteNumber(required=False, min_value=0.01, max_value=1000)

    def validate(self, data: dict[str, Any]) -> dict[str, Any]:
        if sum(name in data for name in ("gltf", "focal_px", "yfov_deg")) != 1:
            raise serializers.ValidationError("Send one of: a glTF file, the focal length in pixels, the vertical angle of view.")
        return data


class ReferenceCamera(Endpoint):
    """The camera that a still was made with, exactly."""

    shape = ReferenceSerializer
    parser_classes = [JsonBody, MultiPartParser]
    reach = access_reference
    needs = {"PUT": may_change_reference, "DELETE": may_change_reference}
    bodies = {"PUT": StillCamera}
    statuses = {"DELETE": 200}

    def put(self, request: Request, pk: int) -> Response:
        picture, body = self.row.picture, self.read_body()
        if not picture.width_px or not picture.height_px:
            raise NotPossibleNow("This picture is not read yet.")
        camera = _of_file(body, picture) if "gltf" in body else _of_numbers(body, picture.height_px)
        return self.answer(set_still_camera(seat=self.seat, reference=self.row, camera=camera))

    def delete(self, request: Request, pk: int) -> Response:
        return self.answer(set_still_camera(seat=self.seat, reference=self.row, camera=None))


def _of_numbers(body: dict[str, Any], height_px: int) -> ExactCamera:
    focal_px = body.get("focal_px") or focal_px_of(radians(body["yfov_deg"]), height_px)
    rest = {name: body[name] for name in ("pitch_deg", "roll_deg", "yaw_deg", "eye_height_m") if name in body}
    return ExactCamera(focal_px, **rest)


def _of_file(body: dict[str, Any], picture: Picture) -> ExactCamera:
    if body["gltf"].size > MOST_GLTF_BYTES:
        raise NotValid("This glTF file is too large. Export the camera alone.")
    chosen = _chosen(read_gltf_cameras(body["gltf"].read()), body.get("camera"))
    width_px, height_px = picture.width_px or 1, picture.height_px or 1
    if chosen.aspect and abs(chosen.aspect * height_px / width_px - 1) > SAME_SHAPE:
        raise NotValid(f"This camera sees a picture {chosen.aspect:.2f} times as wide as high; the still is "
                       f"{width_px / height_px:.2f} times.")
    return camera_of_gltf(chosen, height_px, body.get("eye_height_m"))


def _chosen(cameras: list[GltfCamera], name: str | None) -> GltfCamera:
    if not cameras:
        raise NotValid("There is no perspective camera in this file.")
    if len(cameras) == 1 and name is None:
        return cameras[0]
    by_label = dict(zip(_labels(cameras), cameras, strict=True))
    if name in by_label:
        return by_label[name]
    labels = ", ".join(f"“{label}”" for label in [*by_label][:20])
    if name is None:
        raise NotValid(f"There are several cameras in this file; say which one: {labels}.")
    if any(camera.name.strip() == name for camera in cameras):
        raise NotValid(f"There are several cameras of this name in the file; say which one: {labels}.")
    raise NotValid(f"There is no camera of this name in the file; there are {labels}.")


def _labels(cameras: list[GltfCamera]) -> list[str]:
    """Their names, in their order; who has none, or one that others have too, is numbered by its place among all."""
    names = [camera.name.strip() for camera in cameras]
    return [name if name and names.count(name) == 1 else f"{name or 'camera'} #{number}"
            for number, name in enumerate(names, start=1)]
