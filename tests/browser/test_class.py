"""A student hands in, writes about a classmate's work and reads what was said of theirs; the instructor's table by keys."""

import pytest
from playwright.sync_api import expect

from tests.browser.accessibility import violations, violations_in_both_schemes
from tests.browser.script import Script

MERROW, OTHERS = "merrow", ("brindle", "sedge")
WORDS = [
    {"kind": "works", "body": "The door is heavy; I hear it."},
    {"kind": "change", "body": "The lamp hangs in front of the face.", "why": "I look at it first.", "how": "Hang it higher.",
     "page": 1},
]


@pytest.fixture(scope="module")
def instructor(server) -> Script:
    return Script(server, MERROW)


@pytest.fixture(scope="module")
def door(instructor) -> int:
    """The assignment that is at work."""
    (one,) = instructor.send("GET", "/classes")["results"]
    assignments = instructor.send("GET", f"/classes/{one['id']}/assignments")["results"]
    return next(task["id"] for task in assignments if task["title"] == "A door opens")


def test_a_students_main_job(arrive, server, instructor, door):
    visitor = arrive("teasel")
    page = visitor.page
    visitor.go("/classes")
    page.get_by_role("link", name="Saturday class").click()
    task = page.locator(".set-list > li", has_text="A door opens")
    expect(task).to_contain_text("thumbnailuntil")
    task.get_by_role("link", name="A door opens").click()
    page.get_by_role("button", name="Hand in the thumbnails").click()
    page.wait_for_url("**/hand-ins/*")
    expect(page.get_by_text("In time.")).to_be_visible()
    assert violations(page) == []

    opened = instructor.send("POST", f"/assignments/{door}/critique-rounds",
                             {"stage": "thumbnail", "each_reads": 2, "due_at": "2030-01-01T18:00:00Z"})
    page.get_by_role("link", name="Back to the assignment").click()
    page.get_by_role("link", name="Work 1").click()
    page.get_by_role("textbox", name="What you would keep").fill("The light falls from the door.")
    page.get_by_role("textbox", name="What you see there").fill("The stairs end in the air.")
    page.get_by_role("textbox", name="Why").fill("I cannot tell how she came down.")
    page.get_by_role("textbox", name="How").fill("Carry the last step on to the floor.")
    place_by_keys(page)
    assert violations_in_both_schemes(page) == []
    page.get_by_role("button", name="Send it").click()
    expect(page.get_by_role("button", name="Take it back to change it")).to_be_visible()

    send_the_others(server, door)
    instructor.send("PUT", f"/critique-rounds/{opened['id']}/delivery")
    visitor.go(f"/assignments/{door}")
    expect(page.get_by_text("The lamp hangs in front of the face.").first).to_be_visible()
    expect(page.get_by_text("From a classmate").first).to_be_visible()
    assert violations(page) == []
    page.get_by_role("link", name="Saturday class").click()
    expect(task).to_contain_text("thumbnailhanded in")
    assert violations(page) == []


def place_by_keys(page) -> None:
    """The second point's spot, without a mouse; and the form says so, also while it is asked for."""
    page.get_by_role("button", name="Show where").nth(1).press("Enter")
    expect(page.get_by_text("Tap the spot on the page.")).to_be_visible()
    page.get_by_role("button", name="Leave it", exact=True).press("Enter")
    expect(page.get_by_text("Tap the spot on the page.")).to_be_hidden()
    page.get_by_role("button", name="Show where").nth(1).press("Enter")
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("Enter")
    expect(page.get_by_text("a spot on page 1")).to_be_visible()
    expect(page.get_by_role("button", name="Send it")).to_be_enabled()


def send_the_others(server: str, door: int) -> None:
    for name in OTHERS:
        student = Script(server, name)
        for critique in student.send("GET", f"/assignments/{door}/critiques")["results"]:
            if critique["side"] == "writes":
                student.send("PUT", f"/critiques/{critique['id']}/points", {"points": WORDS})
                student.send("PUT", f"/critiques/{critique['id']}/sending")


def test_the_table_is_sorted_and_walked_by_keys(arrive, instructor, door):
    visitor = arrive(MERROW)
    page = visitor.page
    visitor.go("/classes")
    page.get_by_role("link", name="Saturday class").click()
    page.wait_for_selector(".ledger tbody tr")
    assert violations_in_both_schemes(page) == []
    head = page.get_by_role("columnheader", name="Findings")
    head.get_by_role("button").focus()
    page.keyboard.press("Enter")
    assert head.get_attribute("aria-sort") == "descending"
    column = page.locator(".ledger thead th").all_inner_texts().index(head.inner_text()) + 1
    counts = [int(text.split()[0]) for text in page.locator(f".ledger tbody tr > :nth-child({column})").all_inner_texts()]
    assert counts == sorted(counts, reverse=True) and counts[0] > counts[-1]
    page.locator(".ledger td:has(a):has(button)").first.focus()  # a receipt, and more time
    for key in ("Enter", "ArrowRight", "Enter"):
        page.keyboard.press(key)
    expect(page.get_by_role("dialog")).to_contain_text("more time")
    page.keyboard.press("Escape")
    page.keyboard.press("Escape")
    save_marks_by_keys(page)
    head.get_by_role("button").focus()
    first = page.locator(".ledger tbody th").first.inner_text().split()[0]
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Home")
    for key in ("ArrowDown", "ArrowUp", "Enter"):
        page.keyboard.press(key)
    page.wait_for_url("**/progress")
    expect(page.get_by_role("heading", name=first)).to_be_visible()
    page.wait_for_selector('#progress[aria-busy="false"]')
    assert violations_in_both_schemes(page) == []


def save_marks_by_keys(page) -> None:
    """The table is drawn anew after it, and the same cell is at hand."""
    cell = page.locator('.ledger [data-key^="criterion-"]').last
    key = cell.get_attribute("data-key")
    cell.focus()
    page.locator(".ledger").evaluate("(table) => table.classList.add('before')")
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Save", exact=True).press("Enter")
    page.wait_for_selector(".ledger:not(.before)")
    expect(page.locator(f'[data-key="{key}"]')).to_be_focused()
    assert page.locator('.ledger [tabindex="0"]').count() == 1


def test_dialogs_of_the_class(arrive):
    visitor = arrive(MERROW, width=390)
    visitor.go("/classes")
    visitor.page.get_by_role("link", name="Saturday class").click()
    for button in ("New assignment", "Roster", "Links"):
        visitor.page.get_by_role("button", name=button).click()
        visitor.page.wait_for_selector("dialog[open] .dialog-body > *")
        assert violations(visitor.page) == []
        dialog = visitor.page.locator("dialog[open]")
        assert dialog.evaluate("({ scrollWidth, clientWidth }) => scrollWidth - clientWidth") == 0
        visitor.page.get_by_role("button", name="Close").click()
