"""Links to a seat on a board: who has one comes in, with an account or without, as long as it holds."""

from datetime import timedelta

import pytest
from django.contrib.auth import get_user_model
from django.utils import timezone

from board.actions.invitations import secret_of
from board.models import Member, SeatInvitation

API = "/api/v1"
PASSWORD = "a-long-oar-in-the-reeds"


@pytest.fixture
def link(cast, client_of):
    """`link(roles=["artist"])`: its secret, as the editor reads it."""

    def make(**fields) -> str:
        path, editor = f"{API}/boards/{cast.board.pk}/invitations", client_of("editor")
        made = editor.post(path, {"roles": ["artist"], **fields})
        assert made.status_code == 201 and made.json()["link"] is None
        row = editor.get(path).json()["results"][-1]
        assert row["link"].startswith("/join-board#")
        return row["link"].partition("#")[2]

    return make


def accept(client, **fields):
    return client.post(f"{API}/seat-invitation-acceptances", fields)


def preview(client, secret: str):
    return client.post(f"{API}/seat-invitation-previews", {"secret": secret})


def roles_of(username: str) -> list[str]:
    return Member.objects.get(user__username=username).roles


def test_somebody_new_gets_an_account_and_a_seat(cast, client_of, link):
    secret = link(roles=["artist", "editor"])
    weak = accept(client_of("anonymous"), secret=secret, username="fenwick", password="fen")
    assert weak.status_code == 400 and "password" in weak.json()["errors"]
    taken = accept(client_of("anonymous"), secret=secret, username="Reader", password=PASSWORD)
    assert taken.status_code == 409 and "sign in first" in taken.json()["detail"]
    answer = accept(client_of("anonymous"), secret=secret, username="fenwick", password=PASSWORD, name="Fenwick Oar")
    assert (answer.status_code, answer.json()["board"], answer.json()["username"]) == (201, cast.board.pk, "fenwick")
    person = get_user_model().objects.get(username="fenwick")
    assert person.check_password(PASSWORD) and person.get_full_name() == "Fenwick Oar"
    assert roles_of("fenwick") == ["editor", "artist"]
    event = cast.board.events.order_by("number").last()
    assert (event.kind, event.actor) == ("member-added", person)
    assert accept(client_of("anonymous"), secret=secret, username="second", password=PASSWORD).status_code == 404  # used up


def test_what_a_link_opens_is_told_before_anything_is_asked_and_uses_none_of_it_up(cast, client_of, link):
    secret = link(roles=["artist", "editor"])
    for whose in ("anonymous", "outsider"):
        assert preview(client_of(whose), secret).json() == {"board_title": cast.board.title, "roles": ["editor", "artist"]}
    assert accept(client_of("outsider"), secret=secret).status_code == 201
    assert preview(client_of("anonymous"), secret).status_code == 404


def test_who_has_an_account_keeps_it_and_gets_the_seat(client_of, link):
    assert accept(client_of("outsider"), secret=link(roles=["reader"])).status_code == 201
    assert roles_of("outsider") == ["reader"]


def test_who_sits_there_keeps_their_roles_and_the_link_its_uses(client_of, link):
    secret = link(roles=["editor"])
    assert accept(client_of("reader"), secret=secret).status_code == 409
    assert roles_of("reader") == ["reader"]
    assert accept(client_of("outsider"), secret=secret).status_code == 201


def test_a_link_holds_as_often_as_was_said(client_of, link):
    secret = link(uses=2)
    for name in ("first", "second"):
        assert accept(client_of("anonymous"), secret=secret, username=name, password=PASSWORD).status_code == 201
    assert not SeatInvitation.objects.exists()


def test_a_link_ends_or_is_taken_back(client_of, link):
    late = link()
    SeatInvitation.objects.update(expires_at=timezone.now() - timedelta(seconds=1))
    assert accept(client_of("outsider"), secret=late).status_code == 404
    secret = link()
    assert SeatInvitation.objects.count() == 1  # the one that ended is gone
    assert client_of("reader").delete(f"{API}/seat-invitations/{SeatInvitation.objects.get().pk}").status_code == 404
    assert client_of("editor").delete(f"{API}/seat-invitations/{SeatInvitation.objects.get().pk}").status_code == 204
    for no_more in (secret, "1", "1:forged", secret + "x"):
        assert accept(client_of("outsider"), secret=no_more).status_code == 404
        assert preview(client_of("outsider"), no_more).status_code == 404


@pytest.mark.parametrize(("method", "body"), [("patch", {"roles": ["artist"]}), ("delete", None)])
def test_links_go_with_the_right_of_whoever_made_them(cast, client_of, link, method, body):
    secret, member = link(), cast.board.members.get(user=cast.editor)
    answer = getattr(client_of("owner"), method)(f"{API}/members/{member.pk}", body)
    assert answer.status_code in (200, 204)
    assert accept(client_of("outsider"), secret=secret).status_code == 404


def test_a_link_into_a_class_is_none_to_a_board(in_class):
    assert accept(in_class.client("nobody"), secret=secret_of(in_class.invitation)).status_code == 404


@pytest.mark.parametrize("fields", [{"roles": []}, {"roles": ["owner"]}, {"uses": 0}, {"days": 91}])
def test_what_a_link_cannot_be(cast, client_of, fields):
    answer = client_of("editor").post(f"{API}/boards/{cast.board.pk}/invitations", {"roles": ["reader"], **fields})
    assert answer.status_code == 400 and [name.partition(".")[0] for name in answer.json()["errors"]] == list(fields)


def test_a_link_opens_nothing_that_got_its_number_later(cast, client_of, link):
    """As after a backup was put back: the rows since are gone, and their numbers are given again."""
    secret = link(roles=["reader"])
    row = SeatInvitation.objects.get()
    row.delete()
    SeatInvitation.objects.create(pk=row.pk, board=cast.board, roles=["editor"], expires_at=row.expires_at)
    assert accept(client_of("outsider"), secret=secret).status_code == 404
    assert not Member.objects.filter(user__username="outsider").exists()
