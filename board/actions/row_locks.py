"""In which order rows are locked, so that no two wait for each other: a picture, pages by their number in the database, what is
on them, the board, a job.

SQLite takes one writer at a time anyhow. Locks are `no_key` where nothing is deleted: a plain one holds up whoever writes a row
that refers to the locked one, as each event does to its page.
"""

from collections.abc import Iterable

from django.db import DatabaseError, connection

from board.models import Board, Page, Picture

# As PostgreSQL numbers them: a deadlock, a write that did not fit what was read. Nothing is kept, and sent again it goes through.
DEADLOCK = ("40P01", "40001")


def is_deadlock(error: Exception) -> bool:
    """Two each waited for what the other held, and the database ended one of them."""
    return isinstance(error, DatabaseError) and getattr(error.__cause__, "sqlstate", "") in DEADLOCK


def hold_pictures(pictures: Iterable[int]) -> None:
    """Ids. An upload of the same bytes holds its picture, and comes to the page then."""
    if connection.features.has_select_for_update:
        list(Picture.objects.select_for_update(no_key=True).filter(pk__in=list(pictures)).order_by("pk").values_list("pk"))


def hold_pages(pages: Iterable[int | None]) -> None:
    """Ids. Call it in the transaction before a row of theirs is locked."""
    if connection.features.has_select_for_update:
        rows = Page.objects.select_for_update(no_key=True).filter(pk__in=[pk for pk in pages if pk]).order_by("pk")
        list(rows.values_list("pk"))


def hold_board(board: int) -> None:
    """An id. Call it before jobs of its are locked, where an event or another board's row does not do so yet."""
    if connection.features.has_select_for_update:
        Board.objects.select_for_update(no_key=True).filter(pk=board).values_list("pk").first()
