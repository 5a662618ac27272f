"""The endpoints of classes: who may what, where each is, and a request that is right for it."""

from collections.abc import Callable
from typing import Any

from board.actions.invitations import secret_of
from tests.api.class_world import POINTS, ClassWorld

# Quillon, Marrowby and Tamsin are students of the class that Hollis instructs; Marrowby was given Quillon's work to read.
# "other-hollis" instructs another class, "elsewhere" is that one's student, "nobody" is in no class.
CLASS_PEOPLE = ("anonymous", "nobody", "elsewhere", "other-hollis", "quillon", "marrowby", "tamsin", "hollis")
OF_CLASS = "401 404 404 404 ok ok ok ok"
INSTRUCTORS = "401 404 404 404 403 403 403 ok"
INSTRUCTORS_SEE = "401 404 404 404 404 404 404 ok"
OWN_AND_INSTRUCTORS = "401 404 404 404 ok 404 404 ok"
OWN = "401 404 404 404 ok 404 404 403"
OWN_BY_INSTRUCTORS = "401 404 404 404 403 404 404 ok"
CRITIC_AND_INSTRUCTORS = "401 404 404 404 404 ok 404 ok"  # before it is delivered, whose work it is sees nothing
CRITIC = "401 404 404 404 404 ok 404 403"
SIGNED_IN = "401 ok ok ok ok ok ok ok"

CLASS_TABLE: dict[tuple[str, str], str] = {
    ("classes", "GET"): SIGNED_IN,
    ("classes", "POST"): SIGNED_IN,
    ("class", "GET"): OF_CLASS,
    ("class", "PATCH"): INSTRUCTORS,
    ("class-enrolments", "GET"): OF_CLASS,
    ("class-enrolments", "POST"): INSTRUCTORS,
    ("class-roster-previews", "POST"): INSTRUCTORS,
    ("class-roster-imports", "POST"): INSTRUCTORS,
    ("class-invitations", "GET"): INSTRUCTORS,
    ("class-invitations", "POST"): INSTRUCTORS,
    ("class-assignments", "GET"): OF_CLASS,
    ("class-assignments", "POST"): INSTRUCTORS,
    ("invitation", "DELETE"): INSTRUCTORS_SEE,
    ("invitation-previews", "POST"): "ok ok ok ok ok ok ok ok",
    # With the link. Who is in the class already is told so.
    ("invitation-acceptances", "POST"): "ok ok ok ok 409 409 409 409",
    ("enrolment", "GET"): OWN_AND_INSTRUCTORS,
    ("enrolment", "PATCH"): OWN_BY_INSTRUCTORS,
    ("enrolment-progress", "GET"): OWN_AND_INSTRUCTORS,
    ("enrolment-export", "GET"): OWN_AND_INSTRUCTORS,
    ("enrolment-deletion", "GET"): OWN_AND_INSTRUCTORS,
    ("enrolment-deletion", "POST"): OWN_AND_INSTRUCTORS,
    ("assignment", "GET"): OF_CLASS,
    ("assignment", "PATCH"): INSTRUCTORS,
    ("assignment", "DELETE"): INSTRUCTORS.replace("ok", "409"),  # somebody drew for it
    ("assignment-table", "GET"): INSTRUCTORS,
    ("assignment-table-file", "GET"): INSTRUCTORS,
    ("assignment-shared-notes", "POST"): INSTRUCTORS,
    ("assignment-opened-pages", "GET"): OF_CLASS,
    ("assignment-opened-page", "GET"): OF_CLASS,
    ("assignment-rounds", "GET"): INSTRUCTORS,
    ("assignment-rounds", "POST"): INSTRUCTORS,
    ("assignment-critiques", "GET"): OF_CLASS,
    ("round", "GET"): INSTRUCTORS,
    ("round", "PATCH"): INSTRUCTORS,
    ("round", "DELETE"): INSTRUCTORS.replace("ok", "409"),  # somebody wrote in it
    ("round-newcomers", "POST"): INSTRUCTORS.replace("ok", "409"),  # all are in it
    ("round-delivery", "PUT"): INSTRUCTORS,
    ("critique", "GET"): CRITIC_AND_INSTRUCTORS,
    ("critique-points", "PUT"): CRITIC,
    ("critique-sending", "PUT"): CRITIC,
    ("critique-sending", "DELETE"): CRITIC,
    ("critique-page", "GET"): CRITIC_AND_INSTRUCTORS,
    ("work", "GET"): OWN_AND_INSTRUCTORS,
    ("work-marks", "PUT"): OWN_BY_INSTRUCTORS,
    ("work-hand-ins", "GET"): OWN_AND_INSTRUCTORS,
    ("work-hand-ins", "POST"): OWN,
    ("work-extensions", "GET"): OWN_AND_INSTRUCTORS,
    ("work-extensions", "POST"): OWN_BY_INSTRUCTORS,
    ("hand-in", "GET"): OWN_AND_INSTRUCTORS,
    ("extension", "DELETE"): OWN_BY_INSTRUCTORS,
}

LATER = "2030-01-31T18:00:00Z"
ROSTER = "username,name,alias,minor\nfenwick,Fenwick Oar,,no\n,,Little Owl,yes\n"


def class_arguments(world: ClassWorld, name: str) -> tuple:
    noun = "hand-in" if name == "hand-in" else name.partition("-")[0]
    if noun == "classes" or name in ("invitation-previews", "invitation-acceptances"):
        return ()
    first = {
        "class": world.school_class, "invitation": world.invitation, "enrolment": world.enrolment("quillon"),
        "assignment": world.assignment, "round": world.round, "critique": world.critique, "work": world.works["quillon"],
        "hand-in": world.hand_in, "extension": world.extension,
    }[noun]
    return (first.pk, *({"assignment-opened-page": (1, 400), "critique-page": (1, 400)}.get(name, ())))


def class_payload(world: ClassWorld, name: str, method: str) -> Any:
    stages = [{"stage": "thumbnail", "due_at": LATER}]
    payloads: dict[tuple[str, str], Callable[[], Any]] = {
        ("classes", "POST"): lambda: {"title": "Evening class", "ends_on": "2030-02-01"},
        ("class", "PATCH"): lambda: {"term": "Spring"},
        ("class-enrolments", "POST"): lambda: {"username": "nobody"},
        ("class-roster-previews", "POST"): lambda: {"csv": ROSTER},
        ("class-roster-imports", "POST"): lambda: {"csv": ROSTER},
        ("class-invitations", "POST"): lambda: {"uses": 30},
        ("class-assignments", "POST"): lambda: {"title": "Rain", "stages": stages},
        ("invitation-previews", "POST"): lambda: {"secret": secret_of(world.invitation)},
        ("invitation-acceptances", "POST"): lambda: {
            "secret": secret_of(world.invitation), "username": "fenwick", "password": "a-long-oar-in-the-reeds"
        },
        ("enrolment", "PATCH"): lambda: {"alias": "Heron"},
        ("assignment", "PATCH"): lambda: {"brief": "Two people, one door."},
        ("assignment-shared-notes", "POST"): lambda: {"kind": "stray-edge", "body": "Extend the edge to the eye level."},
        ("assignment-rounds", "POST"): lambda: {"stage": "thumbnail", "each_reads": 1, "due_at": LATER},
        ("round", "PATCH"): lambda: {"due_at": LATER},
        ("round-newcomers", "POST"): lambda: {"work": world.works["quillon"].pk},
        ("critique-points", "PUT"): lambda: {"points": POINTS},
        ("work-marks", "PUT"): lambda: {"marks": [{"criterion": world.assignment.criteria.get().pk, "level": 2}]},
        ("work-hand-ins", "POST"): lambda: {"stage": "thumbnail"},
        ("work-extensions", "POST"): lambda: {"stage": "thumbnail", "due_at": LATER},
    }
    return payloads.get((name, method), lambda: None)()
