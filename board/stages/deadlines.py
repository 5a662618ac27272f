"""When a stage is handed in on time, late, or too late: pure rules, (facts) -> Refusal | None."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, timedelta, timezone

from board.stages.move_rules import Refusal

# Where a day ends last. A class has its students and its deadlines where they are, the server its clock somewhere else.
LAST_PLACE = timezone(timedelta(hours=-12))


@dataclass(frozen=True)
class HandInFacts:
    """All that the rules of a hand-in look at."""

    now: datetime
    due_at: datetime | None  # None: the stage is not asked for
    grace_minutes: int = 0
    late_days: int | None = None  # None: late work is taken without end
    pages_without_picture: tuple[int, ...] = ()
    pages_being_read: tuple[int, ...] = ()  # nobody knows yet whether their files can be opened
    pages_not_opened: tuple[int, ...] = ()  # their last upload could not be opened, and an earlier one would be handed in
    pages_at_later_stage: tuple[int, ...] = ()
    is_same_as_last: bool = False
    class_ended_on: date | None = None  # None: it still runs


def effective_deadline(due_at: datetime, extension: datetime | None) -> datetime:
    """An extension only ever gives time: one before the deadline changes nothing."""
    return max(due_at, extension) if extension else due_at


def minutes_late(now: datetime, due_at: datetime, grace_minutes: int = 0) -> int:
    """0 up to the end of the grace; after it counted from the deadline itself, in whole minutes begun."""
    past = now - due_at
    if past <= timedelta(minutes=grace_minutes):
        return 0
    return -(-past // timedelta(minutes=1))


def last_moment(due_at: datetime, grace_minutes: int, late_days: int | None) -> datetime | None:
    """Until when a hand-in is taken; None: without end."""
    if late_days is None:
        return None
    last = datetime.max.replace(tzinfo=due_at.tzinfo)
    return due_at + min(max(timedelta(minutes=grace_minutes), timedelta(days=late_days)), last - due_at)


def the_class_still_runs(facts: HandInFacts) -> Refusal | None:
    return Refusal("class-over", class_is_over(facts.class_ended_on)) if facts.class_ended_on else None


def today_at_the_latest(now: datetime) -> date:
    """The day that it is where days begin and end last: all days before it are over everywhere."""
    return now.astimezone(LAST_PLACE).date()


def class_is_over(ended_on: date) -> str:
    return f"This class is over; its last day was {ended_on:%-d %B %Y}."


def the_stage_is_asked_for(facts: HandInFacts) -> Refusal | None:
    return None if facts.due_at else Refusal("not-asked-for", "This assignment does not ask for that stage.")


def not_too_late(facts: HandInFacts) -> Refusal | None:
    last = last_moment(facts.due_at, facts.grace_minutes, facts.late_days) if facts.due_at else None
    if last is None or facts.now <= last:
        return None
    return Refusal("too-late", "The time for late work is over too. Ask your instructor for an extension.")


def _told(pages: tuple[int, ...], one: str, several: str) -> str:
    return (one if len(pages) == 1 else several).format(", ".join(map(str, pages)))


def every_page_has_a_picture(facts: HandInFacts) -> Refusal | None:
    if not facts.pages_without_picture:
        return None
    pages = _told(facts.pages_without_picture, "Page {} has", "Pages {} have")
    return Refusal("pages-missing", f"{pages} no picture at this stage yet.")


def every_picture_was_read(facts: HandInFacts) -> Refusal | None:
    if not facts.pages_being_read:
        return None
    pictures = _told(facts.pages_being_read, "The picture of page {} is", "The pictures of pages {} are")
    return Refusal("being-read", f"{pictures} still being read. Wait a moment and try again.")


def every_upload_was_opened(facts: HandInFacts) -> Refusal | None:
    """Nobody hands in an earlier picture for the one that they meant."""
    if not facts.pages_not_opened:
        return None
    last = _told(facts.pages_not_opened, "The last upload of page {}", "The last uploads of pages {}")
    return Refusal("not-opened", f"{last} could not be opened. Upload it again, or withdraw it to hand in what was there before.")


def no_page_is_further_on(facts: HandInFacts) -> Refusal | None:
    if not facts.pages_at_later_stage:
        return None
    return Refusal("further-on", "Your pages are at a later stage already; this one is over.")


def something_is_new(facts: HandInFacts) -> Refusal | None:
    if not facts.is_same_as_last:
        return None
    return Refusal("already-handed-in", "These very pictures are handed in already; your receipt for them holds.")


RULES: tuple[Callable[[HandInFacts], Refusal | None], ...] = (
    the_class_still_runs, the_stage_is_asked_for, no_page_is_further_on, every_page_has_a_picture, every_upload_was_opened,
    something_is_new, not_too_late, every_picture_was_read,
)


def refusal_of_hand_in(facts: HandInFacts) -> Refusal | None:
    """What stands against this hand-in, the first thing only; None when it is taken."""
    return next((refusal for rule in RULES if (refusal := rule(facts))), None)
