"""Figure posts stand on the floor at a click, are moved and removed by mouse, touch and keys, and are kept."""

from playwright.sync_api import expect

from tests.browser.accessibility import violations_in_both_schemes
from tests.browser.test_figures import at
from tests.browser.test_screens import shoot


def test_posts_are_stood_moved_and_removed_by_mouse_by_keys_and_by_touch(arrive, bent_pages, screens):
    visitor = arrive("wim")
    visitor.desk_of(bent_pages[1])
    page = visitor.page

    def kept() -> list[dict]:
        panel = min(visitor.read(f"/pages/{bent_pages[1]}/panels"), key=lambda one: one["order"])
        return (panel["figure_posts"] or {"posts": []})["posts"]

    def kept_with(holds):
        """Waits until posts of which that holds are kept."""
        return lambda answer: "figure-posts" in answer.url and answer.ok and holds(answer.request.post_data_json["posts"])

    page.keyboard.press("n")
    visitor.more_tools()
    page.get_by_role("button", name="Figure posts").click()
    page.get_by_role("button", name="P Pim").click()
    page.mouse.click(*at(page, 0.3, 0.45))
    expect(page.get_by_text("How high the viewer's eye is has to be known")).to_be_visible()
    page.get_by_label("Eye over the floor").fill("1.6")
    page.get_by_label("Eye over the floor").press("Enter")
    expect(page.locator(".post-name")).to_have_text(["Pim 1.42 m"])
    page.locator("#view").focus()
    for key in ("o", "Enter"):
        page.keyboard.press(key)
    expect(page.locator(".post-name")).to_have_text(["Pim 1.42 m", "Odda 1.74 m"])
    page.mouse.move(*at(page, 0.3, 0.45))
    page.mouse.down()
    page.mouse.move(*at(page, 0.6, 0.42), steps=4)
    page.mouse.up()
    with page.expect_response(kept_with(lambda posts: posts[0]["foot"][0] > 0.63)):
        page.keyboard.press("Shift+ArrowRight")
    pim, odda = kept()
    assert abs(pim["foot"][0] - 0.65) < 0.005 and abs(pim["foot"][1] - 0.42) < 0.005
    assert pim["character"] != odda["character"]
    shoot(page, screens, "figure-posts-1440")
    assert violations_in_both_schemes(page) == []
    with page.expect_response(kept_with(lambda posts: len(posts) == 1)):
        page.keyboard.press("Delete")
    assert [post["character"] for post in kept()] == [odda["character"]]
    page.get_by_role("button", name="Done").click()
    page.get_by_role("button", name="Underlay").click()
    expect(page.locator(".underlay-lines .post")).to_have_count(1)
    expect(page.locator(".underlay-lines text")).to_have_text("Odda")
    page.get_by_role("button", name="Close", exact=True).click()

    small = arrive("wim", width=390, height=844, has_touch=True)
    small.desk_of(bent_pages[1])
    expect(small.page.locator(".post-name")).to_have_text(["Odda 1.74 m"])  # they stand there for all who read
    small.page.get_by_role("button", name="More tools").tap()
    small.page.get_by_role("button", name="Figure posts").tap()
    small.page.get_by_role("button", name="C Corrin").tap()
    small.page.touchscreen.tap(*at(small.page, 0.7, 0.44))
    expect(small.page.locator(".post-name")).to_have_text(["Odda 1.74 m", "Corrin 1.83 m"])
    shoot(small.page, screens, "figure-posts-390")
    assert violations_in_both_schemes(small.page) == []
    small.page.touchscreen.tap(*at(small.page, *odda["foot"]))
    with small.page.expect_response(kept_with(lambda posts: len(posts) == 1)):
        small.page.get_by_role("button", name="Remove this post").tap()
    assert len(kept()) == 1
    assert small.page.evaluate("document.documentElement.scrollWidth") <= 390
