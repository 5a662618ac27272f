"""Who may sign in to the demo board. The passwords stand here for all to read: the demo listens on this machine only."""

from dataclasses import dataclass


@dataclass(frozen=True)
class DemoPerson:
    name: str
    password: str
    does: str


DEMO_PEOPLE = (
    DemoPerson("wim", "blue-underdrawing", "draws the comic"),
    DemoPerson("oriel", "red-pencil-ready", "reads it and pins notes"),
    DemoPerson("tace", "paper-and-patience", "reads along"),
)


def sign_ins_as_text() -> str:
    return "\n".join(f"  {person.name:<10} {person.password:<20} {person.does}" for person in DEMO_PEOPLE)
