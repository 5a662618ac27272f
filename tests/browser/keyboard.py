"""A person at a keyboard who has no mouse, and what a screen reader tells them."""

from playwright.sync_api import Locator, Page, TimeoutError, expect

# What is said in a screen's live regions, as it is put there.
LISTEN = """
window.heard = [];
const hear = (changes) => changes.forEach(({ target, addedNodes }) => {
  const region = (target.closest ? target : target.parentElement)?.closest('[aria-live], [role=status], [role=alert]');
  if (region) addedNodes.forEach((node) => window.heard.push(node.textContent));
});
new MutationObserver(hear).observe(document, { childList: true, subtree: true });
"""
HEARD = "(words) => window.heard.some((said) => said.includes(words))"
IS_THERE = "(target) => target === document.activeElement"
# WCAG 2.2, 2.4.11: what has the focus is seen, at least in part; else what lies on it is told. And whether it is on the target.
IS_THERE_AND_SEEN = """async (target) => {
  const notSeen = async (one) => {
    // What lies on it may give way in the next frame.
    await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
    if (!one.isConnected) return '';
    const box = one.getBoundingClientRect();
    const points = [[0.5, 0.5], [0.1, 0.2], [0.9, 0.2], [0.1, 0.8], [0.9, 0.8]]
      .map(([x, y]) => [box.left + x * box.width, box.top + y * box.height]);
    const tops = points.map(([x, y]) => document.elementFromPoint(x, y));
    if (tops.some((top) => top && (one.contains(top) || top.closest('label')?.contains(one)))) return '';
    return `${one.outerHTML.slice(0, 200)} at ${points[0]} lies under ${tops[0]?.outerHTML.slice(0, 200) ?? 'the edge'}`;
  };
  const focus = document.activeElement;
  // After the last control of a screen the browser's own come.
  const hidden = !focus || focus === document.body ? '' : await notSeen(focus);
  return { isThere: target === document.activeElement, hidden };
}"""
MOST_TABS = 150


class Keyboard:
    def __init__(self, page: Page) -> None:
        self.page = page
        page.context.add_init_script(LISTEN)
        # Only what is listened to from the start is caught for certain.
        page.on("filechooser", lambda _: None)

    def press(self, *keys: str) -> None:
        for key in keys:
            self.page.keyboard.press(key)

    def write(self, text: str) -> None:
        self.page.keyboard.type(text)

    def tab_to(self, target: Locator, key: str = "Tab") -> None:
        """Step by step, as there is no other way; whatever has the focus on the way is seen."""
        expect(target).to_be_visible()
        if target.evaluate(IS_THERE):
            return
        for _ in range(MOST_TABS):
            self.press(key)
            found = target.evaluate(IS_THERE_AND_SEEN)
            assert found["hidden"] == ""
            if found["isThere"]:
                return
        raise AssertionError(f"Tab does not lead to {target}.")

    def push(self, name: str, within: Locator | None = None, role: str = "button") -> None:
        """Goes to a button or a link and presses Enter on it."""
        self.tab_to((within or self.page).get_by_role(role, name=name).first)
        self.press("Enter")

    def focus_is_kept(self) -> None:
        """After something was done one is still somewhere, not back at the top of the screen."""
        assert self.page.locator(":focus").count() == 1

    def hears(self, words: str) -> None:
        try:
            # Not with every frame, as it would be asked otherwise: a browser that draws frames leaves a worker little.
            self.page.wait_for_function(HEARD, arg=words, polling=100, timeout=20_000)
        except TimeoutError as error:
            raise AssertionError(f"{words!r} was not said, but {self.page.evaluate('window.heard')}") from error
