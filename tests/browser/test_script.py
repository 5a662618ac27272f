"""The script: brought in, written on beside the drawings, found in, saved."""

import re
from pathlib import Path

from playwright.sync_api import expect

from tests.browser.accessibility import violations_in_both_schemes
from tests.browser.script import Script


def test_a_script_becomes_pages_to_draw_on_and_is_written_on(arrive, server):
    script = Script(server)
    board = script.send("POST", "/boards", {"title": "Neap"})["id"]
    page = arrive("wim").page
    page.goto(f"{server}/boards/{board}/script")
    expect(page.get_by_role("heading", name="No page yet")).to_be_visible()
    page.get_by_role("button", name="Bring in a script").click()
    dialog = page.get_by_role("dialog", name="Bring in a script")
    dialog.get_by_label("Or written here").fill("Page 1\nPanel 1\nRain.\nPIM: Mind the edge!\nPage 1\nPanel 1\nTwice.")
    dialog.get_by_role("button", name="Look at it").click()
    expect(dialog.get_by_text("Page 1 begins on line 1 already.")).to_be_visible()
    expect(dialog.get_by_role("button", name="Mend the script first")).to_be_disabled()
    dialog.get_by_label("Or written here").fill("Page 1\nPanel 1\nRain.\nPIM: Mind the edge!\nPages 2-3\nThe river.")
    dialog.get_by_role("button", name="Look at it").click()
    expect(dialog.get_by_text("2 pages in the script.")).to_be_visible()
    assert violations_in_both_schemes(page) == []
    # Another text than the one that was looked at is not taken over.
    area = dialog.get_by_label("Or written here")
    area.press("End")
    area.press_sequentially(" ")
    expect(dialog.get_by_role("button", name="Take it over")).to_have_count(0)
    area.press("Backspace")
    dialog.get_by_role("button", name="Look at it").click()
    dialog.get_by_role("button", name="Take it over").click()
    expect(page.locator("#pages h2 a")).to_have_text(["Page 1", "Page 2-3"])
    expect(page.locator("#sum")).to_have_text("2 pages, 1 panel, 3 words said")

    page.get_by_role("button", name="One more panel on page 1").click()
    page.get_by_label("What happens").fill("The edge.")
    page.get_by_label("What is said").fill("ODDA (far off): Too late.")
    # Somebody else writes there meanwhile: both are seen, and one's own is kept the second time.
    [rain, edge] = script.send("GET", f"/boards/{board}/panels")["results"]
    script.send("PATCH", f"/panels/{edge['id']}", {"happens": "A heron."}, version=edge["version"])
    page.get_by_role("button", name="Keep it", exact=True).click()
    expect(page.get_by_text("Somebody wrote here meanwhile.")).to_be_visible()
    expect(page.get_by_text("A heron.")).to_be_visible()
    page.keyboard.press("Control+Enter")
    panels = page.locator(".script-panels li")
    expect(panels).to_have_text([re.compile("Panel 1.*Rain.*PIM.*Mind the edge!"), re.compile("Panel 2.*The edge.*ODDA.*Too late")])
    # On it goes with the next part, which is page 2-3.
    river = page.get_by_label("What happens")
    river.fill("The river, and a heron.")
    page.keyboard.press("Escape")
    expect(page.get_by_text("The river.", exact=True)).to_be_visible()
    page.get_by_role("button", name="Write on", exact=True).click()
    expect(river).to_have_value("The river, and a heron.")
    # While it is being kept nothing can be typed into it: that would be lost.
    on_their_way = []
    page.route("**/api/v1/pages/*", lambda route: on_their_way.append(route))
    page.get_by_role("button", name="Keep it", exact=True).click()
    expect(river).not_to_be_editable()
    river.press_sequentially(" And")
    [route] = on_their_way
    route.continue_()
    page.unroute("**/api/v1/pages/*")
    expect(page.get_by_text("The river, and a heron.", exact=True)).to_be_visible()

    page.get_by_label("Find words").fill("HERON")
    expect(page.locator("#pages h2 a")).to_have_text(["Page 2-3"])
    expect(page.locator("mark")).to_have_text(["heron"])
    page.get_by_label("Find words").fill("")
    page.get_by_label("Who speaks").select_option("ODDA")
    expect(panels).to_have_text([re.compile("Panel 2.*Too late")])
    page.get_by_label("Who speaks").select_option("")
    page.get_by_role("button", name="Take panel 1 of page 1 out").click()
    asked = page.get_by_role("dialog", name="Take panel 1 out?")
    expect(asked.get_by_text("Its words go with it: “Rain. PIM: Mind the edge!”")).to_be_visible()
    asked.get_by_role("button", name="Take it out").click()
    expect(panels).to_have_text([re.compile("Panel 1.*The edge")])
    assert violations_in_both_schemes(page) == []
    with page.expect_download() as saving:
        page.get_by_role("link", name="Save as text").click()
    assert Path(saving.value.path()).read_text() == (
        "Neap\n\nPAGE 1\n\nPANEL 1\nThe edge.\n\nODDA (far off): Too late.\n\nPAGES 2-3\nThe river, and a heron.\n")
