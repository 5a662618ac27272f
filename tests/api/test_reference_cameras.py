"""The exact camera of a still, typed in or from its scene."""

import json

import pytest

from board.models import Reference
from tests.pictures import upload
from tests.test_gltf_cameras import CAMERA, glb, gltf, quaternion

ASKEW = {"camera": 0, "name": "Stage", "translation": [0, 1.4, 3], "rotation": quaternion((1, 0, 0), -10)}
SHAPED = {"type": "perspective", "perspective": {"yfov": 0.8, "aspectRatio": 40 / 60}}  # as the still is


@pytest.fixture
def put(world, client_of):
    """As the artist; a file goes as a form."""
    url = f"/api/v1/references/{world.reference.pk}/camera"

    def put(file: bytes | None = None, **fields):
        if file is None:
            return client_of("artist").put(url, fields, format="json")
        return client_of("artist").put(url, {"gltf": upload(file, "set.glb"), **fields}, format="multipart")

    return put


def test_a_camera_is_typed_in_and_taken_back(world, client_of, put):
    row = put(focal_px=60.0, pitch_deg=0.0, eye_height_m=1.6).json()
    assert row["perspective"]["is_exact"] is True
    assert row["perspective"]["eye_level"] == [[0.0, 0.5], [1.0, 0.5]]
    assert (row["camera"]["source"], row["camera"]["eye_height_m"]) == ("typed", 1.6)
    answer = client_of("artist").delete(f"/api/v1/references/{world.reference.pk}/camera")
    assert (answer.status_code, answer.json()["camera"], answer.json()["perspective"]) == (200, None, {})


def test_beside_a_given_camera_stands_what_the_lines_show(world, put):
    shown = {"eye_level": [[0.0, 0.4], [1.0, 0.4]], "vanishing_points": [], "focal_px": None}
    Reference.objects.filter(pk=world.reference.pk).update(numbers=shown)
    row = put(focal_px=60.0).json()
    assert row["lines"] == shown and row["perspective"]["eye_level"] == [[0.0, 0.5], [1.0, 0.5]]


def test_an_angle_of_view_stands_for_the_focal_length(put):
    assert put(yfov_deg=90.0).json()["camera"]["focal_px"] == pytest.approx(30.0)  # half of 60 px


def test_a_camera_that_looks_down_has_its_eye_level_high(put):
    """tan 45° of the focal length over the middle: 30 px of 60, the upper side."""
    levels = put(focal_px=30.0, pitch_deg=-45.0).json()["perspective"]["eye_level"]
    assert [level for _, level in levels] == pytest.approx([0.0, 0.0])


@pytest.mark.parametrize("packed", [False, True])
def test_a_camera_is_read_from_its_scene(put, packed):
    content = gltf([ASKEW], [SHAPED])
    row = put(glb(content) if packed else content).json()
    assert (row["camera"]["name"], row["camera"]["source"]) == ("Stage", "gltf")
    assert (row["camera"]["pitch_deg"], row["camera"]["eye_height_m"]) == pytest.approx((-10, 1.4))


def test_of_several_cameras_one_is_named(put):
    content = gltf([{"children": [1, 2]}, {**ASKEW, "name": "Near"}, {**ASKEW, "name": "Far"}], [SHAPED])
    refused = put(content)
    assert refused.status_code == 400
    assert "“Near”, “Far”" in refused.json()["detail"]
    assert put(content, camera="Far").json()["camera"]["name"] == "Far"
    assert put(content, camera="Other").status_code == 400


def test_cameras_without_a_name_of_their_own_are_told_apart_by_their_place(put):
    """None has a name, or two have one: as exporters leave them."""
    nodes = [{"camera": 0, "translation": [0, 1.2, 0]}, {"camera": 0, "name": "Door ", "translation": [0, 1.4, 0]},
             {"camera": 0, "name": "Door", "translation": [0, 1.6, 0]}, {"camera": 0, "name": "Window", "translation": [0, 1.8, 0]}]
    file = gltf(nodes, [SHAPED], scenes=[{"nodes": [0, 1, 2, 3]}])
    labels = "“camera #1”, “Door #2”, “Door #3”, “Window”"
    assert labels in put(file).json()["detail"]
    assert labels in put(file, camera="Door").json()["detail"]
    heights = {name: put(file, camera=name).json()["camera"]["eye_height_m"] for name in ("camera #1", "Door #3", "Window")}
    assert heights == {"camera #1": 1.2, "Door #3": 1.6, "Window": 1.8}


@pytest.mark.parametrize("fields", [
    {}, {"pitch_deg": 3.0}, {"focal_px": 50.0, "yfov_deg": 40.0}, {"focal_px": 0.0}, {"yfov_deg": 180.0},
    {"focal_px": 50.0, "pitch_deg": 90.0}, {"focal_px": 50.0, "lens": 35},
])
def test_numbers_that_make_no_camera_are_refused(put, fields):
    assert put(**fields).status_code == 400


@pytest.mark.parametrize(
    "content", [b"", b"no scene", gltf([{}]), gltf([ASKEW], [CAMERA])], ids=["empty", "no scene", "no camera", "another shape"]
)
def test_a_file_that_gives_no_camera_for_this_still_is_refused(put, content):
    assert put(content).status_code == 400


def test_only_a_still_that_was_read_has_a_camera(world, put):
    Reference.objects.filter(pk=world.reference.pk).update(kind="prop")
    assert put(focal_px=50.0).status_code == 409
    Reference.objects.filter(pk=world.reference.pk).update(kind="still")
    picture = world.reference.picture
    picture.width_px = picture.height_px = None
    picture.save(update_fields=["width_px", "height_px"])
    assert put(focal_px=50.0).status_code == 409


def test_the_board_is_told(world, client_of, put):
    put(focal_px=50.0)
    events = client_of("reader").get(f"/api/v1/boards/{world.cast.board.pk}/events?after=0", HTTP_ACCEPT="application/json").json()
    assert "reference-camera" in json.dumps(events)
