"""Who may do what in a class, for every endpoint: those of classes, and those of boards on a board that an assignment made."""

import pytest
from django.db import transaction
from django.db.models import F
from django.urls import reverse
from rest_framework.test import APIClient

from board.actions.intake import mark_revision_ready
from board.actions.pages import change_page
from board.actions.revisions import receive_revision
from board.models import Critique, Revision
from tests.api.class_route_table import CLASS_PEOPLE, CLASS_TABLE, class_arguments, class_payload
from tests.api.class_world import AUTHOR, CRITIC, board_world, make_class_world
from tests.api.lasting import clients_of, find_files_again, lasting
from tests.api.route_table import OF_NOTHING, FormBody, arguments_of, bare_bodies, beyond_all_numbers, payload_of
from tests.api.test_permissions import PEOPLE, TABLE
from tests.api.world import SQUARE
from tests.conftest import make_person
from tests.pictures import png, upload

# Where an assigned board differs from any other: how many pages it has is set, stages are handed in whole, and no link leads to it.
ELSEWISE = {(AUTHOR, "board-pages", "POST"): "403", (AUTHOR, "page-stage-moves", "POST"): "409",
            ("hollis", "board-invitations", "GET"): "403", ("hollis", "board-invitations", "POST"): "403",
            # Its format, its checks and how many pages it has are set with the assignment.
            ("hollis", "board", "PATCH"): "403", ("hollis", "page-laid-aside", "PUT"): "409",
            ("hollis", "board-script-previews", "POST"): "403", ("hollis", "board-scripts", "POST"): "403",
            ("hollis", "seat-invitation", "DELETE"): "404"}
# In the table of boards the sheet and the reference are the artist's and the note is the editor's; here they are the student's own,
# and the instructor's.
ELSEWISE |= dict.fromkeys(
    [(AUTHOR, name, "GET") for name in ("sheet", "sheet-file", "sheet-rendition", "review-sheet", "review-sheet-file")]
    + [(AUTHOR, "sheet-cuts", "PUT"), (AUTHOR, "reference", "DELETE"), (AUTHOR, "reference", "PATCH"),
       (AUTHOR, "reference-camera", "PUT"),
       (AUTHOR, "reference-camera", "DELETE"), ("hollis", "note", "PATCH"), ("hollis", "note", "DELETE")],
    "ok",
)
# "the same as" whom in the table of boards; classmates, a peer critic among them, see no more than an outsider
STANDS_FOR = {AUTHOR: "student", "hollis": "instructor"} | dict.fromkeys(
    (CRITIC, "tamsin", "elsewhere", "other-hollis", "nobody"), "outsider"
)


@pytest.fixture(scope="module")
def made(django_db_setup, django_db_blocker, tmp_path_factory):
    folder = tmp_path_factory.mktemp("files")
    with lasting(with_everything, django_db_blocker, folder) as everything:
        yield everything, folder


def with_everything():
    world = make_class_world()
    make_person("outsider")  # whom a request would add to the board
    on_board = board_world(world)
    change_page(seat=world.board_seat("tamsin"), page=world.works["tamsin"].board.pages.get(), expected_version=None,
                is_open_to_students=True)
    receive_revision(seat=world.board_seat(AUTHOR), page=on_board.cast.page, file=upload(png(shade=92)), stage="thumbnail",
                     alternate="B", panel=on_board.artists.panel)
    return world, on_board, clients_of(world.people, CLASS_PEOPLE)


@pytest.fixture
def worlds(made, db, files_of_their_own, tmp_path):
    find_files_again(made[1], tmp_path / "files")
    return made[0]


def ask(client: APIClient, name: str, method: str, arguments: tuple, payload: object) -> str:
    """"ok" where the request went through, else the status; whatever it did is undone."""
    form = {"format": "multipart"} if isinstance(payload, FormBody) else {}
    with transaction.atomic():
        response = getattr(client, method.lower())(
            reverse(f"api:{name}", args=arguments), payload.fields if isinstance(payload, FormBody) else payload,
            headers={"If-Match": "*"}, **form,
        )
        transaction.set_rollback(True)
    assert response.status_code < 500, (name, method, response)
    return "ok" if response.status_code < 300 else str(response.status_code)


@pytest.mark.parametrize(("name", "method"), list(CLASS_TABLE), ids=lambda value: value)
def test_only_those_may_in_a_class_who_the_table_says(worlds, name, method):
    world, _, clients = worlds
    if name in ("critique-points", "critique-sending") and method == "PUT":
        Critique.objects.filter(pk=world.critique.pk).update(sent_at=None)
    if (name, method) == ("work-hand-ins", "POST"):
        seat, page = world.board_seat(AUTHOR), world.works[AUTHOR].board.pages.get()
        mark_revision_ready(revision=receive_revision(seat=seat, page=page, file=upload(png(shade=93)), stage="thumbnail"))
    answers = {
        person: ask(clients[person], name, method, class_arguments(world, name), class_payload(world, name, method))
        for person in CLASS_PEOPLE
    }
    assert answers == dict(zip(CLASS_PEOPLE, CLASS_TABLE[name, method].split(), strict=True))


@pytest.mark.parametrize("name", [name for name, method in CLASS_TABLE if method == "PATCH"])
def test_a_change_in_a_class_that_says_nothing_breaks_nothing(worlds, name):
    world, _, clients = worlds
    for fields in bare_bodies(name):
        assert ask(clients["hollis"], name, "PATCH", class_arguments(world, name), fields) in ("ok", "400")


def test_a_number_in_a_class_beyond_all_numbers_leads_nowhere(worlds):
    world, _, clients = worlds
    for name, method in CLASS_TABLE:
        for arguments in beyond_all_numbers(class_arguments(world, name)):
            assert ask(clients["hollis"], name, method, arguments, None) in ("400", "404"), (name, method, arguments)


@pytest.mark.parametrize("name", sorted({name for name, _ in TABLE} - OF_NOTHING))
def test_a_board_that_was_assigned_is_its_students_and_the_instructors_alone(worlds, name):
    _, on_board, clients = worlds
    if name == "revision-photo":
        Revision.objects.filter(pk=on_board.artists.revision.pk).update(photo=F("picture"), photo_corners=SQUARE)
    for method in [method for known, method in TABLE if known == name]:
        expected = dict(zip(PEOPLE, TABLE[name, method].split(), strict=True))
        note = (on_board.artists.held.pk,) if (name, method) == ("note", "DELETE") else None
        arguments = note or arguments_of(name)(on_board, on_board.artists)
        for person, like in STANDS_FOR.items():
            answer = ask(clients[person], name, method, arguments, payload_of(name, method)(on_board, on_board.artists))
            told = "404" if note and person == AUTHOR else ELSEWISE.get((person, name, method), expected[like])
            assert (person, method, answer) == (person, method, told)
