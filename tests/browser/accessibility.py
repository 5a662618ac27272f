"""What axe-core finds on a screen, by the rules of WCAG 2.2 AA and what it calls best practice."""

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Page

RULES = {
    "runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]},
    # What passed need not be told.
    "resultTypes": ["violations"],
    # Otherwise axe reads the stylesheets again and inlines them, which our content policy rightly refuses.
    "preload": False,
}
SCHEMES = ("light", "dark")


def violations(page: Page) -> list[str]:
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE_SCRIPT)
    found = page.evaluate("async (rules) => (await axe.run(rules)).violations", RULES)
    return [f"{one['id']}: {one['help']} ({'; '.join(node['html'][:120] for node in one['nodes'][:3])})" for one in found]


def violations_in_both_schemes(page: Page) -> list[str]:
    """A screen's colours change by style alone, so that it need not be opened twice."""
    found = []
    for scheme in SCHEMES:
        page.emulate_media(color_scheme=scheme)
        found += [f"{scheme}: {one}" for one in violations(page)]
    return found
