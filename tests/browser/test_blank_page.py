"""A page on the Desk that nothing is drawn on yet, or whose next picture waits for its stage."""

from playwright.sync_api import expect

from tests.browser.script import Script
from tests.browser.test_screens import shoot
from tests.flow.conftest import TWO_TIERS, drawn_array


def test_the_first_picture_is_uploaded_from_the_blank_sheet(arrive, server, screens):
    script = Script(server)
    board = script.send("POST", "/boards", {"title": "Slack water"})["id"]
    blank = script.send("POST", f"/boards/{board}/pages", {"number": 1})["id"]
    visitor = arrive("wim")
    visitor.go(f"/pages/{blank}")
    page = visitor.page
    upload = page.locator("#sheet").get_by_role("button", name="Upload the first picture")
    expect(upload).to_be_in_viewport()
    # There is nothing to zoom, and nothing goes wrong.
    page.locator("#view").hover()
    page.mouse.wheel(0, 200)
    shoot(page, screens, "desk-blank")
    upload.click()
    expect(page.get_by_role("dialog", name="A picture for page 1")).to_be_visible()


def test_a_panel_that_has_words_is_taken_out_after_it_was_asked(arrive, server):
    script = Script(server)
    board = script.send("POST", "/boards", {"title": "Spring tide"})["id"]
    blank = script.send("POST", f"/boards/{board}/pages", {"number": 1})["id"]
    for happens in ("A heron.", ""):
        script.send("POST", f"/pages/{blank}/panels", {"happens": happens})
    page = arrive("wim").page
    page.goto(f"{server}/pages/{blank}")
    expect(page.locator(".panel-words li").first).to_have_text("Panel 1A heron.WriteTake out")
    page.get_by_role("button", name="Take panel 2 out").click()
    expect(page.get_by_role("button", name="Take panel 2 out")).to_have_count(0)
    page.get_by_role("button", name="Take panel 1 out").click()
    asked = page.get_by_role("dialog", name="Take panel 1 out?")
    expect(asked.get_by_text("Its words go with it: “A heron.”")).to_be_visible()
    asked.get_by_role("button", name="Leave it").click()
    expect(page.get_by_text("A heron.", exact=True)).to_be_visible()
    page.get_by_role("button", name="Take panel 1 out").click()
    asked.get_by_role("button", name="Take it out").click()
    expect(page.get_by_text("A heron.")).to_have_count(0)


def test_a_picture_that_waits_for_its_stage_says_so_in_place_of_no_note(arrive, server):
    script = Script(server)
    board = script.send("POST", "/boards", {"title": "Neap tide"})["id"]
    drawn = script.send("POST", f"/boards/{board}/pages", {"number": 1})["id"]
    for stage in ("thumbnail", "pencil"):
        script.upload(drawn, drawn_array(TWO_TIERS, seed=3), stage)
    page = arrive("wim").page
    page.goto(f"{server}/pages/{drawn}")
    expect(page.locator(".teach-note")).to_contain_text("No open note.")
    page.get_by_label("Revision shown").select_option(label="2, pencil")
    expect(page.locator(".teach-note")).to_have_text("Waits for its stage: what was found is pinned when it comes.")
