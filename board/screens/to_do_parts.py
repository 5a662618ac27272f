"""A long list cut into parts of whole pages: what stands on one page of the comic is never in two of them."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

ENOUGH = 200  # notes


@dataclass(frozen=True)
class Part:
    """`pages`: numbers of those with notes, ascending; 0 is the whole board."""

    pages: tuple[int, ...]
    notes: int

    @property
    def first(self) -> int:
        return self.pages[0]

    @property
    def name(self) -> str:
        first, last = next((page for page in self.pages if page), 0), self.pages[-1]
        pages = [f"pages {first} to {last}" if first < last else f"page {last}"] if last else []
        return " and ".join([*([] if self.first else ["the board"]), *pages])


def parts_of(pages: Iterable[int], enough: int) -> list[Part]:
    """`pages`: of each note the number of its page. A page that would bring a part over `enough` begins the next one."""
    parts: list[Part] = []
    for page, notes in sorted(Counter(pages).items()):
        if parts and parts[-1].notes + notes <= enough:
            parts[-1] = Part((*parts[-1].pages, page), parts[-1].notes + notes)
        else:
            parts.append(Part((page,), notes))
    return parts


def part_from(parts: Sequence[Part], page: int) -> Part | None:
    """Where that page is, or would be if it had a note: what was linked to may have been settled since."""
    return next((part for part in reversed(parts) if part.first <= page), parts[0] if parts else None)
