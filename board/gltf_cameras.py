"""The cameras of a glTF 2.0 file, .gltf or .glb: where each stands and looks in its scene, and how wide it sees. No NumPy.

Source: Khronos Group, glTF 2.0 Specification (2.0.1, 2021), 3.10 (cameras look down -z, y up, `yfov` in radians), 3.5.3 (nodes) and
4 (binary files); from memory: the sections.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import isfinite, pi, sqrt
from struct import error as struct_error
from struct import unpack_from
from typing import Any

from board.errors import NotValid

Vector = tuple[float, float, float]
Matrix = tuple[tuple[float, ...], ...]  # rows
BINARY, JSON_CHUNK = b"glTF", 0x4E4F534A
MOST_JSON_BYTES = 16_000_000
NO_GLTF = "This is no glTF 2.0 file, or it is damaged."


@dataclass(frozen=True)
class GltfCamera:
    """`right`, `up` and `back` are the camera's own axes in the scene, of unit length; `place` in metres."""

    name: str
    yfov_rad: float
    aspect: float | None
    right: Vector
    up: Vector
    back: Vector
    place: Vector


def read_gltf_cameras(content: bytes) -> list[GltfCamera]:
    """Perspective cameras in the order of the scene. Raises NotValid with the sentence that people read."""
    try:
        document = json.loads(_json_of(content))
        if not isinstance(document, dict) or not str(document["asset"]["version"]).startswith("2."):
            raise NotValid(NO_GLTF)
        return list(_cameras(document))
    except (KeyError, TypeError, ValueError, IndexError, AttributeError, OverflowError, ZeroDivisionError, RecursionError,
            struct_error) as error:
        raise NotValid(NO_GLTF) from error


def _json_of(content: bytes) -> bytes:
    if content[:4] != BINARY:
        start, length = 0, len(content)
    else:
        version, _, length, kind = unpack_from("<4xIIII", content)
        start = 20
        if version != 2 or kind != JSON_CHUNK or start + length > len(content):
            raise NotValid(NO_GLTF)
    if length > MOST_JSON_BYTES:
        raise NotValid("The description in this glTF file is too long. Export the camera alone.")
    return content[start : start + length]


def _cameras(document: Mapping[str, Any]) -> Iterator[GltfCamera]:
    nodes, cameras = document.get("nodes", []), document.get("cameras", [])
    waiting = [(index, IDENTITY) for index in reversed(_roots(document, nodes))]
    seen: set[int] = set()
    while waiting:
        index, parent = waiting.pop()
        # A node has one parent at most: what is met twice is a ring, or grows without end.
        if not isinstance(index, int) or index < 0 or index in seen:
            raise NotValid(NO_GLTF)
        seen.add(index)
        node = nodes[index]
        world = _product(parent, _transform(node))
        waiting += [(child, world) for child in reversed(node.get("children", []))]
        camera = cameras[node["camera"]] if "camera" in node else {}
        if camera.get("type") == "perspective":
            yield _camera(node, camera, world)


def _roots(document: Mapping[str, Any], nodes: Sequence[Mapping[str, Any]]) -> list[int]:
    scenes = document.get("scenes", [])
    if scenes:
        return list(scenes[document.get("scene", 0)].get("nodes", []))
    children = {child for node in nodes for child in node.get("children", [])}
    return [index for index in range(len(nodes)) if index not in children]


def _camera(node: Mapping[str, Any], camera: Mapping[str, Any], world: Matrix) -> GltfCamera:
    """Scaling does not change what a camera sees: its axes are made unit and square again, its direction of view first."""
    seen = camera["perspective"]
    yfov, aspect = float(seen["yfov"]), seen.get("aspectRatio")
    if not 0 < yfov < pi:
        raise NotValid("The camera in this glTF file sees under no possible angle.")
    _, up, back, place = ((world[0][k], world[1][k], world[2][k]) for k in range(4))
    back = _unit(back)
    right = _unit(_cross(up, back))
    name = str(node.get("name") or camera.get("name") or "")[:200]
    if not all(map(isfinite, (*right, *up, *back, *place))):
        raise NotValid(NO_GLTF)
    return GltfCamera(name, yfov, float(aspect) if aspect else None, right, _cross(back, right), back, place)


IDENTITY: Matrix = tuple(tuple(float(row == column) for column in range(4)) for row in range(4))


def _transform(node: Mapping[str, Any]) -> Matrix:
    """From the node to its parent: `matrix`, column by column, or translation, rotation (a quaternion x y z w) and scale."""
    if "matrix" in node:
        values = [float(v) for v in node["matrix"]]
        return tuple(tuple(values[4 * column + row] for column in range(4)) for row in range(4))
    x, y, z, w = (float(v) for v in node.get("rotation", (0, 0, 0, 1)))
    length = sqrt(x * x + y * y + z * z + w * w)
    x, y, z, w = x / length, y / length, z / length, w / length
    scale, place = node.get("scale", (1, 1, 1)), node.get("translation", (0, 0, 0))
    turn = ((1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)),
            (2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)),
            (2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)))
    rows = [(*(turn[row][k] * float(scale[k]) for k in range(3)), float(place[row])) for row in range(3)]
    return (*rows, (0.0, 0.0, 0.0, 1.0))


def _product(first: Matrix, second: Matrix) -> Matrix:
    return tuple(tuple(sum(first[row][k] * second[k][column] for k in range(4)) for column in range(4)) for row in range(4))


def _cross(a: Vector, b: Vector) -> Vector:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def _unit(vector: Vector) -> Vector:
    length = sqrt(sum(v * v for v in vector))
    return vector[0] / length, vector[1] / length, vector[2] / length
