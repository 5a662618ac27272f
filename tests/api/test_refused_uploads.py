"""Files that came and could not be opened: who drew them is told, and nothing stays handed in on them."""

from io import BytesIO

import pytest
from django.utils import timezone

from board.actions.intake import mark_refused
from board.actions.revisions import receive_revision, withdraw_revision
from board.models import Page, Revision
from tests.api.world import ready_revision
from tests.pictures import png

REASON = "The file is cut off or damaged. Save it again."


@pytest.fixture
def page(world) -> Page:
    return world.cast.page


def received(world, page: Page, **more) -> Revision:
    return receive_revision(
        seat=world.cast.seat("artist"), page=page, file=BytesIO(png(shade=31)), stage=more.pop("stage", "thumbnail"),
        file_name="p024.png", **more,
    )


def refused(world, page: Page, **more) -> Revision:
    revision = received(world, page, **more)
    mark_refused(uploaded=revision, reason=REASON)
    return revision


def told(client, page: Page) -> dict | None:
    return client.get(f"/api/v1/pages/{page.pk}").json()["refused_upload"]


def test_who_draws_the_page_is_told_why_and_nobody_else(world, page, client_of):
    revision = refused(world, page)
    row = told(client_of("artist"), page)
    assert (row["id"], row["file_name"], row["reason"]) == (revision.pk, "p024.png", REASON)
    assert told(client_of("editor"), page) is None
    assert [told(client_of(name), world.cast.own_page) for name in ("artist", "student")] == [None, None]


def test_it_is_told_until_a_newer_one_is_read_in_its_place_or_it_is_withdrawn(world, page, client_of):
    revision, artist = refused(world, page), client_of("artist")
    received(world, page)
    ready_revision(world.cast, page, "artist", stage="pencil", shade=32)
    assert told(artist, page)["id"] == revision.pk  # the one is not read yet, and the other is for another stage
    ready_revision(world.cast, page, "artist", shade=33)
    assert told(artist, page) is None
    beside = refused(world, page, alternate="B")
    assert told(artist, page)["id"] == beside.pk
    withdraw_revision(seat=world.cast.seat("artist"), revision=beside)
    assert told(artist, page) is None


def test_a_picture_that_nobody_has_read_is_not_handed_in(world, page, client_of):
    received(world, page)
    url = f"/api/v1/pages/{page.pk}/stage-moves"
    answer = client_of("artist").post(url, {"move": "hand-in"}, HTTP_IF_MATCH="*")
    assert (answer.status_code, answer.json()["code"]) == (409, "being-read")
    Revision.objects.filter(page=page).update(state="ready")
    assert client_of("artist").post(url, {"move": "hand-in"}, HTTP_IF_MATCH="*").status_code == 201


def test_nothing_stays_handed_in_on_a_file_that_cannot_be_opened(world, page):
    Revision.objects.filter(page=page).update(withdrawn_at=timezone.now())
    Page.objects.filter(pk=page.pk).update(handed_in_at=timezone.now())
    refused(world, page)
    page.refresh_from_db()
    assert (page.handed_in_at, page.events.last().kind) == (None, "page-hand-in-taken-back")


def test_what_was_handed_in_before_stays_so(world, page):
    Page.objects.filter(pk=page.pk).update(handed_in_at=timezone.now())
    refused(world, page)
    page.refresh_from_db()
    assert page.handed_in_at is not None
