"""What stands out in a comic's pace: things to look at, not faults. Where there is too little to compare with, nothing is told."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from statistics import median

from board.pace import ComicPace, PagePace, PanelPace

FEWEST_PAGES = 4  # with fewer, no median is told from
MANY_TIMES = 2.0  # over the median
# Rules of thumb of letterers and editors: common practice, no source.
MOST_PANEL_WORDS = 50
MOST_BALLOON_WORDS = 25
# Own choices: what they let through is to be looked at, and no more.
FEWEST_SPOKEN_PANELS, CROWDED_TIMES, FEWEST_CROWDED_WORDS = 8, 3.0, 20
EVEN_PAGES, EVEN_RATIO = 4, 1.25
LARGE_SHARE, LARGE_TIMES = 0.6, 1.5


@dataclass(frozen=True)
class Remark:
    """`measured` and what it is compared with, in words or panels or shares; `pages`: their places in the comic."""

    kind: str
    text: str
    pages: tuple[int, ...]
    measured: float
    compared: float
    panels: tuple[int, ...] = ()  # their places on the page


def what_stands_out(comic: ComicPace) -> list[Remark]:
    told = [*_wordy_pages(comic), *_full_pages(comic), *_talkative_panels(comic), *_seen_too_early(comic),
            *_even_runs(comic)]
    return sorted(told, key=lambda remark: remark.pages[0])


def _wordy_pages(comic: ComicPace) -> Iterator[Remark]:
    usual = comic.median_words
    if usual is None or sum(page.words > 0 for page in comic.pages) < FEWEST_PAGES:
        return
    for at, page in enumerate(comic.pages):
        if page.words_a_number > MANY_TIMES * usual:
            text = f"{_has(page, f'{page.words:,} words', page.words_a_number)}; the median of pages with words is {usual:g}."
            yield Remark("many-words", text, (at,), page.words_a_number, usual)


def _full_pages(comic: ComicPace) -> Iterator[Remark]:
    usual = comic.median_panels
    if usual is None or sum(bool(page.panels) for page in comic.pages) < FEWEST_PAGES:
        return
    for at, page in enumerate(comic.pages):
        if page.panels_a_number > MANY_TIMES * usual:
            text = f"{_has(page, f'{len(page.panels)} panels', page.panels_a_number)}; the median is {usual:g}."
            yield Remark("many-panels", text, (at,), page.panels_a_number, usual)


def _has(page: PagePace, what: str, a_number: float) -> str:
    if len(page.numbers) == 1:
        return f"Page {page.name} has {what}"
    return f"Pages {page.name}, one picture, have {what}, {a_number:g} a page"


def _talkative_panels(comic: ComicPace) -> Iterator[Remark]:
    """Of each page: panels with many words, then long lines in others, then words on a small picture in the rest."""
    usual = _usual_density(comic)
    for at, page in enumerate(comic.pages):
        wordy = [panel for panel in page.panels if panel.words > MOST_PANEL_WORDS]
        long = [panel for panel in page.panels if max(panel.lines, default=0) > MOST_BALLOON_WORDS and panel not in wordy]
        if wordy:
            most = [panel.words for panel in wordy]
            text = f"{_have(page, wordy)} {_range(most)} words; a rule of thumb is {MOST_PANEL_WORDS} at most in a panel."
            yield Remark("wordy-panels", text, (at,), max(most), MOST_PANEL_WORDS, _orders(wordy))
        if long:
            longest = [max(panel.lines) for panel in long]
            lines = "lines" if len(long) > 1 else "a line"
            text = (f"{_have(page, long)} {lines} of {_range(longest)} words; a rule of thumb is {MOST_BALLOON_WORDS} at most in a "
                    "balloon.")
            yield Remark("long-lines", text, (at,), max(longest), MOST_BALLOON_WORDS, _orders(long))
        yield from (_crowded(at, page, panel, usual) for panel in page.panels
                    if usual and panel not in (*wordy, *long) and _is_crowded(page, panel, usual))


def _usual_density(comic: ComicPace) -> float | None:
    found = [density for page in comic.pages for panel in page.panels if (density := _words_a_percent(page, panel))]
    return median(found) if len(found) >= FEWEST_SPOKEN_PANELS else None


def _is_crowded(page: PagePace, panel: PanelPace, usual: float) -> bool:
    """Words outweigh the picture that they stand in."""
    return panel.words >= FEWEST_CROWDED_WORDS and (_words_a_percent(page, panel) or 0) > CROWDED_TIMES * usual


def _crowded(at: int, page: PagePace, panel: PanelPace, usual: float) -> Remark:
    density = _words_a_percent(page, panel) or 0
    text = (f"{_have(page, [panel])} {panel.words} words on {_percent(panel.share)} of the picture: {density:.1f} for each percent "
            f"of a page, where the median panel with words has {usual:.1f}.")
    return Remark("words-over-picture", text, (at,), density, usual, (panel.order,))


def _words_a_percent(page: PagePace, panel: PanelPace) -> float | None:
    """Of one page, so that a panel of a spread counts double."""
    return panel.words / (100 * panel.share * len(page.numbers)) if panel.share and panel.words else None


def _seen_too_early(comic: ComicPace) -> Iterator[Remark]:
    """What faces a page is seen with it, before that is read."""
    usual = comic.median_largest
    if usual is None or sum(page.largest is not None for page in comic.pages) < FEWEST_PAGES:
        return
    for opening in comic.openings:
        first, second = opening.leaves[0].page, opening.leaves[-1].page
        if first is None or second is None or first == second:
            continue
        page, largest = comic.pages[second], comic.pages[second].largest
        if largest and largest.share and largest.share >= max(LARGE_SHARE, LARGE_TIMES * usual):
            text = (f"Panel {largest.order} of page {page.name} takes {_percent(largest.share)} of the page (the median of largest "
                    f"panels is {_percent(usual)}) and faces page {comic.pages[first].name}: it is seen before that page is read. "
                    "By a rule of thumb, what is to surprise stands after a turn.")
            yield Remark("seen-early", text, (second,), largest.share, usual, (largest.order,))


def _even_runs(comic: ComicPace) -> Iterator[Remark]:
    at = 0
    for beat, together in groupby(comic.pages, key=_Beat().of):
        run = list(together)
        if beat[0] and len(run) >= EVEN_PAGES:
            text = (f"Pages {run[0].name} to {run[-1].name} all have {beat[0]} panels of nearly the same size: one beat over "
                    f"{len(run)} pages. Runs are told from {EVEN_PAGES} on.")
            yield Remark("even-run", text, tuple(range(at, at + len(run))), len(run), EVEN_PAGES)
        at += len(run)


class _Beat:
    """What pages in a row share while the beat goes on: how many even panels, and that no page is missing between them."""

    def __init__(self) -> None:
        self.breaks = 0
        self.last: int | None = None

    def of(self, page: PagePace) -> tuple[int, int]:
        self.breaks += page.numbers[0] - 1 != self.last
        self.last = page.numbers[-1]
        return _even_panels(page), self.breaks


def _even_panels(page: PagePace) -> int:
    """How many panels it has where they are nearly as large as each other; 0 where they are not, or not all drawn, or just one."""
    shares = [panel.share or 0 for panel in page.panels]
    is_even = len(page.numbers) == 1 and len(shares) > 1 and min(shares) > 0 and max(shares) <= EVEN_RATIO * min(shares)
    return len(shares) if is_even else 0


def _have(page: PagePace, panels: Sequence[PanelPace]) -> str:
    *before, last = (str(panel.order) for panel in panels)
    return f"Panels {', '.join(before)} and {last} of page {page.name} have" if before else f"Panel {last} of page {page.name} has"


def _range(counts: Sequence[int]) -> str:
    return f"{min(counts)}" if min(counts) == max(counts) else f"{min(counts)} to {max(counts)}"


def _orders(panels: Sequence[PanelPace]) -> tuple[int, ...]:
    return tuple(panel.order for panel in panels)


def _percent(share: float | None) -> str:
    return f"{100 * (share or 0):.0f} %"
