"""The board's log as scripts read it."""

import threading

import pytest
from django.db import connection

from board.actions.notes import pin_note
from board.models import Event


def log_of(cast) -> str:
    return f"/api/v1/boards/{cast.board.pk}/events"


def test_the_log_is_read_from_where_one_left_off(world, client_of):
    whole = client_of("editor").get(log_of(world.cast)).json()
    numbers = [row["number"] for row in whole["results"]]
    assert numbers == sorted(numbers)
    rest = client_of("editor").get(f"{log_of(world.cast)}?after={numbers[2]}").json()
    assert [row["number"] for row in rest["results"]] == numbers[3:]
    assert rest["last"] == whole["last"]


def test_a_held_note_stands_in_its_writers_log_only(world, client_of):
    def kinds(name: str) -> set[str]:
        return {row["kind"] for row in client_of(name).get(log_of(world.cast) + "?limit=500").json()["results"]}

    assert "note-held" in kinds("editor")
    assert "note-held" not in kinds("artist")


def test_a_student_reads_nothing_of_others_pages(world, client_of):
    rows = client_of("student").get(log_of(world.cast)).json()["results"]
    assert world.cast.page.pk not in {row["page"] for row in rows}
    assert world.cast.own_page.pk in {row["page"] for row in rows}


def test_a_number_that_is_none_is_refused(world, client_of):
    assert client_of("editor").get(log_of(world.cast) + "?after=soon").status_code == 400


@pytest.mark.django_db(transaction=True)
def test_writers_at_the_same_time_leave_no_gap(cast):
    def write(n: int) -> None:
        try:
            for i in range(5):
                pin_note(seat=cast.seat("editor"), page=cast.page, body=f"{n}.{i}", tone="try")
        finally:
            connection.close()

    threads = [threading.Thread(target=write, args=(n,)) for n in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    numbers = list(Event.objects.filter(board=cast.board).values_list("number", flat=True))
    assert numbers == list(range(1, len(numbers) + 1))
    assert Event.objects.filter(kind="note-pinned").count() == 20
