"""A roster of comma-separated values: looked at first, line by line, then taken over whole or not at all."""

from collections.abc import Iterable
from dataclasses import asdict, dataclass, field
from datetime import datetime
from typing import Any, TypeVar

from django.contrib.auth import get_user_model
from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.db.models import Q
from django.db.models.functions import Lower
from django.utils import timezone

from board.access import ClassSeat
from board.actions.enrolments import change_enrolment, enrol_person
from board.actions.invitations import invite
from board.errors import NotValid
from board.models import Enrolment, Invitation, SchoolClass
from board.roster_csv import RosterLine, read_roster

ENROL, INVITE, CHANGE, THERE, NOTHING = DEEDS = ("enrol", "invite", "change", "there", "nothing")
Row = TypeVar("Row")


@dataclass(frozen=True)
class PlannedLine:
    """`does`: enrol an account that is there, invite, change who is there already, leave who is "there" as they are, or nothing,
    since the line has faults."""

    line: RosterLine
    does: str
    remarks: tuple[str, ...] = ()
    changes: dict[str, Any] = field(default_factory=dict)
    person: AbstractBaseUser | None = None
    place: Enrolment | Invitation | None = None


@dataclass(frozen=True)
class PlannedRoster:
    lines: list[PlannedLine]
    missing: list[Enrolment]  # students in the class who are on none of its lines

    @property
    def faults(self) -> int:
        return sum(bool(one.line.faults) for one in self.lines)


def plan_roster(*, school_class: SchoolClass, text: str) -> PlannedRoster:
    """What importing it would do. Nothing is written."""
    try:
        lines = read_roster(text)
    except ValueError as error:
        raise NotValid(str(error)) from error
    known = _Known(school_class, {line.username for line in lines})
    planned = [known.plan(line) for line in lines]
    named = {found.pk for line in lines if (found := _find(known.enrolments, line.username))}
    return PlannedRoster(planned, [one for one in known.in_class if one.pk not in named and not one.instructs])


@transaction.atomic
def import_roster(*, seat: ClassSeat, text: str, expires_at: datetime) -> tuple[list[Enrolment], list[Invitation], int]:
    """Who was enrolled, who is invited, and how many that were there already were changed. A roster with a fault is not imported
    in part."""
    lines = plan_roster(school_class=seat.school_class, text=text).lines
    if faulty := {f"line {one.line.line}": list(one.line.faults) for one in lines if one.line.faults}:
        raise NotValid("Some lines of the roster cannot be used; nothing was imported.", errors=faulty)
    enrolled = [
        enrol_person(school_class=seat.school_class, user=one.person, alias=one.line.alias, is_minor=one.line.is_minor)
        for one in lines if one.does == ENROL and one.person
    ]
    invited = [invite(seat=seat, expires_at=expires_at, **_who(one.line)) for one in lines if one.does == INVITE]
    changed = [one for one in lines if one.does == CHANGE]
    for one in changed:
        _change(one)
    return enrolled, invited, len(changed)


def _change(planned: PlannedLine) -> None:
    if isinstance(planned.place, Enrolment):
        change_enrolment(enrolment=planned.place, **planned.changes)
    elif planned.place:
        Invitation.objects.filter(pk=planned.place.pk).update(**planned.changes)


def _who(line: RosterLine) -> dict:
    return {name: value for name, value in asdict(line).items() if name in ("username", "name", "alias", "is_minor")}


# --- what is known of the people that a roster names -----------------------------------------------------------------------------


class _Known:
    """Names mean the same person whatever their case, since no second account is made of one."""

    def __init__(self, school_class: SchoolClass, names: set[str]) -> None:
        self.in_class = list(Enrolment.objects.filter(school_class=school_class).select_related("user"))
        self.enrolments = _by_name((one.user.get_username(), one) for one in self.in_class)
        waiting = Invitation.objects.filter(school_class=school_class, expires_at__gt=timezone.now()).exclude(username="")
        self.invitations = _by_name((one.username, one) for one in waiting)
        accounts = get_user_model().objects.filter(is_active=True).alias(lowered=Lower("username"))
        accounts = accounts.filter(Q(username__in=names) | Q(lowered__in={name.lower() for name in names}))
        self.accounts = _by_name((one.get_username(), one) for one in accounts)

    def plan(self, line: RosterLine) -> PlannedLine:
        if line.faults:
            return PlannedLine(line, NOTHING)
        place, person = _find(self.enrolments, line.username), _find(self.accounts, line.username)
        remarks = (*line.remarks, *self._alias_taken(line, place))
        if place:
            changes, told = _of_place(place, line)
            told = (*_other_case(line, place.user), *told, *remarks)
            return PlannedLine(line, CHANGE if changes else THERE, told, changes, place=place)
        if invited := _find(self.invitations, line.username):
            changes, told = _of_invitation(invited, line)
            return PlannedLine(line, CHANGE if changes else THERE, (*told, *remarks), changes, place=invited)
        if person:
            return PlannedLine(line, ENROL, (*_other_case(line, person), *remarks), person=person)
        return PlannedLine(line, INVITE, remarks)

    def _alias_taken(self, line: RosterLine, place: Enrolment | None) -> tuple[str, ...]:
        others = (one for one in self.in_class if one != place and one.alias.lower() == line.alias.lower() != "")
        return tuple(f"“{one.user.get_username()}” in the class has this alias too." for one in others)


def _by_name(rows: Iterable[tuple[str, Row]]) -> dict[str, Row]:
    exact = dict(rows)
    return {name.lower(): row for name, row in exact.items()} | exact


def _find(rows: dict[str, Row], name: str) -> Row | None:
    return rows.get(name) or rows.get(name.lower())


def _other_case(line: RosterLine, person: AbstractBaseUser) -> tuple[str, ...]:
    name = person.get_username()
    return () if name == line.username else (f"Signs in here as “{name}”.",)


def _of_place(place: Enrolment, line: RosterLine) -> tuple[dict[str, Any], tuple[str, ...]]:
    """What would change of somebody in the class, and what is said of it. No roster makes a minor's name readable again: who is one
    may have said so themself."""
    if place.instructs:
        return {}, ("Instructs this class.",)
    changes: dict[str, Any] = {}
    told = []
    if line.alias and line.alias != place.alias:
        changes["alias"] = line.alias
        told.append(f"The alias becomes “{line.alias}”{f', it was “{place.alias}”' if place.alias else ''}.")
    if line.is_minor and not place.is_minor:
        changes["is_minor"] = True
        told.append("A minor from now on.")
    if line.is_no_minor and place.is_minor:
        told.append("A minor in the class, and not here. That stays; it is changed beside the alias.")
    return changes, tuple(told)


def _of_invitation(invited: Invitation, line: RosterLine) -> tuple[dict[str, Any], tuple[str, ...]]:
    """Nobody but a roster said anything of this person yet: the newer one holds, in what it says."""
    is_minor = line.is_minor or (invited.is_minor and not line.is_no_minor)
    named = {"alias": line.alias or invited.alias, "name": "" if is_minor else line.name or invited.name, "is_minor": is_minor}
    changes = {name: value for name, value in named.items() if getattr(invited, name) != value}
    words = {"alias": f"the alias “{named['alias']}”", "name": f"the name “{named['name']}”" if named["name"] else "no name",
             "is_minor": "a minor" if is_minor else "no minor"}
    told = f"Invited before; now with {', '.join(words[name] for name in changes)}." if changes else "Invited before, not here yet."
    return changes, (told,)
