"""References: pictures added, called otherwise and removed; the camera of a still, as its lines show it and as its scene has it."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.accessibility import violations_in_both_schemes
from tests.browser.bent_room import two_rooms
from tests.browser.script import Script
from tests.pictures import png
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
        visitor.go("/boards/1/references")
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


def test_pictures_are_added_called_otherwise_and_removed(arrive, tmp_path):
    lantern, no_picture, eel_trap = (tmp_path / name for name in ("lantern.png", "list.png", "eel trap.png"))
    for shade, path in enumerate((lantern, eel_trap)):
        path.write_bytes(png(shade=40 + shade))
    no_picture.write_text("lantern, eel trap")
    visitor = arrive("oriel")
    page, card = visitor.page, visitor.page.locator(".reference")
    visitor.wall()
    page.get_by_role("link", name="References").click()
    page.get_by_role("button", name="Add pictures").click()
    picked = page.get_by_label("Pictures", exact=True)
    picked.set_input_files([lantern, no_picture, eel_trap])
    page.get_by_label("Kind", exact=True).last.select_option("prop")
    assert violations_in_both_schemes(page) == []
    page.get_by_role("button", name="Add", exact=True).click()
    expect(card.filter(has_text="lantern").locator("img")).to_be_visible()
    expect(card.filter(has_text="eel trap")).to_contain_text("prop")
    expect(page.locator("dialog .dialog-body").get_by_role("status")).to_contain_text("list.png: ")
    assert all("415" in fault for fault in visitor.faults)  # the browser's own word of the refusal
    visitor.faults.clear()
    # Those that have arrived are not sent once more with what is picked in its place.
    no_picture.write_bytes(png(shade=50))
    picked.set_input_files([lantern, no_picture, eel_trap])
    page.get_by_role("button", name="Add", exact=True).click()
    expect(page.get_by_role("dialog")).to_have_count(0)
    expect(card.filter(has_text="list")).to_have_count(1)
    expect(card.filter(has_text=re.compile("lantern|eel trap"))).to_have_count(2)
    page.get_by_role("button", name="Change eel trap").click()
    page.get_by_label("Title").fill("Eel pot")
    page.get_by_role("button", name="Keep it").click()
    for title in ("Eel pot", "lantern", "list"):
        page.get_by_role("button", name=f"Remove {title}").click()
        page.get_by_role("button", name="Remove it").click()
        expect(card.filter(has_text=title)).to_have_count(0)
    page.locator('.reference a[href*="?panel="]').first.click()
    page.wait_for_url("**/pages/*?panel=*")
    visitor.notes_stand()
    expect(page.locator(".beside h2").first).to_have_text(re.compile(r"Panel \d"))


def test_the_dialog_is_accessible(camera_of):
    page = camera_of()
    assert violations_in_both_schemes(page) == []
