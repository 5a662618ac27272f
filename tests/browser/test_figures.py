"""Figures are marked on the Desk by mouse, by touch and by keys; the cast stands on one ground line."""

import cv2
import numpy as np
from playwright.sync_api import Page, expect

from tests.browser.accessibility import violations_in_both_schemes
from tests.browser.script import Script
from tests.browser.test_screens import shoot
from tests.flow.conftest import TWO_TIERS, drawn_array

CROWN, SOLE = (0.3, 0.15), (0.3, 0.4)


def at(page: Page, x: float, y: float) -> tuple[float, float]:
    box = page.locator("#picture").bounding_box()
    return box["x"] + x * box["width"], box["y"] + y * box["height"]


def test_figures_are_marked_by_mouse_by_touch_and_by_keys(arrive, bent_pages, screens):
    visitor = arrive("wim")
    visitor.desk_of(bent_pages[0])
    page, revision = visitor.page, visitor.read(f"/pages/{bent_pages[0]}/revisions")[-1]["id"]

    def figures(seen_by: Page) -> list[dict]:
        expect(seen_by.locator(".is-being-kept")).to_have_count(0)
        return visitor.read(f"/revisions/{revision}/figures")

    visitor.more_tools()
    page.get_by_role("button", name="Mark figures").click()
    expect(page.get_by_role("button", name="P Pim")).to_be_visible()
    for point in (CROWN, SOLE):
        page.mouse.click(*at(page, *point))
    page.keyboard.press("p")
    expect(page.locator(".figure-name")).to_have_text(["Pim"])
    page.get_by_label("Posture").select_option("seated")
    page.locator("#view").focus()
    for keys in (["Escape", "Enter"], ["Shift+ArrowDown"] * 3, ["Enter", "o"]):
        for key in keys:
            page.keyboard.press(key)
    expect(page.locator(".figure-name")).to_have_text(["Pim", "Odda"])
    first, second = figures(page)
    assert first["character"] != second["character"]
    clicked = zip(first["marks"]["crown"] + first["marks"]["sole"], CROWN + SOLE, strict=True)
    assert max(abs(a - b) for a, b in clicked) < 0.003
    assert (first["pose"], second["pose"]) == ("seated", "standing")
    assert second["marks"]["sole"][1] - second["marks"]["crown"][1] > 0.1
    shoot(page, screens, "mark-figures-1440")
    assert violations_in_both_schemes(page) == []
    page.keyboard.press(".")
    expect(page.get_by_text("Close up: set the crown of Odda")).to_be_visible()
    shoot(page, screens, "mark-figures-close-up-1440")
    assert violations_in_both_schemes(page) == []
    page.keyboard.press("Enter")
    expect(page.get_by_text("And now the chin of Odda")).to_be_visible()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Set it here")).to_have_count(0)
    second = figures(page)[1]
    assert second["marks"]["crown"][1] < second["marks"]["chin"][1] < second["marks"]["sole"][1]
    assert max(second["doubts"]["crown"], second["doubts"]["chin"]) < second["doubts"]["sole"] / 2

    small = arrive("wim", width=390, height=844, has_touch=True)
    small.desk_of(bent_pages[0])
    small.page.get_by_role("button", name="More tools").tap()
    small.page.get_by_role("button", name="Mark figures").tap()
    expect(small.page.locator(".figure-name")).to_have_count(2)
    small.page.touchscreen.tap(*at(small.page, *SOLE))
    small.page.get_by_role("button", name="Head, close up").tap()
    small.page.touchscreen.tap(*at(small.page, first["marks"]["crown"][0], first["marks"]["crown"][1] + 0.01))
    small.page.get_by_role("button", name="Set it here").tap()  # a tap of a finger moves the cross and sets nothing yet
    expect(small.page.get_by_text("And now the chin of Pim")).to_be_visible()
    assert abs(figures(small.page)[0]["marks"]["crown"][1] - first["marks"]["crown"][1] - 0.01) < 0.001
    shoot(small.page, screens, "mark-figures-close-up-390")
    small.page.keyboard.press("Escape")
    small.page.get_by_role("button", name="Remove these marks").tap()
    expect(small.page.locator(".figure-name")).to_have_text(["Odda"])
    assert [one["id"] for one in figures(small.page)] == [second["id"]]
    shoot(small.page, screens, "mark-figures-390")
    assert violations_in_both_schemes(small.page) == []
    small.page.get_by_role("button", name="Done").tap()
    expect(small.page.locator(".figures-mark")).to_be_hidden()


def test_a_figure_drawn_again_is_asked_about_and_answered_by_one_key(arrive, bent_pages, screens):
    """Both panels of this page show one room; a figure among its boxes is drawn in either."""
    visitor = arrive("wim")
    visitor.desk_of(bent_pages[0])
    page, revision = visitor.page, visitor.read(f"/pages/{bent_pages[0]}/revisions")[-1]["id"]
    proposed = lambda: [one["state"] for one in visitor.read(f"/revisions/{revision}/figure-proposals")]  # noqa: E731
    visitor.more_tools()
    page.get_by_role("button", name="Mark figures").click()
    expect(page.get_by_role("button", name="H Hask")).to_be_visible()
    for point in ((0.25, 0.71), (0.25, 0.91)):
        page.mouse.click(*at(page, *point))
    page.keyboard.press("h")
    expect(page.locator(".figure-name").last).to_have_text("Hask")
    page.get_by_role("button", name="Done").click()
    page.get_by_role("button", name="Mark figures (1 proposed)").click()
    expect(page.locator(".proposal-name")).to_have_text("Hask?")
    shoot(page, screens, "figures-proposed-1440")
    assert violations_in_both_schemes(page) == []
    marked = page.locator(".figure-name").count()
    page.keyboard.press("Enter")
    expect(page.locator(".figure-name")).to_have_count(marked + 1)
    assert proposed() == ["confirmed"]
    page.keyboard.press(",")
    expect(page.locator(".proposal-name")).to_have_text("Hask?")
    expect(page.locator(".figure-name")).to_have_count(marked)
    page.keyboard.press("Delete")
    expect(page.locator(".proposal-name")).to_have_count(0)
    assert proposed() == ["refused"]
    page.reload()
    visitor.more_tools()
    expect(page.get_by_role("button", name="Mark figures", exact=True)).to_be_visible()


def test_the_cast_stands_on_one_ground_line(arrive, screens):
    visitor = arrive("wim")
    visitor.wall()
    told = [note["body"] for note in visitor.read("/boards/1/notes?source=measured")]
    assert all(any(words in body for body in told) for words in ("Corrin is drawn 1", "Pim drifts from 5.0 heads on page 1"))
    last = next(page["id"] for page in visitor.read("/boards/1/pages") if 8 in page["numbers"])
    assert visitor.read(f"/pages/{last}/revisions")[-1]["figures_proposed"] == 1
    page = visitor.page
    page.get_by_role("link", name="Line-up").click()
    drawing = page.get_by_role("img", name="From the smallest to the tallest: Bailiff 0.82 m, Pim 1.42 m, Hask 1.58 m, Odda 1.74 m")
    expect(drawing).to_be_visible()
    expect(page.locator(".sheet-figure")).to_have_count(5)
    assert page.locator(".head-tick").count() == 4 + 5 + 4 + 5
    page.get_by_role("button", name="Add a character").click()
    page.get_by_label("Name").fill("The heron")
    height = page.get_by_label("Height, m")
    height.fill("168")
    assert height.evaluate("input => input.validationMessage") == "Heights are in metres: 1.68."
    height.fill("1.1")
    assert height.evaluate("input => input.checkValidity()")
    assert violations_in_both_schemes(page) == []
    page.get_by_role("button", name="Add it").click()
    expect(page.locator(".cast-name")).to_have_text(["Bailiff", "The heron", "Pim", "Hask", "Odda", "Corrin"])
    shoot(page, screens, "line-up-1440")
    assert violations_in_both_schemes(page) == []
    # What is written at the topmost rule stands in the drawing; both are looked at in one moment.
    below = "of => [...of.querySelectorAll('.rule-height')].at(-1).getBoundingClientRect().top - of.getBoundingClientRect().top"
    assert page.locator(".line-up-drawing").evaluate(below) >= 0
    page.get_by_role("button", name="Model sheets of Pim").click()
    page.get_by_role("button", name="Mark Pim, model sheet, front").click()
    page.get_by_label("Landmark", exact=True).select_option("chin")
    page.locator(".sheet-marks").press("Enter")
    assert violations_in_both_schemes(page) == []
    page.get_by_role("button", name="Keep these landmarks").click()
    expect(page.locator("tr", has_text="Pim").locator("td").nth(2)).not_to_have_text("4.6")
    page.get_by_role("button", name="Model sheets of Pim").click()
    page.get_by_role("button", name="Remove Pim, model sheet, front").click()
    page.get_by_role("dialog", name="Remove Pim, model sheet?").get_by_role("button", name="Leave it").click()
    page.get_by_role("dialog", name="Model sheets of Pim").locator(".dialog-head").get_by_role("button").click()
    expect(page.locator("tr", has_text="Pim").locator("td").nth(2)).not_to_have_text("no sheet marked")
    page.get_by_role("button", name="Remove The heron").click()
    page.locator("dialog").get_by_role("button", name="Remove The heron").click()
    expect(page.locator(".cast-name")).to_have_count(5)
    small = arrive("tace", width=390, height=844)
    small.go("/boards/1/line-up")
    expect(small.page.locator(".cast-name")).to_have_count(5)
    expect(small.page.get_by_role("button", name="Add a character")).to_have_count(0)
    assert small.page.evaluate("document.documentElement.scrollWidth") <= 390
    shoot(small.page, screens, "line-up-390")
    assert violations_in_both_schemes(small.page) == []


def test_a_first_model_sheet_is_listed_and_marked_where_it_was_added(arrive, server, screens, tmp_path):
    script = Script(server)
    board = script.send("POST", "/boards", {"title": "Ebb"})["id"]
    script.send("POST", f"/boards/{board}/characters", {"name": "Eel"})
    cv2.imwrite(str(tmp_path / "eel.png"), np.full((400, 300), 255, np.uint8))
    page = arrive("wim").page
    page.goto(f"{server}/boards/{board}/line-up")
    page.get_by_role("button", name="Model sheets of Eel").click()
    dialog = page.get_by_role("dialog")
    expect(dialog.get_by_text("No sheet yet.")).to_be_visible()
    dialog.get_by_label("Picture").set_input_files(tmp_path / "eel.png")
    dialog.get_by_role("button", name="Add it").click()
    expect(dialog.locator(".sheet-marks")).to_be_visible()
    expect(dialog.get_by_text("No sheet yet.")).to_have_count(0)
    expect(dialog.get_by_role("button", name="Mark Eel, front")).to_be_visible()
    assert dialog.get_by_role("button", name="Take it off").bounding_box()["height"] < 50
    shoot(page, screens, "model-sheet-1440")
    picture = dialog.locator(".sheet-marks image").bounding_box()
    page.mouse.click(picture["x"] + 0.1 * picture["width"], picture["y"] + 0.1 * picture["height"])
    # Where it was clicked, though the frame is wider than the picture.
    crown = dialog.locator(".sheet-marks .figure-end").bounding_box()
    assert abs(crown["x"] + crown["width"] / 2 - picture["x"] - 0.1 * picture["width"]) < 3


def test_lost_marks_wait_beside_their_panel_and_are_made_again_or_removed(arrive, server):
    script = Script(server)
    board = script.send("POST", "/boards", {"title": "Slack tide"})["id"]
    drawn = script.send("POST", f"/boards/{board}/pages", {"number": 1})["id"]
    cast = [script.send("POST", f"/boards/{board}/characters", {"name": name, "height_m": 1.7})["id"] for name in ("Ines", "Maro")]
    first = script.upload(drawn, drawn_array(TWO_TIERS, seed=3))
    # Of one height on one ground, and Maro is drawn half as tall again.
    panel = script.send("GET", f"/panels/{first['panels'][0]['id']}")
    script.send("PUT", f"/panels/{panel['id']}/perspective", {"eye_level": [[0.1, 0.2], [0.9, 0.2]]}, version=panel["version"])
    for who, (x, crown, sole) in zip(cast, ((0.3, 0.2, 0.44), (0.6, 0.1, 0.4)), strict=True):
        marks = {"crown": [x, crown], "sole": [x, sole]}
        script.send("POST", f"/revisions/{first['id']}/figures", {"character": who, "marks": marks})
    script.wait_for(lambda: script.send("GET", f"/pages/{drawn}/notes")["results"])
    # Of another page: nothing in common, and the upper panel stands where it stood.
    after = script.upload(drawn, drawn_array([TWO_TIERS[0], (0.2, 0.6, 0.7, 0.9)], size=(700, 800), seed=9))
    script.wait_for(lambda: len(script.send("GET", f"/revisions/{after['id']}")["figures_lost"]) == 2)
    page = arrive("wim").page
    page.goto(f"{server}/pages/{drawn}?panel={after['panels'][0]['id']}")
    page.locator(".note-head", has_text="Height off").click()
    expect(page.locator(".note-head", has_text="before")).to_contain_text("not measured since")
    expect(page.locator(".note-open .hint")).to_contain_text("Not measured on the page as it stands.")
    expect(page.get_by_role("button", name="Figures to mark again: 2")).to_be_visible()
    page.get_by_role("button", name="Mark it again").click()
    page.get_by_role("button", name="Remove Maro, marked earlier").click()
    expect(page.get_by_role("button", name="Remove Maro, marked earlier")).to_have_count(0)
    page.locator("#view").focus()
    for point in (CROWN, SOLE):
        page.mouse.click(*at(page, *point))
    page.keyboard.press("i")
    expect(page.locator(".figure-name")).to_have_text(["Ines"])
    expect(page.get_by_role("button", name="Remove Ines, marked earlier")).to_have_count(0)
    expect(page.locator(".is-being-kept")).to_have_count(0)
    (figure,) = script.send("GET", f"/revisions/{after['id']}/figures")["results"]
    assert (figure["placed_by"], figure["character"]) == ("hand", cast[0])
