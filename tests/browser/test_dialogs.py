"""What holds for every dialog: what is said while it is open lies in it, and what was typed is not lost without a word."""

from playwright.sync_api import expect

from tests.browser.script import Script
from tests.browser.test_correct_panels import is_left_only_when_asked
from tests.browser.test_screens import shoot


def open_new_page(visitor):
    """A page whose number is taken already: refused as it stands."""
    visitor.wall()
    visitor.page.get_by_role("button", name="Add a page").click()
    dialog = visitor.page.get_by_role("dialog", name="Add a page")
    dialog.get_by_label("Number", exact=True).fill("1")
    return dialog


def refuse(dialog):
    dialog.get_by_role("button", name="Add it").click()
    expect(dialog.locator(".slip.fault")).to_have_count(1)


def test_what_is_refused_is_read_and_closed_in_the_dialog(arrive, screens):
    visitor = arrive("oriel")
    dialog = open_new_page(visitor)
    refuse(dialog)
    shoot(visitor.page, screens, "dialog-refused")
    refuse(dialog)
    dialog.locator(".slip.fault").get_by_role("button", name="Close").click()
    expect(dialog.locator(".slip.fault")).to_have_count(0)
    refuse(dialog)
    for _ in range(2):
        dialog.locator(".dialog-head").get_by_role("button", name="Close").click()
    visitor.page.locator("dialog").wait_for(state="detached")
    expect(visitor.page.locator("body > #slips .slip")).to_have_count(0)
    assert all("40" in fault for fault in visitor.faults)  # the browser's own word of each refusal
    visitor.faults.clear()


def test_what_was_typed_is_let_go_only_when_it_is_asked_twice(arrive, screens):
    visitor = arrive("oriel")
    dialog, keyboard = open_new_page(visitor), visitor.page.keyboard
    asked = dialog.get_by_text("What you typed here is not kept. Close once more to leave it.")
    assert is_left_only_when_asked(visitor.page)
    keyboard.press("Escape")
    expect(asked).to_be_visible()
    shoot(visitor.page, screens, "dialog-asked")
    dialog.get_by_label("What happens on it").fill("Rain.")
    expect(asked).to_have_count(0)
    dialog.locator(".dialog-head").get_by_role("button", name="Close").dblclick()
    expect(asked).to_be_visible()
    refuse(dialog)
    # What was refused was not kept either.
    dialog.locator(".slip.fault").get_by_role("button", name="Close").click()
    keyboard.press("Escape")
    expect(asked).to_be_visible()
    assert is_left_only_when_asked(visitor.page)
    keyboard.press("Escape")
    visitor.page.locator("dialog").wait_for(state="detached")
    assert not is_left_only_when_asked(visitor.page)
    visitor.faults.clear()


def test_words_that_two_write_at_once_are_both_seen(arrive, server, screens):
    script = Script(server)
    number = script.add_page(73)
    visitor = arrive("wim")
    visitor.go(f"/pages/{number}")
    page = visitor.page
    page.locator('[data-key="write-page"]').click()
    dialog = page.get_by_role("dialog", name="What happens on this page")
    happens, said = dialog.get_by_label("What happens"), dialog.get_by_label("What is said")
    keep = dialog.get_by_role("button", name="Keep it")
    happens.fill("Rain.")
    row = script.send("GET", f"/pages/{number}")
    script.send("PATCH", f"/pages/{number}", {"happens": "A heron.", "said": "ODDA: Pull."}, version=row["version"])
    # Read here meanwhile: it is still told.
    expect(page.locator("#beside .words").first).to_have_text("A heron.")
    keep.click()
    expect(dialog.locator(".theirs")).to_have_text("What happensA heron.")
    expect(said).to_have_value("ODDA: Pull.")
    expect(happens).to_have_value("Rain.")
    shoot(page, screens, "dialog-words-of-two")
    keep.click()
    dialog.wait_for(state="detached")
    row = script.send("GET", f"/pages/{number}")
    assert (row["happens"], row["said"]) == ("Rain.", "ODDA: Pull.")
    visitor.faults.clear()


def test_what_was_sent_or_never_typed_is_left_at_once(arrive):
    visitor = arrive("wim")
    visitor.desk(6)
    page = visitor.page
    write = page.locator('[data-key="write-page"]')
    write.click()
    dialog = page.get_by_role("dialog", name="What happens on this page")
    happens = dialog.get_by_label("What happens")
    before = happens.input_value()
    assert min(box.bounding_box()["height"] for box in dialog.locator("textarea").all()) > 80
    page.keyboard.press("Escape")
    dialog.wait_for(state="detached")
    for words in (f"{before} And rain.", before):
        write.click()
        happens.fill(words)
        dialog.get_by_role("button", name="Keep it").click()
        dialog.wait_for(state="detached")
        # Written on again only when it was read again.
        expect(page.locator("#beside .words").first).to_have_text(words)
