"""An artist takes back a page to draw on: seen before it is made, and saved as files."""

import re
import zipfile
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from playwright.sync_api import expect

from tests.browser.accessibility import violations_in_both_schemes


def open_underlay(arrive, bent_pages, key="n", **options):
    """Of the first panel; by "p" of the last."""
    visitor = arrive("wim", **options)
    visitor.desk_of(bent_pages[1])
    visitor.page.keyboard.press(key)
    visitor.page.get_by_role("button", name="Underlay").click()
    visitor.page.wait_for_selector("dialog[open]")
    return visitor


def saved(page, name: str) -> Path:
    with page.expect_download() as download:
        page.get_by_role("link", name=name).click()
    assert re.fullmatch(r"page-21-panel-\d-underlay\.(ora|svg|png)", download.value.suggested_filename)
    return Path(download.value.path())


def test_a_door_on_the_floor_is_seen_at_once_and_lies_in_the_files(arrive, bent_pages):
    page = open_underlay(arrive, bent_pages).page
    assert page.locator(".underlay-lines .floor").count() == 1
    page.get_by_label("Eye over the floor, m").fill("1.6")
    page.get_by_role("button", name="Stand it there").click()
    expect(page.locator(".underlay-lines .guide")).to_have_count(1)
    page.get_by_role("button", name="Make the files").click()
    # They come below all that is chosen, and are seen.
    expect(page.get_by_role("link", name="SVG")).to_be_in_viewport()
    archive = zipfile.ZipFile(saved(page, "OpenRaster"))
    assert archive.read("mimetype") == b"image/openraster"
    drawing = ET.parse(saved(page, "SVG"))
    seen, in_file = page.locator(".underlay-lines .guide").get_attribute("d"), drawing.find(".//*[@class='box']").get("d")
    assert numbers_in(in_file) == pytest.approx(numbers_in(seen), abs=0.1)


def numbers_in(path: str) -> list[float]:
    return [float(v) for v in re.findall(r"-?[\d.]+", path)]


def test_a_tap_on_the_floor_stands_a_thing_there_and_it_can_be_removed(arrive, bent_pages):
    page = open_underlay(arrive, bent_pages).page
    page.get_by_label("Eye over the floor, m").fill("1.6")
    box = page.locator(".underlay-preview").bounding_box()
    page.mouse.click(box["x"] + box["width"] * 0.5, box["y"] + box["height"] * 0.95)
    expect(page.locator(".underlay-lines .guide")).to_have_count(1)
    page.get_by_role("button", name="Remove door 1").click()
    expect(page.locator(".underlay-lines .guide")).to_have_count(0)


def test_without_an_eye_height_it_says_why_nothing_stands(arrive, bent_pages):
    page = open_underlay(arrive, bent_pages, key="p").page
    page.get_by_role("button", name="Stand it there").click()
    expect(page.get_by_text("How high the viewer's eye is has to be known")).to_be_visible()


def test_where_no_lens_is_known_it_says_how_deep_things_are_drawn(arrive, bent_pages):
    """Whether a panel shows its lens hangs on what is measured: asked of the form itself."""
    page = open_underlay(arrive, bent_pages).page
    page.evaluate("""async () => {
        const { underlayThings } = await import("/static/js/screens/underlay_things.js");
        document.querySelector("dialog form").replaceWith(underlayThings([0, 0, 1, 1], () => [], true).element);
    }""")
    expect(page.get_by_label("Depth, m")).to_have_accessible_description(re.compile("as seen under 60° across"))


def test_the_dialog_is_accessible_by_keyboard_and_reader(arrive, bent_pages):
    page = open_underlay(arrive, bent_pages).page
    page.get_by_role("button", name="Stand it there").press("Enter")
    assert violations_in_both_schemes(page) == []


def test_the_dialog_fits_a_small_screen(arrive, bent_pages):
    page = open_underlay(arrive, bent_pages, width=320, height=640).page
    assert page.evaluate("document.querySelector('dialog').scrollWidth") <= 320
