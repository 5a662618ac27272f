from typing import TypedDict, Unpack

from django.contrib.auth import get_user_model
from django.contrib.auth.models import User
from django.db import transaction

from board.access import Seat
from board.actions.events import write_event
from board.actions.measuring import measure_page_again, measure_sides_again
from board.actions.named_panels import name_panels_anew
from board.actions.one_at_a_time import PAGE_NUMBERS, one_at_a_time
from board.actions.versions import lock_version, save_next_version
from board.errors import AlreadyThere, NotValid
from board.models import Member, Page


class PageChange(TypedDict, total=False):
    number: int
    is_spread: bool
    drawn_by: str | None
    happens: str
    said: str
    is_open_to_students: bool


class PageFields(TypedDict, total=False):
    is_spread: bool
    drawn_by: str | None
    happens: str
    said: str
    is_open_to_students: bool


def numbers_are_free(page: Page) -> None:
    if page.laid_aside_at:
        return
    others = Page.objects.in_comic().filter(board_id=page.board_id).exclude(pk=page.pk)
    taken = {number for other in others for number in other.numbers}
    if clash := sorted(taken & set(page.numbers)):
        raise AlreadyThere(f"There is a page {clash[0]} already.")


def read_drawer(seat: Seat, username: str | None) -> User | None:
    """The user who draws the page; it has to be a member who draws."""
    if not username:
        return None
    user = get_user_model().objects.filter(username=username, memberships__board=seat.board).first()
    member = Member.objects.filter(board=seat.board, user=user).first() if user else None
    if member is None or not member.role_set & {"artist", "student"}:
        raise NotValid(f"“{username}” does not draw on this board.")
    return user


@transaction.atomic
def add_page(
    *,
    seat: Seat,
    number: int,
    is_spread: bool = False,
    drawn_by: str | None = None,
    happens: str = "",
    said: str = "",
    is_open_to_students: bool = False,
) -> Page:
    """A student's new page is their own, whatever was asked for."""
    one_at_a_time(PAGE_NUMBERS, seat.board)
    drawer = read_drawer(seat, seat.user.get_username() if seat.sees_only_own_pages else drawn_by)
    page = Page(
        board=seat.board, number=number, is_spread=is_spread, drawn_by=drawer, happens=happens, said=said,
        is_open_to_students=is_open_to_students,
    )
    numbers_are_free(page)
    page.save()
    write_event(board=seat.board, kind="page-added", actor=seat.user, page=page, number=number)
    return page


@transaction.atomic
def change_page(*, seat: Seat, page: Page, expected_version: int | None, **fields: Unpack[PageChange]) -> Page:
    is_called_anew = bool({"number", "is_spread"} & set(fields))
    if is_called_anew:
        one_at_a_time(PAGE_NUMBERS, seat.board)
    page = lock_version(page, expected_version)
    changed: dict[str, object] = {**fields}
    if "drawn_by" in fields:
        changed["drawn_by"] = read_drawer(seat, fields["drawn_by"])
    for name, value in changed.items():
        setattr(page, name, value)
    numbers_are_free(page)
    save_next_version(page, *fields)
    write_event(board=seat.board, kind="page-changed", actor=seat.user, page=page, fields=sorted(fields))
    if is_called_anew:
        name_panels_anew(board=seat.board)
        measure_sides_again(board=seat.board, pages=[page.pk])
    if "is_spread" in fields:
        measure_page_again(page=page)
    return page
