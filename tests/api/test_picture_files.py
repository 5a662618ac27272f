"""Files and renditions: to those who may, never as anything but a picture, in pieces."""

import io

import pytest
from asgiref.sync import sync_to_async
from django.test import AsyncClient
from PIL import Image

from tests.api.world import make_world
from tests.conftest import make_cast
from tests.pictures import picture, png, upload


def send(client, page, data: bytes, name: str = "page.png") -> dict:
    form = {"image": upload(data, name), "stage": "thumbnail"}
    return client.post(f"/api/v1/pages/{page.pk}/revisions", form, format="multipart").json()


@pytest.mark.parametrize(
    ("kind", "media_type", "shown"),
    [("PNG", "image/png", True), ("JPEG", "image/jpeg", True), ("WEBP", "image/webp", True), ("TIFF", "image/tiff", False)],
)
def test_inline_is_for_what_browsers_draw(cast, client_of, kind, media_type, shown):
    row = send(client_of("artist"), cast.page, picture(kind, mode="RGB"))
    answer = client_of("reader").get(row["file"] + "?inline")
    assert answer["Content-Type"] == media_type
    assert answer["Content-Disposition"].startswith("inline" if shown else "attachment")
    assert answer["Content-Security-Policy"] == "default-src 'none'; sandbox"


def test_a_name_with_odd_letters_is_kept_and_cannot_break_the_header(cast, client_of):
    row = send(client_of("artist"), cast.page, png(), name='../Mühle "3".png')
    header = client_of("reader").get(row["file"])["Content-Disposition"]
    assert header.startswith("attachment; filename*=utf-8''") and "/" not in header.split("''")[1]


def test_the_original_is_not_sent_again_to_who_has_it_but_the_right_to_it_is_asked_again(world, client_of):
    url = f"/api/v1/revisions/{world.artists.revision.pk}/file"
    first = client_of("reader").get(url)
    assert first["Cache-Control"] == "private, no-cache"
    assert client_of("reader").get(url, headers={"If-None-Match": first["ETag"]}).status_code == 304
    assert client_of("outsider").get(url, headers={"If-None-Match": first["ETag"]}).status_code == 404


def test_who_asks_for_a_picture_only_gets_it(world, client_of):
    url = f"/api/v1/revisions/{world.artists.revision.pk}/renditions/400"
    answer = client_of("reader").get(url, headers={"Accept": "image/webp"})
    assert Image.open(io.BytesIO(b"".join(answer.streaming_content))).size == (40, 60)


def test_a_file_that_the_storage_lost_is_a_problem_and_no_crash(world, client_of):
    picture_row = world.artists.revision.picture
    picture_row.sha256 = "0" * 64
    picture_row.save()
    answer = client_of("reader").get(f"/api/v1/revisions/{world.artists.revision.pk}/file")
    assert (answer.status_code, answer["Content-Type"]) == (404, "application/problem+json")


@pytest.mark.django_db(transaction=True)
@pytest.mark.filterwarnings("error:StreamingHttpResponse must consume")
async def test_under_asgi_it_is_sent_from_an_asynchronous_iterator():
    world = await sync_to_async(lambda: make_world(make_cast()))()
    client = AsyncClient()
    await client.aforce_login(world.cast.people["reader"])
    for tail in ("file", "renditions/400"):
        answer = await client.get(f"/api/v1/revisions/{world.artists.revision.pk}/{tail}")
        assert answer.is_async
        assert len(b"".join([chunk async for chunk in answer.streaming_content])) == int(answer["Content-Length"]) > 0
