"""Somebody new comes to a board by a link: made by its editor, taken up without an account; and changes name and password then."""

import re

from playwright.sync_api import Page, expect

from tests.browser.accessibility import violations_in_both_schemes
from tests.browser.script import Script

PASSWORD, NEW_PASSWORD = "a-long-oar-in-the-reeds", "eleven-herons-on-a-weir"


def test_somebody_new_comes_by_a_link(arrive):
    editor, newcomer = arrive("oriel"), arrive(width=390, height=844)
    editor.wall()
    editor.page.get_by_role("button", name="People").click()
    dialog = editor.page.get_by_role("dialog")
    dialog.get_by_role("group", name="Roles by the link").get_by_label("reader").check()
    dialog.get_by_role("button", name="Make the link").click()
    expect(dialog.get_by_text("artist, reader, 1 more time")).to_be_visible()
    assert violations_in_both_schemes(editor.page) == []

    page = newcomer.page
    link = dialog.locator(".link-out").inner_text()
    page.goto(link)
    expect(page.get_by_role("heading", name="Join “High Water at Sallow Mill”")).to_be_visible()
    expect(page.get_by_text("You get a seat on its board: artist, reader.")).to_be_visible()
    assert violations_in_both_schemes(page) == []
    page.get_by_label("You sign in as").fill("fenwick")
    expect(page.get_by_label("Password")).to_have_accessible_description(re.compile("8 characters"))
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_label("Name").fill("Fenwick Oar")
    page.get_by_role("button", name="Join").click()
    page.wait_for_url("**/boards/1")
    expect(page.get_by_role("heading", name="High Water at Sallow Mill")).to_be_visible()
    page.get_by_role("link", name=re.compile("^Fenwick Oar.*your account")).click()
    change_name_and_password(page)

    editor.wall()
    editor.page.get_by_role("button", name="People").click()
    expect(dialog.get_by_text("Fen of the Reeds")).to_be_visible()
    expect(dialog.locator(".link-out")).to_have_count(0)
    dialog.get_by_role("button", name="Remove Fen of the Reeds").click()
    expect(dialog.get_by_text("Fen of the Reeds")).to_have_count(0)


def test_a_seat_is_given_up(arrive, server):
    board = Script(server).send("POST", "/boards", {"title": "Slack water"})["id"]
    Script(server).send("POST", f"/boards/{board}/members", {"username": "tace", "roles": ["reader"]})
    page = arrive("tace").page
    page.goto(f"{server}/boards/{board}")
    page.get_by_role("button", name="People").click()
    page.get_by_role("button", name="Give up my seat").click()
    page.get_by_role("button", name="Give it up").click()
    page.wait_for_url("**/boards")
    expect(page.get_by_role("link", name="High Water at Sallow Mill")).to_be_visible()
    expect(page.get_by_role("link", name="Slack water")).to_have_count(0)


def test_a_class_is_joined_by_its_link(arrive, server):
    """By somebody new and by somebody signed in."""
    teacher = Script(server, "oriel")
    number = teacher.send("POST", "/classes", {"title": "Evening class", "ends_on": "2099-01-31"})["id"]
    teacher.send("POST", f"/classes/{number}/invitations", {"uses": 2})
    (row,) = teacher.send("GET", f"/classes/{number}/invitations")["results"]

    page = arrive().page
    page.goto(server + row["link"])
    expect(page.get_by_role("heading", name="Join “Evening class”")).to_be_visible()
    page.get_by_label("You sign in as").fill("sculler")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("textbox", name="Alias").fill("Coot")
    assert violations_in_both_schemes(page) == []
    page.get_by_role("button", name="Join").click()
    page.wait_for_url(f"**/classes/{number}")
    expect(page.get_by_role("heading", name="Evening class")).to_be_visible()

    page = arrive("tace").page
    page.goto(server + row["link"])
    expect(page.get_by_label("Password")).to_have_count(0)
    page.get_by_role("textbox", name="Alias").fill("Grebe")
    page.get_by_role("button", name="Join").click()
    page.wait_for_url(f"**/classes/{number}")
    expect(page.get_by_role("heading", name="Evening class")).to_be_visible()
    aliases = {one["name"] for one in teacher.send("GET", f"/classes/{number}/enrolments")["results"]}
    assert {"Coot", "Grebe"} <= aliases


def test_a_link_for_one_person_says_who_they_are(arrive, server):
    teacher = Script(server, "oriel")
    number = teacher.send("POST", "/classes", {"title": "Morning class", "ends_on": "2099-01-31"})["id"]
    teacher.send("POST", f"/classes/{number}/roster-imports", {"csv": "username,alias,minor\nwader,Little Stint,yes\n"})
    (row,) = teacher.send("GET", f"/classes/{number}/invitations")["results"]
    host = arrive("oriel").page
    host.goto(f"{server}/classes/{number}")
    host.get_by_role("button", name="Roster").click()
    expect(host.get_by_role("dialog")).to_contain_text("Little Stint invited, not here yet")

    page = arrive().page
    page.goto(server + row["link"])
    expect(page.get_by_text("You sign in as wader. Others in the class read you as Little Stint.")).to_be_visible()
    expect(page.locator("#join input:visible")).to_have_count(1)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Join").click()
    page.wait_for_url(f"**/classes/{number}")
    expect(page.get_by_role("heading", name="Morning class")).to_be_visible()


def change_name_and_password(page: Page) -> None:
    page.get_by_label("Name", exact=True).fill("Fen of the Reeds")
    page.get_by_role("button", name="Keep this name").click()
    expect(page.get_by_text("Others read it so")).to_be_visible()
    page.get_by_label("Password until now").fill(PASSWORD)
    page.get_by_label("New password", exact=True).fill(NEW_PASSWORD)
    again = page.get_by_label("New password once more")
    again.fill(PASSWORD)
    page.get_by_role("button", name="Change it").click()
    assert again.evaluate("(field) => field.validationMessage") == "The two are not the same."
    again.fill(NEW_PASSWORD)
    page.get_by_role("button", name="Change it").click()
    expect(page.get_by_text("This window stays signed in.")).to_be_visible()
    page.reload()
    expect(page.get_by_role("link", name=re.compile("^Fen of the Reeds.*your account"))).to_be_visible()
