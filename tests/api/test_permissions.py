"""Who may do what, for every route and method. An endpoint that is not in the table fails."""

import pytest
from django.db import transaction
from django.db.models import F
from django.urls import reverse
from rest_framework.test import APIClient

from board.actions.revisions import receive_revision
from board.models import Revision
from tests.api.class_route_table import CLASS_TABLE
from tests.api.lasting import clients_of, find_files_again, lasting
from tests.api.route_table import FormBody, arguments_of, bare_bodies, beyond_all_numbers, payload_of, routes
from tests.api.world import SQUARE, World, make_world
from tests.conftest import make_cast
from tests.pictures import upload

# "student" asks about the page that is theirs, "classmate" (the same student) about one that is not.
PEOPLE = ("anonymous", "outsider", "reader", "student", "classmate", "artist", "editor", "instructor")
EVERYONE = "ok  ok  ok ok ok ok ok ok"
SIGNED_IN = "401 ok  ok ok ok ok ok ok"
MEMBERS = "401 404 ok ok ok ok ok ok"
WRITERS = "401 404 403 ok ok ok ok ok"
# Where one sees the page: a student sees their own.
PAGE_SEEN = "401 404 ok ok 404 ok ok ok"
PAGE_WRITERS = "401 404 403 ok 404 ok ok ok"
PAGE_DRAWERS = "401 404 403 ok 404 ok 403 403"
PAGE_REVIEWERS = "401 404 403 403 404 403 ok ok"
# "page" routes of a board-wide thing: a student is no reviewer and answers for no board.
RUN_BOARD = "401 404 403 403 403 ok ok ok"
REVIEWERS = "401 404 403 403 403 403 ok ok"
DRAWERS = "401 404 403 ok ok ok 403 403"
ITS_WRITER = "401 404 403 403 404 403 ok 403"
# Made of what one member may see: the editor's, in the world of these tests.
THEIRS = "401 404 404 404 404 404 ok 404"
# A sheet shows several pages at once: a student sees none but their own.
SHEET_SEEN = "401 404 ok 404 404 ok ok ok"
SHEET_DRAWERS = "401 404 403 404 404 ok 403 403"

TABLE: dict[tuple[str, str], str] = {
    ("tokens", "POST"): EVERYONE,  # with the right password
    ("tokens", "DELETE"): SIGNED_IN,
    ("me", "GET"): SIGNED_IN,
    ("me", "PATCH"): SIGNED_IN,
    # To whoever does not know the old one; with it: `test_account.py`.
    ("me-password", "PUT"): "401 403 403 403 403 403 403 403",
    ("checks", "GET"): SIGNED_IN,
    ("boards", "GET"): SIGNED_IN,
    ("boards", "POST"): SIGNED_IN,
    ("board", "GET"): MEMBERS,
    ("board", "PATCH"): RUN_BOARD,
    ("board-drawings", "GET"): MEMBERS,
    ("board-panels", "GET"): MEMBERS,
    ("board-script", "GET"): MEMBERS,
    ("board-members", "GET"): MEMBERS,
    ("board-members", "POST"): REVIEWERS,
    ("board-invitations", "GET"): REVIEWERS,
    ("board-invitations", "POST"): REVIEWERS,
    ("seat-invitation", "DELETE"): "401 404 404 404 404 404 ok ok",
    ("seat-invitation-previews", "POST"): "ok ok ok ok ok ok ok ok",
    # With the link. Who has a seat on the board already is told so.
    ("seat-invitation-acceptances", "POST"): "ok ok 409 409 409 409 409 409",
    ("member", "GET"): MEMBERS,
    ("member", "PATCH"): REVIEWERS,
    ("member", "DELETE"): "401 404 ok 403 403 403 ok ok",  # it is the reader's own
    ("board-pages", "GET"): MEMBERS,
    ("board-pages", "POST"): WRITERS,
    ("page", "GET"): PAGE_SEEN,
    ("page", "PATCH"): PAGE_WRITERS,
    ("page-chosen-alternate", "PUT"): PAGE_WRITERS,
    ("board-renumberings", "POST"): RUN_BOARD,
    ("board-script-previews", "POST"): RUN_BOARD,
    ("board-scripts", "POST"): RUN_BOARD,
    ("board-pace", "GET"): MEMBERS,
    ("board-last-look", "PUT"): MEMBERS,
    ("board-laid-aside-pages", "GET"): MEMBERS,
    ("page-laid-aside", "PUT"): "401 404 403 403 404 ok ok ok",
    ("page-laid-aside", "DELETE"): "401 404 403 403 404 ok ok ok",
    ("page-place", "PUT"): "401 404 403 403 404 ok ok ok",
    ("page-last-look", "PUT"): PAGE_SEEN,
    ("page-stage-moves", "GET"): PAGE_SEEN,
    ("page-stage-moves", "POST"): PAGE_DRAWERS,  # a hand-in
    ("page-revisions", "GET"): PAGE_SEEN,
    ("page-revisions", "POST"): PAGE_DRAWERS,
    ("page-revisions-in-brief", "GET"): PAGE_SEEN,
    ("revision", "GET"): PAGE_SEEN,
    ("revision-file", "GET"): PAGE_SEEN,
    ("revision-photo", "GET"): PAGE_SEEN,
    ("revision-rendition", "GET"): PAGE_SEEN,
    ("revision-withdrawal", "PUT"): PAGE_WRITERS,
    ("revision-withdrawal", "DELETE"): PAGE_WRITERS,
    ("revision-panels", "PUT"): PAGE_WRITERS,
    ("revision-registration", "GET"): PAGE_SEEN,
    ("revision-jobs", "GET"): PAGE_SEEN,
    ("revision-underlays", "POST"): PAGE_WRITERS,
    ("underlay", "GET"): PAGE_SEEN,
    ("underlay-files", "GET"): PAGE_SEEN,
    ("page-panels", "GET"): PAGE_SEEN,
    ("page-panels", "POST"): PAGE_WRITERS,
    ("panel", "GET"): PAGE_SEEN,
    ("panel", "PATCH"): PAGE_WRITERS,
    ("panel", "DELETE"): "401 404 403 409 404 409 409 409",  # it is drawn
    ("panel-history", "GET"): PAGE_SEEN,
    ("panel-still", "PUT"): PAGE_WRITERS,
    ("panel-still", "DELETE"): PAGE_WRITERS,
    ("panel-same-as", "GET"): PAGE_SEEN,
    ("panel-same-as-one", "PUT"): PAGE_WRITERS,
    ("panel-same-as-one", "DELETE"): PAGE_WRITERS,
    ("panel-still-search", "GET"): PAGE_SEEN,
    ("panel-still-search", "POST"): PAGE_WRITERS,
    ("panel-still-placement", "PUT"): PAGE_WRITERS,
    ("panel-still-placement", "DELETE"): PAGE_WRITERS,
    ("panel-left-alone", "PUT"): PAGE_WRITERS,
    ("panel-left-alone", "DELETE"): PAGE_WRITERS,
    ("panel-perspective", "PUT"): PAGE_WRITERS,
    ("panel-perspective", "DELETE"): PAGE_WRITERS,
    ("panel-figure-posts", "PUT"): PAGE_WRITERS,
    ("panel-chosen-alternate", "PUT"): PAGE_WRITERS,
    ("panel-stage-moves", "GET"): PAGE_SEEN,
    ("panel-stage-moves", "POST"): PAGE_REVIEWERS,  # a send-back
    ("page-notes", "GET"): PAGE_SEEN,
    ("page-notes", "POST"): PAGE_WRITERS,
    ("board-notes", "GET"): MEMBERS,
    ("board-notes", "POST"): WRITERS,
    ("board-annotations", "GET"): MEMBERS,
    ("board-review-sheets", "GET"): MEMBERS,
    ("board-review-sheets", "POST"): MEMBERS,
    ("review-sheet", "GET"): THEIRS,
    ("review-sheet-file", "GET"): THEIRS,
    ("board-sendings", "POST"): WRITERS,
    ("note", "GET"): PAGE_SEEN,
    ("note-annotation", "GET"): PAGE_SEEN,
    ("note", "PATCH"): ITS_WRITER,
    ("note", "DELETE"): ITS_WRITER,
    ("note-answer", "PUT"): PAGE_WRITERS,
    ("note-answer", "DELETE"): PAGE_WRITERS,
    ("note-settlement", "PUT"): PAGE_REVIEWERS,
    ("note-settlement", "DELETE"): PAGE_REVIEWERS,
    ("note-stet", "PUT"): PAGE_REVIEWERS,  # of a person's note
    ("note-stet", "DELETE"): PAGE_REVIEWERS,
    ("note-replies", "GET"): PAGE_SEEN,
    ("note-replies", "POST"): PAGE_WRITERS,
    ("board-sheets", "GET"): MEMBERS,
    ("board-sheets", "POST"): DRAWERS,
    ("sheet", "GET"): SHEET_SEEN,
    ("sheet-file", "GET"): SHEET_SEEN,
    ("sheet-rendition", "GET"): SHEET_SEEN,
    ("sheet-cuts", "PUT"): SHEET_DRAWERS,
    ("board-references", "GET"): MEMBERS,
    ("board-references", "POST"): WRITERS,
    ("reference", "GET"): MEMBERS,
    ("reference", "PATCH"): RUN_BOARD,
    ("reference", "DELETE"): RUN_BOARD,
    ("reference-camera", "PUT"): RUN_BOARD,
    ("reference-camera", "DELETE"): RUN_BOARD,
    ("reference-file", "GET"): MEMBERS,
    ("reference-rendition", "GET"): MEMBERS,
    ("presets", "GET"): SIGNED_IN,
    ("board-characters", "GET"): MEMBERS,
    ("board-characters", "POST"): WRITERS,
    ("character", "GET"): MEMBERS,
    ("character", "PATCH"): WRITERS,
    ("character", "DELETE"): WRITERS,
    ("character-mergings", "POST"): WRITERS,
    ("character-sheets", "GET"): MEMBERS,
    ("character-sheets", "POST"): WRITERS,
    ("model-sheet", "GET"): MEMBERS,
    ("model-sheet", "PATCH"): WRITERS,
    ("model-sheet", "DELETE"): WRITERS,
    ("revision-figures", "GET"): PAGE_SEEN,
    ("revision-figures", "POST"): PAGE_WRITERS,
    ("revision-figure-proposals", "GET"): PAGE_SEEN,
    ("figure-proposal", "GET"): PAGE_SEEN,
    ("figure-proposal", "PATCH"): PAGE_WRITERS,
    ("figure", "GET"): PAGE_SEEN,
    ("figure", "PATCH"): PAGE_WRITERS,
    ("figure", "DELETE"): PAGE_WRITERS,
    ("board-jobs", "GET"): MEMBERS,
    ("job", "GET"): PAGE_SEEN,
    ("job-tries", "POST"): PAGE_WRITERS,
    ("board-events", "GET"): MEMBERS,
    ("schema", "GET"): EVERYONE,
}


def world_with_clients() -> tuple[World, dict[str, APIClient]]:
    world = make_world(make_cast())
    return world, clients_of(world.cast.people, [name for name in PEOPLE if name != "classmate"])


@pytest.fixture(scope="module")
def made(django_db_setup, django_db_blocker, tmp_path_factory):
    folder = tmp_path_factory.mktemp("files")
    with lasting(world_with_clients, django_db_blocker, folder) as (world, clients):
        yield world, folder, clients


@pytest.fixture
def world(made, db, files_of_their_own, tmp_path):
    find_files_again(made[1], tmp_path / "files")
    return made[0]


@pytest.fixture
def client_of(made):
    return made[2].__getitem__


def test_every_endpoint_says_who_may_use_it():
    assert set(routes()) == set(TABLE) | set(CLASS_TABLE)
    assert not set(TABLE) & set(CLASS_TABLE)


@pytest.mark.parametrize(("name", "method"), list(TABLE), ids=lambda value: value)
def test_only_those_may_who_the_table_says(world: World, client_of, name: str, method: str):
    _prepare(world, name)
    answers = {person: _ask(world, client_of, person, name, method) for person in PEOPLE}
    assert answers == dict(zip(PEOPLE, TABLE[name, method].split(), strict=True))


@pytest.mark.parametrize("name", [name for name, method in TABLE if method == "PATCH"])
def test_a_change_that_says_nothing_breaks_nothing(world: World, client_of, name: str):
    person = PEOPLE[TABLE[name, "PATCH"].split().index("ok")]
    url = reverse(f"api:{name}", args=arguments_of(name)(world, world.students if person == "student" else world.artists))
    for fields in bare_bodies(name):
        answer = client_of(person).patch(url, fields, headers={"If-Match": "*"})
        assert answer.status_code in (200, 400), answer.content


def test_a_number_beyond_all_numbers_leads_nowhere(world: World, client_of):
    for name, method in TABLE:
        for arguments in beyond_all_numbers(arguments_of(name)(world, world.artists)):
            answer = getattr(client_of("editor"), method.lower())(reverse(f"api:{name}", args=arguments), headers={"If-Match": "*"})
            assert answer.status_code in (400, 404), (name, method, arguments, answer.content)


def _prepare(world: World, name: str) -> None:
    world.cast.owner.set_password("millrace-7")
    world.cast.owner.save()
    if name == "revision-photo":
        Revision.objects.update(photo=F("picture"), photo_corners=SQUARE)
    if name == "panel-chosen-alternate":
        for on, drawer in ((world.artists, "artist"), (world.students, "student")):
            receive_revision(
                seat=world.cast.seat(drawer), page=on.page, file=upload(), stage="thumbnail", alternate="B", panel=on.panel
            )


def _ask(world: World, client_of, person: str, name: str, method: str) -> str:
    """"ok" where the request went through, else the status; whatever it did is undone."""
    client: APIClient = client_of("student" if person == "classmate" else person)
    on = world.students if person == "student" else world.artists
    arguments = (on.held.pk,) if (name, method, person) == ("note", "DELETE", "editor") else arguments_of(name)(world, on)
    payload = payload_of(name, method)(world, on)
    form = {"format": "multipart"} if isinstance(payload, FormBody) else {}
    with transaction.atomic():
        response = getattr(client, method.lower())(
            reverse(f"api:{name}", args=arguments), payload.fields if isinstance(payload, FormBody) else payload,
            headers={"If-Match": "*"}, **form,
        )
        transaction.set_rollback(True)
    assert response.status_code < 300 or response.status_code in (401, 403, 404, 409), response.content
    return "ok" if response.status_code < 300 else str(response.status_code)
