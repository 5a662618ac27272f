"""What the watcher says: one plain line for each thing that it did or could not do."""

from collections.abc import Mapping, Sequence

from board.page_names import NameMatch

# Reason of a match -> why, and what helps.
WHY = {
    "no-number": "its name says no page. Name it like p03.png",
    "several-numbers": "its name has several numbers ({numbers}). Write p before the page's, like p{last}",
    "no-such-page": "the board has no page {numbers}. Add it on the Wall, and it is sent",
    "no-such-spread": "pages {numbers} are not one spread on the board. Add it on the Wall as a spread",
    "two-stages": "its name says more than one stage",
    "panel": "its name says a panel. A try at one panel is uploaded on the Desk",
}


def not_matched(match: NameMatch) -> str:
    numbers = [str(number) for number in match.numbers]
    why = WHY[match.reason or "no-number"].format(numbers=_and(numbers), last=numbers[-1] if numbers else "")
    return f"{match.name}: not sent, {why}."


def not_taken(name: str) -> str:
    return f"{name}: not sent, it is no picture that is taken there. Export it as PNG, JPEG, WebP, TIFF or OpenRaster."


def unreadable(name: str) -> str:
    return f"{name}: not sent, some letters of its name cannot be read on this computer. Rename it."


def sent(name: str, page: Mapping, revision: Mapping) -> str:
    alternate = f", alternate {revision['alternate']}" if revision["alternate"] != "A" else ""
    stays = page["current_revision"] is None or revision["stage"] == page["stage"]  # with its first picture a page begins
    ahead = "" if stays else f" (the page is at {page['stage']}: it is kept there and moves nothing)"
    return f"{name}: sent to {page_words(page)}, {revision['stage']}{alternate}, as revision {revision['number']}{ahead}."


def is_there(name: str, page: Mapping, revision: Mapping, stands: Mapping | None) -> str:
    """`stands`: another revision that stands in its place by now."""
    gone = ", which was withdrawn there" if revision["withdrawn_at"] else ""
    shown = f" Revision {stands['number']} stands in its place." if stands else ""
    return f"{name}: is on {page_words(page)} already, as revision {revision['number']}{gone}.{shown}"


def page_words(page: Mapping) -> str:
    return f"page {'-'.join(map(str, page['numbers']))}"


def several(count: int, one: str) -> str:
    return f"{count} {one}" if count == 1 else f"{count} {one}s"


def _and(parts: Sequence[str]) -> str:
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}" if parts else ""
