from django.db import connection

from board.models import Board, SchoolClass

SEATS, PAGE_NUMBERS, PLACES = "seats", "page-numbers", "places"


def one_at_a_time(what: str, of: Board | SchoolClass) -> None:
    """Until the transaction ends nobody else gets past here with the same two. Call it before any row is locked.

    For what no row's lock can hold: that somebody is left, that a number is free. SQLite takes one writer at a time anyhow. It is
    not the board's row that is locked: `write_event` takes that last, after pages and notes, and taken first it would end in
    deadlocks with those who hold a page.
    """
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("SELECT pg_advisory_xact_lock(hashtextextended(%s, 0))", [f"underblue {what} {of.pk}"])
