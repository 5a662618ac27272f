"""A roster of comma-separated values: looked at first, line by line, then taken over whole or not at all."""

from dataclasses import asdict, dataclass
from datetime import datetime

from django.contrib.auth import get_user_model
from django.db import transaction

from board.access import ClassSeat
from board.actions.enrolments import enrol_person
from board.actions.invitations import invite
from board.errors import NotValid
from board.models import Enrolment, Invitation, SchoolClass
from board.roster_csv import RosterLine, read_roster

ENROL, INVITE, THERE, NOTHING = DEEDS = ("enrol", "invite", "there", "nothing")


@dataclass(frozen=True)
class PlannedLine:
    line: RosterLine
    does: str  # enrol an account that is there, invite, "there" already, or nothing, since it has faults


def plan_roster(*, school_class: SchoolClass, text: str) -> list[PlannedLine]:
    """What importing it would do. Nothing is written."""
    try:
        lines = read_roster(text)
    except ValueError as error:
        raise NotValid(str(error)) from error
    names = [line.username for line in lines]
    accounts = set(get_user_model().objects.filter(username__in=names, is_active=True).values_list("username", flat=True))
    enrolled = set(
        Enrolment.objects.filter(school_class=school_class, user__username__in=names).values_list("user__username", flat=True)
    )
    invited = set(Invitation.objects.filter(school_class=school_class, username__in=names).values_list("username", flat=True))
    return [PlannedLine(line, _deed(line, accounts, enrolled | invited)) for line in lines]


def _deed(line: RosterLine, accounts: set[str], there: set[str]) -> str:
    if line.faults:
        return NOTHING
    if line.username in there:
        return THERE
    return ENROL if line.username in accounts else INVITE


@transaction.atomic
def import_roster(*, seat: ClassSeat, text: str, expires_at: datetime) -> tuple[list[Enrolment], list[Invitation]]:
    """Who was enrolled, and who is invited. A roster with a fault is not imported in part."""
    planned = plan_roster(school_class=seat.school_class, text=text)
    if faulty := {f"line {one.line.line}": list(one.line.faults) for one in planned if one.line.faults}:
        raise NotValid("Some lines of the roster cannot be used; nothing was imported.", errors=faulty)
    people = {
        user.get_username(): user
        for user in get_user_model().objects.filter(username__in=[one.line.username for one in planned if one.does == ENROL])
    }
    enrolled = [
        enrol_person(
            school_class=seat.school_class, user=people[one.line.username], alias=one.line.alias, is_minor=one.line.is_minor
        )
        for one in planned if one.does == ENROL
    ]
    invited = [invite(seat=seat, expires_at=expires_at, **_who(one.line)) for one in planned if one.does == INVITE]
    return enrolled, invited


def _who(line: RosterLine) -> dict:
    return {name: value for name, value in asdict(line).items() if name in ("username", "name", "alias", "is_minor")}
