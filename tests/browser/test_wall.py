"""The Wall of a board of one's own: what is new, filters, the order of pages by keys and by dragging, and the comic read."""

import re

import pytest
from playwright.sync_api import Page, Route, expect

from tests.browser.accessibility import violations_in_both_schemes
from tests.browser.script import Script
from tests.browser.test_screens import capture
from tests.browser.windows import HAND_MS
from tests.flow.conftest import THREE_PANELS, TWO_TIERS, drawn_array
from tests.pictures import png


@pytest.fixture(scope="module")
def comic(server: str) -> tuple[int, dict[int, int]]:
    """Four pages, read from the right, two of them drawn; oriel edits them."""
    script = Script(server)
    board = script.send("POST", "/boards", {"title": "Ebb", "reading": "rtl"})["id"]
    script.send("POST", f"/boards/{board}/members", {"username": "oriel", "roles": ["editor"]})
    new = [{"number": number, "drawn_by": "wim"} for number in (1, 2, 3, 4)]
    pages = {one["number"]: script.send("POST", f"/boards/{board}/pages", one)["id"] for one in new}
    for number, frames in ((1, TWO_TIERS), (2, THREE_PANELS)):
        script.upload(pages[number], drawn_array(frames, seed=number))
    return board, pages


def on_wall(page: Page, server: str, board: int) -> None:
    page.goto(f"{server}/boards/{board}")
    page.wait_for_selector('#spreads[aria-busy="false"]')


def numbers(page: Page) -> list[str]:
    """The ids of pages in the order they hang in."""
    return [leaf.get_attribute("data-page") for leaf in page.locator(".leaf[data-page]").all()]


def test_the_wall_tells_what_is_new_and_orders_pages(arrive, server, comic, screens):
    board, pages = comic
    artist = arrive("wim").page
    on_wall(artist, server, board)
    expect(artist.get_by_role("button", name="Nothing new")).to_be_disabled()
    editor = Script(server, "oriel")
    kept = artist.evaluate_handle("document.querySelector('.leaf[data-page]').closest('.spread')")
    editor.send("POST", f"/pages/{pages[2]}/notes", {"body": "Lower the eye level.", "tone": "must"})
    artist.get_by_text("a new note").wait_for()
    assert kept.evaluate("(spread) => spread.isConnected")  # what did not change was not drawn anew
    artist.get_by_role("button", name="New since you looked: 1").click()
    artist.get_by_text("1 of 4 pages").wait_for()
    capture(artist, screens / "wall-new.png")
    assert violations_in_both_schemes(artist) == []
    assert artist.url.endswith("?new=1")
    artist.get_by_role("button", name="I have seen it all").click()
    artist.get_by_role("button", name="Show all pages").click(delay=HAND_MS)
    artist.get_by_label("Notes", exact=True).select_option("must")
    artist.get_by_text("1 of 4 pages").wait_for()
    artist.get_by_role("button", name="Show all pages").click(delay=HAND_MS)
    order_pages(artist, pages, screens)


def order_pages(page: Page, pages: dict[int, int], screens) -> None:
    one, two, three, four = (str(pages[number]) for number in (1, 2, 3, 4))
    page.get_by_role("button", name="Order pages").press("Enter")
    grip = page.locator(f'[data-key="grip-{one}"]')
    grip.press("ArrowLeft")  # read from the right, left is onward
    expect(grip).to_have_attribute("aria-label", re.compile("Move page 2"))
    expect(grip).to_be_focused()
    # Leaves stand left to right in each spread: 1 | 3 2 | 4.
    assert numbers(page) == [two, three, one, four]
    capture(page, screens / "wall-order.png")
    assert violations_in_both_schemes(page) == []
    page.locator(f'[data-key="grip-{four}"]').scroll_into_view_if_needed()
    onto = page.locator(f'.leaf[data-page="{two}"]').bounding_box()
    hand = page.locator(f'[data-key="grip-{four}"]').bounding_box()
    page.mouse.move(hand["x"] + 8, hand["y"] + 8)
    page.mouse.down()
    page.mouse.move(onto["x"] + onto["width"] - 20, max(90, onto["y"] + 40), steps=4)
    page.mouse.up()
    expect(page.locator(f'[data-key="grip-{four}"]')).to_have_attribute("aria-label", re.compile("Move page 1"))
    page.get_by_role("button", name="Insert a page before page 2").click()
    page.get_by_role("button", name="Add it").click()
    expect(page.locator(f'[data-key="grip-{three}"]')).to_have_attribute("aria-label", re.compile("Move page 5"))
    give_to_nobody(page, three)
    lay_one_aside(page, three)
    page.get_by_role("button", name="Done").click()


def give_to_nobody(page: Page, given: str) -> None:
    page.locator(f'[data-key="about-{given}"]').click()
    dialog = page.get_by_role("dialog", name="About page 5")
    expect(dialog.get_by_label("Drawn by")).to_have_value("wim")
    dialog.get_by_label("Drawn by").select_option(label="any artist of the board")
    assert violations_in_both_schemes(page) == []
    dialog.get_by_role("button", name="Save").click()
    expect(dialog).to_have_count(0)
    page.locator(f'[data-key="about-{given}"]').click()
    expect(dialog.get_by_label("Drawn by")).to_have_value("")
    dialog.locator(".dialog-head").get_by_role("button", name="Close").click()


def lay_one_aside(page: Page, laid: str) -> None:
    """And back: at once by the slip, then from the list of all that are."""
    grip = page.locator(f'[data-key="grip-{laid}"]')
    page.locator(f'[data-key="aside-{laid}"]').click()
    expect(grip).to_have_count(0)
    page.locator("#slips").get_by_role("button", name="Bring it back").click()
    expect(grip).to_have_attribute("aria-label", re.compile("Move page 5"))
    page.locator(f'[data-key="aside-{laid}"]').click()
    expect(grip).to_have_count(0)
    page.locator('[data-key="laid-aside"]').click()
    dialog = page.get_by_role("dialog", name="Laid aside")
    expect(dialog.get_by_role("link", name="Page 5 until then")).to_be_visible()
    assert violations_in_both_schemes(page) == []
    dialog.get_by_role("button", name="Bring page 5 back").click()
    expect(dialog.get_by_text("Every page is in the comic.")).to_be_visible()
    dialog.locator(".dialog-head").get_by_role("button", name="Close").click()
    expect(grip).to_have_attribute("aria-label", re.compile("Move page 5"))


def test_the_comic_is_read_from_the_right_by_keys_and_by_hand(arrive, server, comic, screens):
    board, _ = comic
    visitor = arrive("oriel")
    reader, count = visitor.page, len(visitor.read(f"/boards/{board}/pages"))
    reader.goto(f"{server}/boards/{board}/read")
    reader.wait_for_selector('#open[aria-busy="false"]')
    reader.keyboard.press("ArrowLeft")
    expect(reader.locator("#foot")).to_contain_text(f"2–3 / {count}")
    before, onward = (reader.get_by_role("button", name=name).bounding_box() for name in ("Page before", "Next page"))
    assert onward["x"] < before["x"]  # as the slider between them runs
    capture(reader, screens / "read.png")
    assert violations_in_both_schemes(reader) == []
    reader.keyboard.press("ArrowRight")
    expect(reader.locator("#foot")).to_contain_text(f"1 / {count}")
    box = reader.locator("#open").bounding_box()
    reader.mouse.click(box["x"] + 60, box["y"] + 200)
    expect(reader.locator("#foot")).to_contain_text(f"2–3 / {count}")
    others_draw_nothing_anew(reader, Script(server), board)
    reader.set_viewport_size({"width": 390, "height": 844})
    expect(reader.locator(".read-page")).to_have_count(1)
    step_aside_to_the_desk(reader)
    reader.keyboard.press("End")
    expect(reader.locator("#foot")).to_contain_text(f"{count} / {count}")
    capture(reader, screens / "read-phone.png")
    assert violations_in_both_schemes(reader) == []
    reader.keyboard.press("Escape")
    reader.wait_for_url(f"**/boards/{board}")


def others_draw_nothing_anew(reader: Page, script: Script, board: int) -> None:
    """What lies open stays as it lies while another page is changed."""
    reader.locator(".read-page").evaluate_all("(leaves) => leaves.forEach((leaf) => { leaf.lay = true; })")
    last = script.send("GET", f"/boards/{board}/pages")["results"][-1]
    with reader.expect_response(re.compile(rf"/api/v1/boards/{board}/pages")) as answer:
        script.send("PATCH", f"/pages/{last['id']}", {"happens": "Rain."}, version=last["version"])
    answer.value.finished()
    reader.wait_for_timeout(100)
    assert reader.locator(".read-page").evaluate_all("(leaves) => leaves.every((leaf) => leaf.lay)")


def step_aside_to_the_desk(reader: Page) -> None:
    """Of the page that lies open, on to the pages beside it by one key each, and back to where one read."""
    [here] = reader.locator(".read-at a").all()
    title = here.inner_text()
    here.press("Enter")
    for key, name in ((">", f"Page {int(title[-1]) + 1}"), ("<", title)):
        expect(reader.locator("#at-hand button").first).to_be_attached()
        reader.keyboard.press(key)
        expect(reader.locator("h1")).to_have_text(name)
        reader.wait_for_load_state()
    reader.go_back()
    reader.go_back()
    reader.go_back()
    expect(reader.locator(".read-at")).to_contain_text(title)


def test_pages_much_taller_than_wide_are_scrolled_down_as_wide_as_a_column(arrive, server, comic):
    board, _ = comic
    visitor = arrive("oriel", apart=True)
    page, count = visitor.page, len(visitor.read(f"/boards/{board}/pages"))
    page.route(re.compile(rf"/api/v1/boards/{board}/pages"), as_tall)
    page.route(re.compile(r"/revisions/\d+/renditions/"), lambda route: route.fulfill(body=png(60, 680), content_type="image/png"))
    page.goto(f"{server}/boards/{board}/read?page=1")
    tall, foot = page.locator("#open.is-down .read-page"), page.locator("#foot")
    expect(tall).to_have_count(count)
    assert tall.first.bounding_box()["width"] == 720
    page.keyboard.press("End")
    expect(foot).to_contain_text("1 / ")  # the foot of the page that is read
    page.keyboard.press("Space")
    expect(foot).to_contain_text("2 / ")
    page.reload()
    expect(foot).to_contain_text("2 / ")
    assert page.evaluate("document.getElementById('open').scrollTop") > 5000
    assert violations_in_both_schemes(page) == []
    page.goto(f"{server}/boards/{board}")
    hung = page.locator(".leaf-picture.is-tall").first.bounding_box()
    assert hung["height"] == pytest.approx(2 * hung["width"], abs=2)


def as_tall(route: Route) -> None:
    """Every page with a picture, and that eight times as tall: as 60 × 680 px are."""
    answer = route.fetch()
    told = answer.json()
    revision = next(page["current_revision"] for page in told["results"] if page["current_revision"])
    for rendition in revision["renditions"]:
        rendition["height_px"] *= 8
    for page in told["results"]:
        page["current_revision"] = revision
    route.fulfill(response=answer, json=told)


def test_where_a_board_has_no_references_a_still_is_tied_by_way_of_their_screen(arrive, server, comic):
    page, (board, _) = arrive("oriel").page, comic
    on_wall(page, server, board)
    page.evaluate("""async (id) => {
        const { stillDialog } = await import("/static/js/screens/still_dialog.js");
        stillDialog({}, { order: 1 }, { known: { board: { id } } });
    }""", board)
    page.get_by_role("dialog").get_by_role("link", name="References").click()
    page.wait_for_url(f"**/boards/{board}/references")


def test_a_note_on_the_comic_stands_on_the_wall_with_its_replies_and_state(arrive, server):
    page = arrive("oriel").page
    on_wall(page, server, Script(server, "oriel").send("POST", "/boards", {"title": "Neap"})["id"])
    page.get_by_role("button", name="Note on the comic").click()
    page.get_by_role("dialog").get_by_label("What you want to say").fill("The river could rise from page to page.")
    page.get_by_role("button", name="Pin it").click()
    whole = page.get_by_role("region", name="Notes on the comic as a whole")
    whole.get_by_label("Reply").fill("By a hand each time.")
    whole.get_by_role("button", name="Send reply").click()
    expect(whole.get_by_text("By a hand each time.")).to_be_visible()
    expect(page.locator("#sum")).to_contain_text("1 open note")
    assert violations_in_both_schemes(page) == []
    whole.get_by_role("button", name="Settle", exact=True).click()
    expect(whole.get_by_text("Closed: 1")).to_be_visible()
    expect(page.locator("#sum")).to_contain_text("0 open notes")
