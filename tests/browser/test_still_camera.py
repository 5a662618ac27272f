"""The camera of a still in the references: what its lines show, and the one of its scene."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.accessibility import violations_in_both_schemes
from tests.browser.bent_room import two_rooms
from tests.browser.script import Script
from tests.test_gltf_cameras import gltf, quaternion


@pytest.fixture(scope="module")
def still(server: str) -> str:
    script, title = Script(server), "The room of boxes"
    script.add_reference(title, two_rooms())
    return title


@pytest.fixture
def camera_of(arrive, still):
    def camera_of(**options) -> Page:
        visitor = arrive("wim", **options)
        visitor.wall()
        visitor.page.get_by_role("button", name="References").click()
        visitor.page.get_by_role("button", name=f"Camera of {still}").click()
        return visitor.page

    return camera_of


def test_a_camera_is_typed_in_read_from_a_scene_and_taken_back(camera_of, still, tmp_path):
    page = camera_of()
    row = page.locator(".reference", has_text=still)
    page.get_by_label("Focal length, px").fill("1500")
    page.get_by_label("Pitch, °").fill("-4")
    page.get_by_role("button", name="Keep this camera").click()
    expect(row).to_contain_text("Exact camera: focal length 1500 px, pitch -4.0°")
    scene = tmp_path / "set.gltf"
    camera = {"type": "perspective", "perspective": {"yfov": 0.9}}
    scene.write_bytes(gltf([{"camera": 0, "translation": [0, 1.55, 2], "rotation": quaternion((0, 1, 0), 20)}], [camera]))
    page.get_by_role("button", name=f"Camera of {still}").click()
    page.get_by_label("glTF 2.0 file").set_input_files(scene)
    page.get_by_role("button", name="Read the camera").click()
    expect(row).to_contain_text("eye 1.55 m over the floor")
    page.get_by_role("button", name=f"Camera of {still}").click()
    page.get_by_role("button", name="Take it back").click()
    expect(row).to_contain_text(re.compile("As its lines show|Its lines show no camera"))


def test_the_dialog_is_accessible(camera_of):
    page = camera_of()
    assert violations_in_both_schemes(page) == []
