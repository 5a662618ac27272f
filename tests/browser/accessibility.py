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
# A screen's colours change by style alone, so that in the dark only the rules about colours can find anything new.
RULES_ON_COLOURS = {**RULES, "runOnly": {"type": "rule", "values": ["color-contrast", "link-in-text-block"]}}
SCHEMES = {"light": RULES, "dark": RULES_ON_COLOURS}


def violations(page: Page, rules: dict[str, object] = RULES) -> list[str]:
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE_SCRIPT)
    found = page.evaluate("async (rules) => (await axe.run(rules)).violations", rules)
    return [f"{one['id']}: {one['help']} ({'; '.join(node['html'][:120] for node in one['nodes'][:3])})" for one in found]


def violations_in_both_schemes(page: Page) -> list[str]:
    found = []
    for scheme, rules in SCHEMES.items():
        page.emulate_media(color_scheme=scheme)
        found += [f"{scheme}: {one}" for one in violations(page, rules)]
    return found
