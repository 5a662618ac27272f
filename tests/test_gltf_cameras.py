"""Cameras read from glTF 2.0 files: node transforms, binary files, and files that are none."""

import base64
import json
import struct

import numpy as np
import pytest

from board.errors import NotValid
from board.exact_camera import ExactCamera, camera_of_gltf
from board.gltf_cameras import read_gltf_cameras
from board.vision.camera import camera_from_angles, camera_from_gltf

SIZE = (1600, 900)
HALF = 0.5**0.5
CAMERA = {"type": "perspective", "perspective": {"yfov": 0.7, "znear": 0.1, "aspectRatio": 16 / 9}}


def gltf(nodes: list[dict], cameras: list[dict] | None = None, **more) -> bytes:
    document = {"asset": {"version": "2.0"}, "scene": 0, "scenes": [{"nodes": [0]}], "nodes": nodes, "cameras": cameras or [CAMERA]}
    return json.dumps({**document, **more}).encode()


def glb(document: bytes) -> bytes:
    padded = document + b" " * (-len(document) % 4)
    chunk = struct.pack("<II", len(padded), 0x4E4F534A) + padded
    return b"glTF" + struct.pack("<II", 2, 12 + len(chunk) + 16) + chunk + struct.pack("<II", 8, 0x004E4942) + b"\0" * 8


def quaternion(axis: tuple[float, float, float], angle_deg: float) -> list[float]:
    half = np.radians(angle_deg) / 2
    return [float(v) for v in (*(np.sin(half) * np.array(axis)), np.cos(half))]


def test_a_camera_without_a_transform_looks_down_minus_z():
    (camera,) = read_gltf_cameras(gltf([{"camera": 0, "name": "Stage"}]))
    assert (camera.name, camera.place) == ("Stage", (0, 0, 0))
    assert (camera.right, camera.up, camera.back) == ((1, 0, 0), (0, 1, 0), (0, 0, 1))
    exact = camera_of_gltf(camera, SIZE[1])
    assert (exact.pitch_deg, exact.roll_deg, exact.yaw_deg, exact.eye_height_m) == pytest.approx((0, 0, 0, None))
    assert exact.focal_px == pytest.approx(450 / np.tan(0.35))


def test_a_binary_file_is_read_like_the_plain_one():
    plain = gltf([{"camera": 0, "translation": [1, 1.5, 2], "rotation": quaternion((0, 1, 0), 30)}])
    assert read_gltf_cameras(glb(plain)) == read_gltf_cameras(plain)


def test_transforms_of_parents_are_honoured_and_their_scale_is_not():
    """The parent turns by 90° to the left and doubles; the child stands 1.5 m up and 3 m back."""
    nodes = [{"rotation": quaternion((0, 1, 0), 90), "scale": [2, 2, 2], "translation": [0, 0.1, 0], "children": [1]},
             {"camera": 0, "translation": [0, 0.75, 1.5]}]
    (camera,) = read_gltf_cameras(gltf(nodes))
    assert camera.place == pytest.approx((3.0, 1.6, 0.0), abs=1e-12)
    assert camera.back == pytest.approx((1, 0, 0), abs=1e-12)
    exact = camera_of_gltf(camera, SIZE[1])
    assert (exact.yaw_deg, exact.eye_height_m) == pytest.approx((-90, 1.6))


def test_a_matrix_is_read_column_by_column():
    (camera,) = read_gltf_cameras(gltf([{"camera": 0, "matrix": [0, 0, -1, 0, 0, 1, 0, 0, 1, 0, 0, 0, 4, 5, 6, 1]}]))
    assert (camera.right, camera.back, camera.place) == ((0, 0, -1), (1, 0, 0), (4, 5, 6))


@pytest.mark.parametrize("angles", [(0, 0, 0), (12, 0, 0), (-30, 5, 0), (8, -14, 40), (-20, 9, -130)])
def test_the_exact_camera_shows_what_the_cameras_of_the_worker_show(angles):
    pitch, roll, yaw = angles
    theirs = camera_from_angles(1100.0, SIZE, pitch_deg=pitch, roll_deg=roll, yaw_deg=yaw)
    numbers = ExactCamera(1100.0, pitch, roll, yaw).numbers(*SIZE)
    for one, way in zip(numbers["vanishing_points"], ((0, 0, -1), (0, 1, 0), (1, 0, 0)), strict=True):
        seen = np.array(one["point"]) * [*SIZE, 1]
        assert np.cross(seen / np.linalg.norm(seen), theirs.vanishing_point(np.array(way)) / np.linalg.norm(
            theirs.vanishing_point(np.array(way)))) == pytest.approx(np.zeros(3), abs=1e-9)
    for point in numbers["eye_level"]:
        assert theirs.horizon() @ [point[0] * SIZE[0], point[1] * SIZE[1], 1] == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("turn", [quaternion((1, 0, 0), -20), quaternion((0, 1, 0), 55), quaternion((0, 0, 1), 12),
                                  quaternion((0.6, 0.0, 0.8), 40), [0.1, -0.2, 0.05, 0.97]])
def test_a_gltf_camera_keeps_its_rotation_through_the_angles(turn):
    (camera,) = read_gltf_cameras(gltf([{"camera": 0, "rotation": turn}]))
    exact = camera_of_gltf(camera, SIZE[1])
    theirs = camera_from_gltf(0.7, np.array([camera.right, camera.up, camera.back]).T, SIZE)
    ours = camera_from_angles(exact.focal_px, SIZE, pitch_deg=exact.pitch_deg, roll_deg=exact.roll_deg, yaw_deg=exact.yaw_deg)
    assert ours.R_world_to_camera == pytest.approx(theirs.R_world_to_camera, abs=1e-9)
    assert ours.focal_px == pytest.approx(theirs.focal_px)


def test_only_cameras_in_the_scene_with_a_perspective_are_listed():
    cameras = [{"type": "orthographic", "orthographic": {"xmag": 1, "ymag": 1, "zfar": 9, "znear": 1}}, CAMERA]
    nodes = [{"camera": 0, "children": [1]}, {"camera": 1, "name": "in"}, {"camera": 1, "name": "out"}]
    assert [camera.name for camera in read_gltf_cameras(gltf(nodes, cameras))] == ["in"]


def test_a_file_without_scenes_shows_the_cameras_of_all_its_roots():
    content = json.dumps({"asset": {"version": "2.0"}, "nodes": [{"children": [1]}, {"camera": 0}], "cameras": [CAMERA]}).encode()
    assert len(read_gltf_cameras(content)) == 1


@pytest.mark.parametrize("content", [
    b"", b"no JSON", b"[]", b"{}", b'{"asset": {"version": "1.0"}}', b"glTF", b"glTF" + struct.pack("<IIII", 1, 20, 0, 0x4E4F534A),
    b"glTF" + struct.pack("<IIII", 2, 20, 10**9, 0x4E4F534A), gltf([{"camera": 7}]), gltf([{"camera": 0, "matrix": [1, 2]}]),
    gltf([{"camera": 0, "rotation": [0, 0, 0, 0]}]), gltf([{"camera": 0, "scale": [0, 0, 0]}]), gltf([{"children": [0]}]),
    gltf([{"camera": 0}], [{"type": "perspective", "perspective": {"yfov": 4.0}}]), gltf([{"children": [-1]}]),
    gltf([{"children": [1, 1]}, {}]), gltf([{"camera": 0, "translation": [1e999, 0, 0]}]),
    b"[" * 100_000, gltf([{"camera": 0}], [{"type": "perspective", "perspective": {"yfov": "wide"}}]),
    base64.b64encode(b"\x89PNG\r\n\x1a\n" * 9),
], ids=range(20))
def test_what_is_no_gltf_is_refused_in_words(content):
    with pytest.raises(NotValid):
        read_gltf_cameras(content)
