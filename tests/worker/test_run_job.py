"""What the frame makes of each way that a handler can end, in this process."""

import threading
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from django.contrib.auth import get_user_model
from django.db import OperationalError
from django.utils import timezone

from board.actions.jobs import queue_job
from board.models import Board, Job, Page, Picture, Revision
from board.worker.handlers import HANDLERS, Handler
from board.worker.outcome import Outcome
from board.worker.picture_at_hand import _at_hand, at_hand
from board.worker.run_job import run_job
from tests.deadlock import Deadlock
from tests.worker.fake_handlers import lines, register, write_down

Queue = Callable[..., Job]
pytestmark = pytest.mark.django_db(transaction=True)


def run(job: Job, times: int = 1) -> Job:
    for _ in range(times):
        run_job(job.pk)
    job.refresh_from_db()
    return job


def test_what_a_handler_answers_is_kept_in_the_row(queue: Queue) -> None:
    register("work")
    job = run(queue("check/one", answer=7))
    assert (job.state, job.numbers, job.tries, job.reason) == ("done", {"answer": 7}, 1, "")
    assert job.seconds is not None and job.finished_at is not None


def test_a_second_message_for_a_row_does_nothing(queue: Queue, log: Path) -> None:
    register("work")
    run(queue("check/one"), times=2)
    assert lines(log).count("ended") == 1


def test_not_measured_is_an_answer_and_is_not_tried_again(queue: Queue) -> None:
    register("measure_nothing")
    job = run(queue("check/one"), times=2)
    assert (job.state, job.reason, job.tries) == ("not_measured", "2 segments found; 6 are needed", 1)


def test_what_goes_wrong_is_tried_a_few_times_and_then_says_so(queue: Queue, log: Path, settings) -> None:
    settings.MOST_TRIES = 3
    register("break_down")
    job = run(queue("check/one"), times=5)
    reason = "Something went wrong here (ZeroDivisionError); it was tried 3 of 3 times."
    assert (job.state, job.reason) == ("failed", reason)
    assert lines(log) == ["try 1", "try 2", "try 3", f"failed: {reason}"]


def test_a_full_disk_is_told(queue: Queue, settings) -> None:
    settings.MOST_TRIES = 1
    register("fill_the_disk")
    assert run(queue("check/one")).reason == "The server's disk is full; it was tried 1 of 1 times."


def test_a_deadlock_is_no_try(queue: Queue, log: Path, settings, monkeypatch: pytest.MonkeyPatch) -> None:
    settings.MOST_TRIES = 1
    register("work")
    job = queue("check/one", answer=7)
    with monkeypatch.context() as patched:
        patched.setattr("board.worker.run_job.finish_job", meet_another)
        run(job)
        assert (job.state, job.tries, job.reason) == ("queued", 0, "")
    assert (run(job).state, job.tries) == ("done", 1)


def meet_another(**of: object) -> bool:
    raise OperationalError("deadlock detected") from Deadlock()


def test_a_reason_for_people_is_given_as_it_is_and_at_once(queue: Queue, log: Path) -> None:
    register("say_why_not")
    job = run(queue("check/one"), times=3)
    assert (job.state, job.reason) == ("failed", "The file ends in the middle.")
    assert lines(log) == ["try 1", "failed: The file ends in the middle."]


def test_a_job_gets_no_more_memory_than_it_may_have(queue: Queue, settings) -> None:
    settings.JOB_MEMORY_MB = 64
    register("take_memory")
    assert run(queue("check/small", bytes=32 * 1024 * 1024)).state == "done"
    job = run(queue("check/large", bytes=128 * 1024 * 1024))
    assert (job.state, job.reason) == ("failed", "This takes more than the 64 MB of memory that one job may use.")
    bytearray(128 * 1024 * 1024)  # the ceiling was the job's, not the process's


def test_opencv_is_held_to_the_same_memory(queue: Queue, settings) -> None:
    settings.JOB_MEMORY_MB = 64
    HANDLERS["check"] = Handler("tests.worker.opencv_handler:fill")
    job = run(queue("check/large"))
    assert (job.state, job.reason) == ("failed", "This takes more than the 64 MB of memory that one job may use.")


def test_a_job_that_takes_too_long_is_stopped(queue: Queue, settings) -> None:
    settings.JOB_SECONDS, settings.MOST_TRIES = 0.4, 1
    register("sleep_deeply")
    job = run(queue("check/one", seconds=30))
    assert (job.state, job.reason) == ("failed", "This took longer than 0.4 seconds and was stopped.")
    assert job.seconds is not None and job.seconds < 10


def test_a_job_that_nobody_waits_for_any_more_is_broken_off(queue: Queue, log: Path, settings) -> None:
    settings.HEARTBEAT_SECONDS = 0.05
    register("sleep_deeply")
    job = queue("check/one", seconds=30)

    def ask_for_something_else() -> None:
        while not lines(log):
            time.sleep(0.01)
        queue("check/one", seconds=0)

    other = threading.Thread(target=ask_for_something_else)
    other.start()
    run(job)
    other.join()
    assert job.state == "queued"
    assert run(job).state == "done"


def test_a_running_job_gives_its_heartbeat(queue: Queue, settings) -> None:
    settings.HEARTBEAT_SECONDS = 0.05
    register("sleep_deeply")
    job = run(queue("check/one", seconds=0.5))
    assert job.heartbeat_at > job.started_at


def test_the_record_is_undone_when_it_goes_wrong_half_way(queue: Queue) -> None:
    HANDLERS["check"] = Handler("tests.worker.test_run_job:record_half")
    job = run(queue("check/one"))
    assert job.state == "queued"
    assert not Board.objects.filter(title="half written").exists()


def record_half(job: Job) -> Outcome:
    def record() -> None:
        Board.objects.create(title="half written")
        raise RuntimeError

    return Outcome({}, record)


def test_nothing_is_recorded_of_an_answer_that_came_too_late(queue: Queue) -> None:
    HANDLERS["check"] = Handler("tests.worker.test_run_job:answer_too_late")
    job = run(queue("check/one"))
    assert job.state == "queued"
    assert not Board.objects.filter(title="late").exists()


def answer_too_late(job: Job) -> Outcome:
    queue_job(board=job.board, kind="check", key=job.key, inputs={**job.inputs, "changed": True})
    return Outcome({}, lambda: Board.objects.create(title="late") and None)


@pytest.fixture
def revision() -> Revision:
    board = Board.objects.create(title="Spring flood")
    picture = Picture.objects.create(sha256="0" * 64, size_bytes=1, media_type="image/png")
    artist = get_user_model().objects.create_user("artist")
    page = Page.objects.create(board=board, number=1)
    return Revision.objects.create(page=page, number=1, stage="pencil", picture=picture, uploaded_by=artist)


def queue_of(revision: Revision, log: Path, kind: str, check_id: str = "") -> Job:
    return queue_job(
        board=revision.page.board, kind=kind, check_id=check_id, key=f"{kind}/{check_id}/{revision.pk}", revision=revision,
        inputs={"log": str(log)},
    )


def decode_and_queue_more(job: Job) -> Outcome:
    """Stands for any of the kinds: decodes, and intake queues what comes after it."""
    at_hand(job.revision.picture.sha256, lambda: write_down(job, "decoded"))
    write_down(job, str(job))

    def record() -> None:
        log = Path(job.inputs["log"])
        if job.kind == "intake":
            queue_of(job.revision, log, "check", "panels")
            queue_of(job.revision, log, "renditions")
        if job.check_id == "panels":
            queue_of(job.revision, log, "check", "perspective")
            queue_of(job.revision, log, "carry-notes")

    return Outcome({}, record)


def test_one_decode_serves_all_the_work_on_a_revision_in_its_order(revision: Revision, log: Path, monkeypatch) -> None:
    sent: list[int] = []
    monkeypatch.setattr("board.actions.jobs.send_job", lambda *, job_id: sent.append(job_id))
    for kind in ("intake", "renditions", "check", "carry-notes"):
        HANDLERS[kind] = Handler("tests.worker.test_run_job:decode_and_queue_more")
    intake = queue_of(revision, log, "intake")
    run(intake)
    assert lines(log) == ["decoded", "intake", "renditions", "check panels", "carry-notes", "check perspective"]
    assert set(Job.objects.values_list("state", flat=True)) == {"done"}
    assert sent == [intake.pk]  # the rest never left this worker
    assert not _at_hand  # and the picture is not held any longer


def another_page(revision: Revision) -> Revision:
    page = Page.objects.create(board=revision.page.board, number=2)
    return Revision.objects.create(page=page, number=1, stage="pencil", picture=revision.picture, uploaded_by=revision.uploaded_by)


def upload_meanwhile_and_answer(job: Job) -> Outcome:
    """As the panels of the first page are looked for, a picture of the second one comes."""
    write_down(job, f"{job} of page {job.revision.page.number}")

    def record() -> None:
        if job.check_id == "panels":
            queue_of(another_page(job.revision), Path(job.inputs["log"]), "intake")
        if job.kind == "intake":
            for kind in ("renditions", "check"):
                queue_of(job.revision, Path(job.inputs["log"]), kind)

    return Outcome({}, record)


def test_a_new_picture_is_read_before_what_is_still_to_be_measured(revision: Revision, log: Path, monkeypatch) -> None:
    sent: list[int] = []

    def send(*, job_id: int) -> None:
        sent.append(job_id)
        Job.objects.filter(pk=job_id).update(sent_at=timezone.now())

    monkeypatch.setattr("board.actions.jobs.send_job", send)
    for kind in ("intake", "renditions", "check"):
        HANDLERS[kind] = Handler("tests.worker.test_run_job:upload_meanwhile_and_answer")
    run([queue_of(revision, log, "check", check) for check in ("panels", "perspective")][0])
    assert lines(log) == ["check panels of page 1", "intake of page 2", "renditions of page 2", "check perspective of page 1"]
    assert Job.objects.get(state="queued").pk in sent  # the second page's check comes by its own message


def test_any_message_has_an_upload_read_first_but_one_that_went_wrong_waits(revision: Revision, log: Path) -> None:
    register("work")
    register("break_down", "intake")
    check, intake = queue_of(revision, log, "check"), queue_of(another_page(revision), log, "intake")
    Job.objects.filter(pk=intake.pk).update(sent_at=timezone.now())
    run(check)
    intake.refresh_from_db()
    assert (lines(log)[0], intake.state, intake.tries, check.state) == ("try 1", "queued", 1, "done")


def test_a_check_that_breaks_leaves_the_others_of_its_revision_alone(revision: Revision, log: Path) -> None:
    HANDLERS["renditions"] = Handler("tests.worker.fake_handlers:break_down")
    HANDLERS["check"] = Handler("tests.worker.fake_handlers:work")
    broken, sound = queue_of(revision, log, "renditions"), queue_of(revision, log, "check", "panels")
    run(broken)
    assert (broken.state, broken.tries) == ("queued", 1)  # once in this round: the sweep sends it again
    assert Job.objects.get(pk=sound.pk).state == "done"
