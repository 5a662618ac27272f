"""How a drawing that lies elsewhere is told in words: which way, by how much, larger or turned; on which other page."""

from collections.abc import Sequence


def way(right: float, down: float) -> str:
    """The one of two directions that leads, or both where neither does."""
    ways = [word for part, word in ((right, "to the right" if right > 0 else "to the left"), (down, "down" if down > 0 else "up"))
            if abs(part) > 0.4 * max(abs(right), abs(down))]
    return " and ".join(ways)


def larger_or_smaller(scale: float) -> str:
    return f"{abs(scale - 1):.1%} {'larger' if scale > 1 else 'smaller'}".replace("%", " %")


def turned(clockwise_deg: float) -> str:
    return f"turned by {abs(clockwise_deg):.1f}° {'clockwise' if clockwise_deg > 0 else 'counter-clockwise'}"


def listed(parts: Sequence[str]) -> str:
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"


def panel_called(order: int, page_number: int | None, is_spread: bool) -> str:
    """`page_number`: None on the page that tells of it; the first one of a spread."""
    if page_number is None:
        return f"panel {order}"
    return f"panel {order} of page {page_number}" + (f"-{page_number + 1}" if is_spread else "")


def drawn_elsewhere(called: str, is_later: bool) -> str:
    """`is_later`: the other place stands later in the comic, whichever was drawn first."""
    return f"is also drawn in {called}" if is_later else f"was drawn before, in {called}"


def called_anew(text: str, before: str, called: str, is_later: bool) -> str:
    """What names another place by what it was called, as it is told now."""
    for was_later in (False, True):
        if (told := drawn_elsewhere(before, was_later)) in text:
            return text.replace(told, drawn_elsewhere(called, is_later), 1)
    return text.replace(before, called, 1)
