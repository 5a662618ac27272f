"""Says which panels a picture lacks that its page should have: planned and not drawn, or drawn on an earlier picture."""

from board.check_contract import AwaitedPanel, CheckResult, Finding, Findings, PageUnderCheck, PanelUnderCheck
from board.not_measured import NotMeasured
from board.page_space import share_within
from board.slip_words import listed

LIES_OVER = 0.6  # of where a panel was: what lies over so much of it took its place or holds it. Own choice, no source.
CONFIDENCE = 0.7


def check(page: PageUnderCheck) -> CheckResult:
    """One finding for all that is missing. `numbers`: how many panels are "there", and the ids of those "awaited"."""
    if not page.panels:
        return NotMeasured("No panel was found.")
    numbers = {"there": len(page.panels), "awaited": [one.id for one in page.awaited]}
    return Findings(found=(_missing(page),) if page.awaited else (), numbers=numbers)


def _missing(page: PageUnderCheck) -> Finding:
    written = [one for one in page.awaited if one.polygon is None]
    drawn = [one for one in page.awaited if one.polygon is not None]
    there, should = len(page.panels), len(page.panels) + len(page.awaited)
    told = [f"{there} panel{'s are' if there > 1 else ' is'} found on this picture, of {should} that the page should have."]
    if written:
        told.append(f"{_panels(written)} {'is' if len(written) == 1 else 'are'} planned and not drawn.")
    told += [f"Panel {one.order} of revision {one.revision} is not found{_over(one, page.panels)}." for one in drawn]
    told.append(
        "Panels run together where a border is faint, hidden or shared: then correct the outlines, and the notes lie where they "
        "belong. A shot that was left out unseen is missed late; if you left it out on purpose, give this a stet."
    )
    marks = [{"kind": "outline", "points": [list(corner) for corner in one.polygon or ()], "label": f"{one.order}, before"}
             for one in drawn]
    return Finding("panel-missing", None, float(there), float(should), 0.0, "panels", CONFIDENCE, " ".join(told),
                   {"region": None, "marks": marks})


def _panels(awaited: list[AwaitedPanel]) -> str:
    return f"Panel{'s' if len(awaited) > 1 else ''} {listed([str(one.order) for one in awaited])}"


def _over(one: AwaitedPanel, panels: tuple[PanelUnderCheck, ...]) -> str:
    """What lies where it was."""
    holds = [panel for panel in panels if share_within(one.polygon or (), panel.polygon) >= LIES_OVER]
    return f": panel {holds[0].order} lies where it was" if holds else ""
