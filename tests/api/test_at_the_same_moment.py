"""Two write on one page at once. On PostgreSQL each locks rows by itself; on SQLite one waits for the other anyhow."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from io import BytesIO
from threading import Event
from typing import Any

import pytest
from django.db import OperationalError, connection, transaction

from board.actions.events import write_event
from board.actions.intake import record_picture_size
from board.actions.jobs import claim_job, queue_job
from board.actions.pages import change_page
from board.actions.pictures import kept_picture
from board.actions.revisions import receive_revision
from board.actions.student_deletion import delete_student
from board.actions.versions import lock_version
from board.models import Page, Revision
from board.worker.outcome import Outcome
from board.worker.run_job import _record
from tests.api.class_world import AUTHOR, make_class_world
from tests.api.world import ready_revision
from tests.conftest import make_cast
from tests.deadlock import Deadlock
from tests.pictures import png, upload

pytestmark = pytest.mark.django_db(transaction=True)
ANY = {"If-Match": "*"}
SOON = 0.3  # seconds: so long one waits for the other to come to its end, where it can


@pytest.fixture
def cast(files_of_their_own):
    """Rows of its own: what is kept for other tests is written within a transaction."""
    return make_cast()


def test_who_holds_a_page_holds_up_nobody_who_tells_of_it(cast):
    """An upload has the page and will count up the log; a note was counted, and its event refers to the page."""
    page_is_held, other_is_through = Event(), Event()

    def upload_one() -> None:
        with transaction.atomic():
            lock_version(cast.page, None)
            page_is_held.set()
            other_is_through.wait(SOON)  # SQLite lets the other one in at the end of this only
            write_event(board=cast.board, kind="revision-received", page=cast.page)

    def pin_one() -> None:
        page_is_held.wait()
        with transaction.atomic():
            write_event(board=cast.board, kind="note-pinned", page=cast.page)
        other_is_through.set()

    at_once(upload_one, pin_one)
    assert cast.board.events.filter(page=cast.page, kind__in=("revision-received", "note-pinned")).count() == 2


def test_a_worker_that_records_waits_for_who_has_the_page(cast):
    """They queue its job again, and it holds the job: each would wait for the other."""
    revision = ready_revision(cast, cast.page, "artist")
    subject = {"board": cast.board, "revision": revision, "kind": "check", "key": "check/one"}
    job = claim_job(job_id=queue_job(**subject, inputs={}).pk)
    page_is_held, is_recorded = Event(), Event()

    def move_page() -> None:
        with transaction.atomic():
            lock_version(cast.page, None)
            page_is_held.set()
            is_recorded.wait(SOON)
            queue_job(**subject, inputs={"again": True})

    def record() -> None:
        page_is_held.wait()
        _record(job, Outcome({}, record=lambda: lock_version(cast.page, None)))
        is_recorded.set()

    at_once(move_page, record)
    job.refresh_from_db()
    assert (job.state, job.inputs) == ("queued", {"again": True})


def test_a_worker_that_reads_a_picture_waits_for_who_sends_it_again(cast):
    revision = receive_revision(seat=cast.seat("artist"), page=cast.page, file=BytesIO(png()), stage="thumbnail")
    job = claim_job(job_id=revision.jobs.get(kind="intake").pk)
    picture_is_held, is_recorded = Event(), Event()

    def send_again() -> None:
        with kept_picture(file=BytesIO(png())):
            picture_is_held.set()
            is_recorded.wait(SOON)
            lock_version(cast.page, None)

    def record() -> None:
        picture_is_held.wait()
        size = {"picture": revision.picture, "width_px": 40, "height_px": 60, "dpi": None}
        _record(job, Outcome({}, record=lambda: record_picture_size(**size)))
        is_recorded.set()

    at_once(send_again, record)
    assert revision.jobs.get(kind="intake").state == "done"


def test_what_a_student_sends_while_all_that_is_theirs_is_deleted_goes_too(files_of_their_own):
    world = make_class_world()
    page = Page.objects.filter(board=world.works[AUTHOR].board_id).first()
    page_is_held, other_is_through = Event(), Event()

    def upload_one() -> None:
        with transaction.atomic():
            lock_version(page, None)
            page_is_held.set()
            other_is_through.wait(SOON)
            write_event(board=page.board, kind="revision-received", page=page)

    def delete_all() -> None:
        page_is_held.wait()
        delete_student(enrolment=world.enrolment(AUTHOR))
        other_is_through.set()

    at_once(upload_one, delete_all)
    assert not Page.objects.filter(pk=page.pk).exists()


def test_what_is_gone_when_it_is_written_is_told_as_gone(cast, client_of, monkeypatch):
    def gone(*, page: Page, **fields: Any) -> Any:
        page.delete()
        Page.objects.get(pk=cast.page.pk)

    monkeypatch.setattr("api.pages.change_page", gone)
    answer = client_of("owner").patch(f"/api/v1/pages/{cast.page.pk}", {"said": "Hold!"}, format="json", headers=ANY)
    assert answer.status_code == 404


def at_once(*writes: Callable[[], None]) -> None:
    def run(write: Callable[[], None]) -> None:
        try:
            write()
        finally:
            connection.close()

    with ThreadPoolExecutor(len(writes)) as pool:
        list(pool.map(run, writes))


def in_a_deadlock(times: int, then: Callable[..., Any]) -> Callable[..., Any]:
    """As the database tells it, after the change was begun."""
    met = []

    def change(*, page: Page, **fields: Any) -> Any:
        met.append(1)
        if len(met) <= times:
            page.happens = "Never kept."
            raise OperationalError("deadlock detected") from Deadlock()
        return then(page=page, **fields)

    return change


def test_a_deadlock_is_gone_into_again(cast, client_of, monkeypatch):
    monkeypatch.setattr("api.pages.change_page", in_a_deadlock(2, change_page))
    monkeypatch.setattr("api.deadlocks.WAIT_SECONDS", 0.0)
    version = {"If-Match": f'"{cast.page.version}"'}
    answer = client_of("owner").patch(f"/api/v1/pages/{cast.page.pk}", {"said": "Hold!"}, format="json", headers=version)
    assert answer.status_code == 200
    assert Page.objects.values_list("said", "happens").get(pk=cast.page.pk) == ("Hold!", "")


def test_one_without_end_is_told(cast, client_of, monkeypatch):
    monkeypatch.setattr("api.pages.change_page", in_a_deadlock(100, change_page))
    monkeypatch.setattr("api.deadlocks.WAIT_SECONDS", 0.0)
    answer = client_of("owner").patch(f"/api/v1/pages/{cast.page.pk}", {"said": "Hold!"}, format="json", headers=ANY)
    assert (answer.status_code, answer.json()["type"]) == (409, "/problems/met-another-change")


def test_a_picture_is_sent_whole_the_second_time(cast, client_of, monkeypatch):
    def after_one(**fields: Any) -> Any:
        monkeypatch.setattr("api.revisions.receive_revision", receive_revision)
        fields["file"].read()
        raise OperationalError("deadlock detected") from Deadlock()

    monkeypatch.setattr("api.revisions.receive_revision", after_one)
    monkeypatch.setattr("api.deadlocks.WAIT_SECONDS", 0.0)
    body = {"image": upload(png()), "stage": "thumbnail"}
    answer = client_of("artist").post(
        f"/api/v1/pages/{cast.page.pk}/revisions", body, format="multipart", headers={"Idempotency-Key": "one"})
    assert answer.status_code == 201
    assert Revision.objects.get().picture.size_bytes == len(png())
