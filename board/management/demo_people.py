"""Who may sign in to the demo board. The passwords stand here for all to read: the demo listens on this machine only."""

from dataclasses import dataclass


@dataclass(frozen=True)
class DemoPerson:
    name: str
    password: str
    does: str
    alias: str = ""


INSTRUCTOR = DemoPerson("merrow", "chalk-on-the-sleeve", "instructs a class", "Merrow")
DEMO_STUDENTS = (
    DemoPerson("teasel", "ink-under-the-nail", "is a student of it, with a page to hand in", "Teasel"),
    DemoPerson("brindle", "two-soft-pencils", "is a classmate", "Brindle"),
    DemoPerson("sedge", "paper-boat-fleet", "is another", "Sedge"),
)
DEMO_PEOPLE = (
    DemoPerson("wim", "blue-underdrawing", "draws the comic"),
    DemoPerson("oriel", "red-pencil-ready", "reads it and pins notes"),
    DemoPerson("tace", "paper-and-patience", "reads along"),
    INSTRUCTOR,
    *DEMO_STUDENTS,
)


def sign_ins_as_text() -> str:
    return "\n".join(f"  {person.name:<10} {person.password:<20} {person.does}" for person in DEMO_PEOPLE)
