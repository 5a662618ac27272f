"""What holds for every dialog: what is said while it is open lies in it."""

from playwright.sync_api import expect

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
    dialog.locator(".dialog-head").get_by_role("button", name="Close").click()
    visitor.page.locator("dialog").wait_for(state="detached")
    expect(visitor.page.locator("body > #slips .slip")).to_have_count(0)
    assert all("40" in fault for fault in visitor.faults)  # the browser's own word of each refusal
    visitor.faults.clear()
