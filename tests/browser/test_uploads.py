"""Many files at once: matched to pages by name and by looks, corrected, sent; a line that breaks after the file came through."""

import re
from pathlib import Path

import cv2
import numpy as np
import pytest
from playwright.sync_api import Page, expect

from tests.browser.accessibility import violations_in_both_schemes
from tests.browser.script import Script
from tests.browser.test_screens import capture
from tests.flow.conftest import THREE_PANELS, TWO_TIERS, drawn_array

# The first upload reaches the server, and its answer never comes back.
LOSE_ONE_ANSWER = """
  const open = XMLHttpRequest.prototype.open;
  let lost = false;
  XMLHttpRequest.prototype.open = function (method, url) {
    if (url.includes("/revisions")) this.addEventListener("load", (event) => {
      if (lost) return;
      lost = true;
      event.stopImmediatePropagation();
      this.dispatchEvent(new ProgressEvent("error"));
    });
    return open.apply(this, arguments);
  };
"""


@pytest.fixture(scope="module")
def new_board(server: str) -> tuple[Script, int, list[int]]:
    """A board with two pages that have their thumbnails."""
    script = Script(server)
    board = script.send("POST", "/boards", {"title": "Low water"})["id"]
    pages = [script.send("POST", f"/boards/{board}/pages", {"number": number})["id"] for number in (1, 2)]
    for page, frames in zip(pages, (TWO_TIERS, THREE_PANELS), strict=True):
        script.upload(page, drawn_array(frames, seed=page))
    return script, board, pages


def saved(folder: Path, name: str, frames, seed: int) -> Path:
    gray = drawn_array(frames, size=(900, 1275), seed=seed)
    cv2.imwrite(str(folder / name), np.maximum(gray, 90))
    return folder / name


def cut_off(file: Path) -> Path:
    """As a full disk leaves it: its header is whole."""
    file.write_bytes(file.read_bytes()[: file.stat().st_size // 2])
    return file


def test_a_sheet_is_cut_into_pages_as_corrected(arrive, new_board, tmp_path, screens):
    """Three thumbnails of several panels each are found as three pages; one is taken away, one gets a number by hand."""
    script, board, pages = new_board
    sheet = np.full((1000, 2100), 255, np.uint8)
    for place, frames in enumerate((TWO_TIERS, THREE_PANELS, TWO_TIERS)):
        sheet[75:925, 30 + 700 * place : 630 + 700 * place] = drawn_array(frames, seed=20 + place)
    cv2.imwrite(str(tmp_path / "sheet.png"), sheet)
    page = arrive("wim").page
    page.goto(f"{script.root.removesuffix('/api/v1')}/boards/{board}")
    page.wait_for_selector('#spreads[aria-busy="false"]')
    page.get_by_role("button", name="Cut a sheet").click()
    page.get_by_label("Sheet", exact=True).set_input_files(tmp_path / "sheet.png")
    page.get_by_role("button", name="Upload the sheet").click()
    page.get_by_text("3 thumbnails found.").wait_for()
    surface = page.get_by_role("application")
    for key in ("PageDown", "PageDown", "Delete"):
        surface.press(key)
    first, second = page.get_by_label("Part 1 is page"), page.get_by_label("Part 2 is page")
    first.fill("21")
    page.get_by_role("button", name="Choose part 2").click(delay=130)  # as a hand presses, the number still being typed
    expect(page.get_by_role("button", name="Choose part 2")).to_have_attribute("aria-pressed", "true")
    second.fill("21")
    page.get_by_text("part 1 has this page too").wait_for()
    second.fill("22")
    second.press("Tab")
    expect(page.get_by_role("button", name="Choose part 2")).to_be_focused()
    page.keyboard.press("Escape")
    page.get_by_text("What you typed here is not kept.").wait_for()
    capture(page, screens / "sheet-cut.png")
    assert violations_in_both_schemes(page) == []
    page.get_by_role("button", name="Cut 2 pages").click()
    page.get_by_text("2 thumbnails on the way to the Wall.").wait_for()
    made = {row["number"]: row["id"] for row in script.send("GET", f"/boards/{board}/pages")["results"]}
    cuts = script.send("GET", f"/boards/{board}/sheets")["results"][0]["cuts"]
    assert [cut["page"] for cut in cuts] == [made[21], made[22]]
    white = 0.06 * 528  # beside the panels, px
    assert cuts[0]["polygon"][0] == pytest.approx([(66 - white) / 2100, (117.5 - white) / 1000], abs=0.01)


def test_many_files_find_their_pages_and_arrive_once(arrive, new_board, tmp_path, screens):
    script, board, pages = new_board
    files = [saved(tmp_path, "tide_p01_pencil.png", TWO_TIERS, 7), saved(tmp_path, "scan.png", THREE_PANELS, pages[1]),
             saved(tmp_path, "tide_p03.png", TWO_TIERS, 9), saved(tmp_path, "tide_p01b.png", THREE_PANELS, 10),
             saved(tmp_path, "tide_p04-05.png", TWO_TIERS, 11), saved(tmp_path, "tide_p02_panel1.png", TWO_TIERS, 12),
             cut_off(saved(tmp_path, "tide_p06.png", TWO_TIERS, 13))]
    page = arrive("wim", apart=True).page
    page.add_init_script(LOSE_ONE_ANSWER)
    page.goto(f"{script.root.removesuffix('/api/v1')}/boards/{board}")
    page.wait_for_selector('#spreads[aria-busy="false"]')
    page.get_by_role("button", name="Upload pages").click()
    page.get_by_label("Add files").set_input_files(files)
    page.get_by_text("6 files, 3 new pages, 1 kept for a later stage, 1 left out.").wait_for()
    table = page.get_by_role("list", name="Files")
    assert table.locator(".upload-facts p:nth-child(2)").all_inner_texts() == [
        "Page 2, by its looks: a new revision.",
        "Page 1, by the number in its name: kept as a pencil until the page moves on from thumbnail.",
        "Page 1, by the number in its name: another try, beside the chosen A.",
        "Left out: its name says a panel. A try at one panel is uploaded on the Desk.", "A new page 3.", "A new spread 4-5.",
        "A new page 6."]
    page.get_by_label("Stage of scan.png").select_option("pencil")
    capture(page, screens / "upload-many.png")
    assert violations_in_both_schemes(page) == []
    lay_flat(page, screens)
    page.get_by_role("button", name="Upload 6 files").click()
    page.get_by_text("6 of 6 uploaded, 2 of them kept for a later stage, 1 of them could not be opened.").wait_for()
    expect(table.locator("li", has_text="tide_p06.png")).to_contain_text("It could not be opened: The file is cut off")
    photographed = script.send("GET", f"/pages/{pages[1]}/revisions")["results"][-1]
    assert photographed["photo"]["corners"][0] == pytest.approx([0.09, 0.08])
    made = {row["number"]: row["id"] for row in script.send("GET", f"/boards/{board}/pages")["results"]}
    revisions = {number: script.send("GET", f"/pages/{page_id}/revisions")["results"] for number, page_id in made.items()}
    kept = {number: sorted((row["stage"], row["file_name"], row["alternate"]) for row in its) for number, its in revisions.items()}
    assert {number: kept[number] for number in (1, 2, 3, 4)} == {
        1: [("pencil", "tide_p01_pencil.png", "A"), ("thumbnail", "room.png", "A"), ("thumbnail", "tide_p01b.png", "B")],
        2: [("pencil", "scan.png", "A"), ("thumbnail", "room.png", "A")], 3: [("thumbnail", "tide_p03.png", "A")],
        4: [("thumbnail", "tide_p04-05.png", "A")]}
    page.get_by_role("button", name="Close").first.click()
    page.get_by_role("link", name=re.compile("Page 3")).wait_for()
    expect(page.get_by_text("a pencil is kept for later")).to_have_count(2)
    page.get_by_text("The last upload, tide_p06.png, could not be opened: The file is cut off").wait_for()
    page.get_by_role("link", name=re.compile("Page 6")).click()
    page.get_by_role("button", name="Look at it").click()
    page.get_by_role("button", name="Withdraw").wait_for()
    expect(page.get_by_text("The last upload, tide_p06.png")).to_have_count(0)
    capture(page, screens / "upload-unopened.png")


def lay_flat(page: Page, screens: Path) -> None:
    """By keys alone: the first corner one step to the right."""
    page.get_by_role("button", name="Lay the photographed page scan.png flat").press("Enter")
    corner = page.get_by_role("button", name="Upper left corner")
    corner.wait_for()
    flat = page.get_by_role("img", name="The page laid flat")
    before = flat.evaluate("(canvas) => canvas.toDataURL()")
    corner.press("ArrowRight")
    assert corner.get_attribute("aria-label") == "Upper left corner, 9 % from the left, 8 % from the top"
    page.wait_for_function("([canvas, before]) => canvas.toDataURL() !== before", arg=[flat.element_handle(), before])
    capture(page, screens / "lay-flat.png")
    assert violations_in_both_schemes(page) == []
    page.get_by_role("button", name="Lay it flat").press("Enter")
    page.get_by_text("Laid flat by its four corners.").wait_for()


def test_a_try_at_one_panel_is_uploaded_and_chosen_on_the_desk(arrive, new_board, tmp_path, screens):
    """It is told which letter it has; beside it stands what the page shows, and one can go back to that."""
    script, _, pages = new_board
    visitor = arrive("wim")
    visitor.desk_of(pages[0])
    page = visitor.page
    second = next(row["id"] for row in script.send("GET", f"/pages/{pages[0]}/panels")["results"] if row["order"] == 2)
    page.locator(f'[data-key="strip-{second}"]').click()
    page.get_by_role("button", name="Another try at it").click()
    dialog = page.get_by_role("dialog")
    assert dialog.get_by_label("What it shows").locator("option:checked").inner_text() == "panel 2 alone"
    assert dialog.get_by_label("Alternate").input_value() == "B"
    dialog.get_by_label("Picture").set_input_files(saved(tmp_path, "other.png", TWO_TIERS, 30))
    dialog.get_by_role("button", name="Upload").click()
    page.get_by_text("other.png is uploaded as alternate B of panel 2.").wait_for()
    page.locator('[data-key="panel-alternates"]').click()
    tries = page.get_by_role("dialog").locator(".try")
    tries.nth(1).locator("img").wait_for()
    assert tries.locator("h3").all_inner_texts() == ["Alternate A, chosen", "Alternate B"]
    expect(tries.nth(0)).to_contain_text("As the page shows it now")
    capture(page, screens / "panel-tries.png")
    tries.nth(1).get_by_role("button", name="Choose B").click()
    page.get_by_text("Alternate B is chosen.").first.wait_for()
    page.locator('[data-key="panel-alternates"]').click()
    page.get_by_role("button", name="Choose A").click()
    page.get_by_text("Alternate A is chosen.").wait_for()
    page.locator('[data-key="panel-alternates"]').click()
    tries.nth(1).get_by_role("button", name="Show it on the Desk").click()
    expect(page.locator("#strip")).to_contain_text("A try at panel 2.")
    expect(page.get_by_label("Revision shown").locator("option:checked")).to_have_text(re.compile("thumbnail, panel 2, try B"))
    expect(page.locator('[data-key="compare"]')).to_have_count(0)
    panel = script.send("GET", f"/panels/{second}")
    assert (panel["chosen_alternate"], panel["alternates"]) == ("A", ["A", "B"])
