"""On time, late and too late."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone

import pytest

from board.models import SchoolClass
from board.stages.deadlines import HandInFacts, effective_deadline, last_moment, minutes_late, refusal_of_hand_in

DUE = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
SECOND, MINUTE, DAY = timedelta(seconds=1), timedelta(minutes=1), timedelta(days=1)


@pytest.mark.parametrize(
    ("past", "grace_minutes", "late"),
    [(-DAY, 0, 0), (timedelta(0), 0, 0), (SECOND, 0, 1), (MINUTE, 0, 1), (MINUTE + SECOND, 0, 2), (10 * MINUTE, 10, 0),
     (10 * MINUTE + SECOND, 10, 11), (DAY, 10, 1440)],
)
def test_lateness_counts_from_the_deadline_once_the_grace_is_over(past, grace_minutes, late):
    assert minutes_late(DUE + past, DUE, grace_minutes) == late


@pytest.mark.parametrize("hours", [-12, -5, 0, 14])
def test_a_class_is_not_over_before_a_deadline_on_its_last_day_wherever_that_was_set(hours):
    last_minute = datetime(2026, 12, 18, 23, 59, tzinfo=timezone(timedelta(hours=hours)))
    runs = SchoolClass(ends_on=date(2026, 12, 18))
    assert not runs.is_over(last_minute)
    assert runs.is_over(last_minute + timedelta(hours=12 + hours) + MINUTE)


def test_an_extension_gives_time_and_never_takes_it():
    assert effective_deadline(DUE, DUE + DAY) == DUE + DAY
    assert effective_deadline(DUE, DUE - DAY) == effective_deadline(DUE, None) == DUE


def test_late_work_is_taken_for_its_days_or_without_end():
    assert last_moment(DUE, 10, None) is None
    assert last_moment(DUE, 10, 0) == DUE + 10 * MINUTE  # a grace is no lateness
    assert last_moment(DUE, 10, 3) == DUE + 3 * DAY
    latest = datetime.max.replace(tzinfo=UTC)
    assert last_moment(latest - DAY, 10, 3) == latest


TAKEN = HandInFacts(now=DUE, due_at=DUE, late_days=2)


@pytest.mark.parametrize(
    ("changed", "code"),
    [
        ({}, None),
        ({"now": DUE + 2 * DAY}, None),
        ({"now": DUE + 2 * DAY + SECOND}, "too-late"),
        ({"now": DUE + 900 * DAY, "late_days": None}, None),
        ({"due_at": None}, "not-asked-for"),
        ({"pages_without_picture": (2,)}, "pages-missing"),
        ({"pages_at_later_stage": (1,)}, "further-on"),
        ({"is_same_as_last": True}, "already-handed-in"),
        ({"pages_being_read": (2,)}, "being-read"),
        ({"pages_not_opened": (2,), "is_same_as_last": True}, "not-opened"),
        ({"class_ended_on": DUE.date(), "due_at": None}, "class-over"),
    ],
)
def test_a_hand_in_is_taken_or_refused_by_its_rule(changed, code):
    refusal = refusal_of_hand_in(replace(TAKEN, **changed))
    assert (refusal.code if refusal else None) == code


def test_the_refusal_names_the_pages():
    facts = replace(TAKEN, pages_without_picture=(1, 3))
    assert refusal_of_hand_in(facts).reason == "Pages 1, 3 have no picture at this stage yet."
