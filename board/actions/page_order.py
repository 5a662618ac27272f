"""The order of pages: one moved, one put in between, numbers moved on, gaps closed. Each is one change with one event."""

from collections.abc import Mapping, Sequence
from typing import Unpack

from django.db import transaction
from django.db.models import Case, F, Value, When
from django.utils import timezone

from board.access import Seat
from board.actions.events import write_event
from board.actions.measuring import measure_figures_again, measure_page_again, measure_sides_again
from board.actions.named_panels import name_panels_anew
from board.actions.one_at_a_time import PAGE_NUMBERS, one_at_a_time
from board.actions.pages import PageFields, add_page
from board.actions.versions import lock_version, save_next_version
from board.errors import LaidAside, NotPossibleNow, NotValid
from board.models import Board, Figure, ModelSheet, Page

HIGHEST_NUMBER = 9999
# Numbers are each held by one page at most, also between two steps: so all first go where no page is.
OUT_OF_THE_WAY = 1_000_000


@transaction.atomic
def place_page(*, seat: Seat, page: Page, before: Page | None, expected_version: int | None) -> Page:
    """The page before another, or at the end; those between close up. Gaps of pages that are not here yet stay where they are."""
    one_at_a_time(PAGE_NUMBERS, seat.board)
    page = lock_version(page, expected_version)
    if page.laid_aside_at:
        raise LaidAside
    others = [other for other in _pages(seat.board) if other.pk != page.pk]
    if before is not None and before.pk not in {other.pk for other in others}:
        raise NotValid("A page is put before another page of its board.")
    takes = len(page.numbers)
    end = others[-1].numbers[-1] + 1 if others else 1
    target = before.number if before else max(end, page.number + takes)
    if target > page.number:
        moved = {other.pk: other.number - takes for other in others if page.number < other.number < target}
        moved[page.pk] = target - takes
    else:
        moved = {other.pk: other.number + takes for other in others if target <= other.number < page.number}
        moved[page.pk] = target
    _give_numbers(seat, moved)
    page.refresh_from_db()
    return page


@transaction.atomic
def insert_page(*, seat: Seat, number: int, **fields: Unpack[PageFields]) -> Page:
    """A new page at this number; where it is taken, that page and all after it move on."""
    one_at_a_time(PAGE_NUMBERS, seat.board)
    takes = 2 if fields.get("is_spread") else 1
    if (start := _taken_from(seat.board, number, takes)) is not None:
        if start < number:
            raise NotValid(f"Pages {start}-{start + 1} are one picture: nothing goes between them.")
        _move_on(seat, start, number + takes - start)
    return add_page(seat=seat, number=number, **fields)


@transaction.atomic
def lay_aside(*, seat: Seat, page: Page, expected_version: int | None) -> Page:
    """Takes the page out of the comic; it is kept with all that is on it, and those after it move up."""
    one_at_a_time(PAGE_NUMBERS, seat.board)
    page = lock_version(page, expected_version)
    if page.laid_aside_at:
        return page
    if seat.board.is_assigned:
        raise NotPossibleNow("The pages of an assignment are given.")
    page.laid_aside_at = timezone.now()
    save_next_version(page, "laid_aside_at")
    write_event(board=seat.board, kind="page-laid-aside", actor=seat.user, page=page)
    _move_on(seat, page.numbers[-1] + 1, -len(page.numbers))
    _measure_cast_again(seat.board)
    return page


@transaction.atomic
def bring_back(*, seat: Seat, page: Page, expected_version: int | None) -> Page:
    """Puts the page into the comic again, where it was, or at the end; the page that has its number and all after it move on."""
    one_at_a_time(PAGE_NUMBERS, seat.board)
    page = lock_version(page, expected_version)
    if not page.laid_aside_at:
        return page
    pages, takes = _pages(seat.board), len(page.numbers)
    page.number = min(page.number, pages[-1].numbers[-1] + 1) if pages else 1
    if (start := _taken_from(seat.board, page.number, takes)) is not None:
        page.number = min(page.number, start)
        _move_on(seat, start, page.number + takes - start)
    page.laid_aside_at = None
    save_next_version(page, "laid_aside_at", "number")
    write_event(board=seat.board, kind="page-brought-back", actor=seat.user, page=page)
    name_panels_anew(board=seat.board)
    measure_page_again(page=page)
    _measure_cast_again(seat.board)
    return page


def _taken_from(board: Board, number: int, takes: int) -> int | None:
    """Where the page begins that is the first to stand in the way of one at this number; None where none does."""
    in_the_way = (page for page in _pages(board) if set(range(number, number + takes)) & set(page.numbers))
    return next((page.number for page in in_the_way), None)


@transaction.atomic
def renumber_pages(*, seat: Seat, first: int, to: int) -> int:
    """The page with the number `first` gets the number `to`, and all after it move by as much; how many they are."""
    one_at_a_time(PAGE_NUMBERS, seat.board)
    pages = _pages(seat.board)
    moved = [page for page in pages if page.number >= first]
    if not moved or moved[0].number != first:
        raise NotValid(f"There is no page that begins with {first}.")
    below = [page for page in pages if page.number < first]
    if below and to <= below[-1].numbers[-1]:
        raise NotValid(f"Page {below[-1].numbers_text} comes before it: the lowest number is {below[-1].numbers[-1] + 1}.")
    return _move_on(seat, first, to - first)


@transaction.atomic
def close_gaps(*, seat: Seat) -> int:
    """1, 2, 3… in the order they have; how many got another number."""
    one_at_a_time(PAGE_NUMBERS, seat.board)
    next_number, moved = 1, {}
    for page in _pages(seat.board):
        if page.number != next_number:
            moved[page.pk] = next_number
        next_number += len(page.numbers)
    return _give_numbers(seat, moved)


def _pages(board: Board) -> Sequence[Page]:
    return list(Page.objects.in_comic().filter(board=board).order_by("number"))


def _move_on(seat: Seat, first: int, by: int) -> int:
    """Model sheets that hold from one of these pages on go along with it."""
    moved = {page.pk: page.number + by for page in _pages(seat.board) if page.number >= first}
    ModelSheet.objects.filter(character__board=seat.board, from_page__gte=max(first, 2)).update(from_page=F("from_page") + by)
    return _give_numbers(seat, moved)


def _give_numbers(seat: Seat, numbers: Mapping[int, int]) -> int:
    """Page id -> its new number. Raises NotValid where one would be too high."""
    if not numbers:
        return 0
    if max(numbers.values()) >= HIGHEST_NUMBER:
        raise NotValid(f"A page number is at most {HIGHEST_NUMBER}.")
    pages = Page.objects.filter(board=seat.board, pk__in=numbers)
    pages.update(number=F("number") + OUT_OF_THE_WAY)
    pages.update(number=Case(*(When(pk=pk, then=Value(number)) for pk, number in numbers.items())), version=F("version") + 1)
    write_event(board=seat.board, kind="pages-renumbered", actor=seat.user, pages=len(numbers))
    name_panels_anew(board=seat.board)
    _measure_cast_again(seat.board)
    measure_sides_again(board=seat.board, pages=numbers)
    return len(numbers)


def _measure_cast_again(board: Board) -> None:
    """Which sheets hold, and what a drift is told from, hangs on the order of pages."""
    measure_figures_again(board=board, pages=Figure.objects.filter(page__board=board).values_list("page", flat=True))
