"""The life of a row, without workers: `board.actions.jobs` and `board.actions.lost_jobs`."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest
from django.db import connections
from django.utils import timezone

from board.actions import lost_jobs
from board.actions.jobs import beat, claim_job, finish_job, job_not_measured, retry_or_fail_job
from board.actions.lost_jobs import requeue_lost_jobs, send_waiting_jobs
from board.models import Job

Queue = Callable[..., Job]


def claimed(job: Job) -> Job:
    claim = claim_job(job_id=job.pk)
    assert claim is not None
    return claim


def silent_for(job: Job, seconds: float) -> None:
    Job.objects.filter(pk=job.pk).update(heartbeat_at=timezone.now() - timedelta(seconds=seconds))


@pytest.mark.django_db
def test_the_same_inputs_are_not_measured_twice(queue: Queue) -> None:
    job = queue("check/one", lines=3)
    finish_job(job=claimed(job), numbers={"found": 1})
    again = queue("check/one", lines=3)
    assert (again.pk, again.state, again.numbers) == (job.pk, "done", {"found": 1})


@pytest.mark.django_db
def test_new_inputs_queue_the_same_row_again(queue: Queue) -> None:
    job = queue("check/one", lines=3)
    finish_job(job=claimed(job), numbers={"found": 1})
    again = queue("check/one", lines=4)
    assert (again.pk, again.state, again.tries) == (job.pk, "queued", 0)


@pytest.mark.django_db
def test_asked_for_again_with_the_same_inputs_it_is_queued_again(queue: Queue) -> None:
    job = queue("check/one", lines=3)
    finish_job(job=claimed(job), numbers={})
    assert queue("check/one", lines=3, force=True).state == "queued"


@pytest.mark.django_db
@pytest.mark.parametrize("is_at_work", [False, True])
def test_inputs_that_are_put_back_are_not_measured_again(queue: Queue, is_at_work: bool) -> None:
    finish_job(job=claimed(queue("check/one", lines=3)), numbers={"found": 1})
    changed = queue("check/one", lines=4)
    late = claimed(changed) if is_at_work else None
    queue("check/one", lines=3)
    job = Job.objects.get()
    assert (job.state, job.numbers, job.inputs["lines"], job.seconds is None) == ("done", {"found": 1}, 3, False)
    assert late is None or not finish_job(job=late, numbers={"found": 2})
    assert queue("check/one", lines=4).state == "queued"


@pytest.mark.django_db
def test_what_had_to_be_measured_anyhow_still_is_when_inputs_are_put_back(queue: Queue) -> None:
    finish_job(job=claimed(queue("check/one", lines=3)), numbers={"found": 1})
    for lines, force in ((3, True), (4, False)):
        queue("check/one", lines=lines, force=force)
    assert queue("check/one", lines=3).state == "queued"


@pytest.mark.django_db
def test_the_order_of_the_inputs_does_not_matter(queue: Queue) -> None:
    assert queue("check/one", a=1, b=2).digest == queue("check/two", b=2, a=1).digest


@pytest.mark.django_db(transaction=True)
def test_of_many_workers_one_gets_the_row(queue: Queue) -> None:
    job = queue("check/one")

    def claim(_: int) -> bool:
        try:
            return claim_job(job_id=job.pk) is not None
        finally:
            connections.close_all()

    with ThreadPoolExecutor(8) as workers:
        assert sum(workers.map(claim, range(16))) == 1
    job.refresh_from_db()
    assert (job.state, job.tries) == ("running", 1)


@pytest.mark.django_db
def test_an_answer_for_older_inputs_is_dropped(queue: Queue) -> None:
    late = claimed(queue("check/one", lines=3))
    newer = claimed(queue("check/one", lines=4))
    assert finish_job(job=newer, numbers={"found": "new"})
    assert not finish_job(job=late, numbers={"found": "old"})
    newer.refresh_from_db()
    assert newer.numbers == {"found": "new"}


@pytest.mark.django_db
def test_an_answer_for_older_inputs_is_dropped_before_the_newer_one_has_begun(queue: Queue) -> None:
    late = claimed(queue("check/one", lines=3))
    queue("check/one", lines=4)
    assert not job_not_measured(job=late, reason="2 segments found; 6 are needed")
    assert not beat(job=late)
    late.refresh_from_db()
    assert (late.state, late.reason) == ("queued", "")


@pytest.mark.django_db
def test_a_second_answer_from_the_same_claim_is_dropped(queue: Queue) -> None:
    job = claimed(queue("check/one"))
    assert finish_job(job=job, numbers={"found": 1})
    assert not finish_job(job=job, numbers={"found": 2})


@pytest.mark.django_db
def test_a_job_whose_worker_fell_silent_is_queued_again(queue: Queue) -> None:
    job = claimed(queue("check/one"))
    silent_for(job, seconds=60)
    assert requeue_lost_jobs(timezone.now()) == 1
    job.refresh_from_db()
    assert (job.state, job.tries, job.sent_at) == ("queued", 1, None)


@pytest.mark.django_db
def test_a_job_whose_worker_is_heard_of_is_left_to_it(queue: Queue) -> None:
    job = claimed(queue("check/one"))
    silent_for(job, seconds=60)
    assert beat(job=job)
    assert requeue_lost_jobs(timezone.now()) == 0


@pytest.mark.django_db
def test_a_job_that_stops_its_worker_every_time_fails_with_a_reason(queue: Queue, settings) -> None:
    settings.MOST_TRIES = 3
    told: list[str] = []
    job = queue("check/one")
    for _ in range(3):
        silent_for(claimed(job), seconds=60)
        requeue_lost_jobs(timezone.now(), when_failed=lambda failed: told.append(failed.reason))
    job.refresh_from_db()
    assert job.state == "failed"
    assert told == [job.reason] == ["The worker stopped in the middle of this job. It was tried 3 times."]


@pytest.mark.django_db
def test_one_row_that_cannot_be_told_of_does_not_hold_up_the_others(queue: Queue, settings) -> None:
    settings.MOST_TRIES = 1
    first, second = (claimed(queue(f"check/{number}")) for number in range(2))
    silent_for(first, seconds=60)
    silent_for(second, seconds=60)

    def tell(job: Job) -> None:
        if job.pk == first.pk:
            raise RuntimeError

    assert requeue_lost_jobs(timezone.now(), when_failed=tell) == 1
    assert [Job.objects.get(pk=job.pk).state for job in (first, second)] == ["running", "failed"]


@pytest.mark.django_db
def test_what_the_failure_tells_is_undone_with_it(queue: Queue, settings) -> None:
    settings.MOST_TRIES = 1
    job = claimed(queue("check/one"))

    def goes_wrong(_: Job) -> None:
        raise RuntimeError

    with pytest.raises(RuntimeError):
        retry_or_fail_job(job=job, reason="x", when_failed=goes_wrong)
    job.refresh_from_db()
    assert job.state == "running"


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("sent_seconds_ago", "messages", "is_sent"),
    [(None, 5, True), (60, 0, True), (60, 5, False), (60, None, False), (1, 0, False), (60 * 60, 5, True)],
)
def test_a_row_is_sent_again_when_its_message_must_be_lost(
    queue: Queue, settings, monkeypatch, sent_seconds_ago: int | None, messages: int | None, is_sent: bool
) -> None:
    """Never sent; or sent long ago while nothing waits. With a backlog its message is most likely there, until much later."""
    settings.LOST_AFTER_SECONDS = 15
    job = queue("check/one")
    ago = None if sent_seconds_ago is None else timezone.now() - timedelta(seconds=sent_seconds_ago)
    Job.objects.filter(pk=job.pk).update(sent_at=ago)
    sent: list[int] = []
    monkeypatch.setattr(lost_jobs, "messages_waiting", lambda: messages)
    monkeypatch.setattr(lost_jobs, "send_job", lambda *, job_id: sent.append(job_id) or True)
    assert send_waiting_jobs(timezone.now()) == (1 if is_sent else 0)
    assert sent == ([job.pk] if is_sent else [])


@pytest.mark.django_db
def test_the_sweep_does_not_knock_for_every_row_at_a_broker_that_is_away(queue: Queue, monkeypatch) -> None:
    for number in range(5):
        queue(f"check/{number}")
    knocks: list[int] = []
    monkeypatch.setattr(lost_jobs, "messages_waiting", lambda: None)
    monkeypatch.setattr(lost_jobs, "send_job", lambda *, job_id: bool(knocks.append(job_id)))
    assert send_waiting_jobs(timezone.now()) == 0
    assert len(knocks) == 1
