"""What becomes of each file of the table: a clear answer, and nothing lost or half-written."""

import pytest

from board.models import Job, Picture, Revision
from board.picture_files import file_is_kept
from board.worker.run_job import run_job
from tests import bad_uploads
from tests.pictures import upload


def send(client, page, file: bad_uploads.Upload):
    body = {"image": upload(file.make(), name="page.png"), "stage": "thumbnail"}
    return client.post(f"/api/v1/pages/{page.pk}/revisions", body, format="multipart")


@pytest.mark.parametrize("file", bad_uploads.ALL, ids=lambda file: file.name)
def test_each_file_gets_its_answer(cast, client_of, file):
    answer = send(client_of("artist"), cast.page, file)
    assert answer.status_code == file.status, answer.content
    if file.status == 201:
        run_job(Job.objects.get(revision=answer.json()["id"], kind="intake").pk)
        revision = Revision.objects.get(pk=answer.json()["id"])
        assert revision.state == file.state, revision.reason
        assert file_is_kept(revision.picture.file_name)
        if file.state == "ready":
            assert (revision.picture.width_px, revision.picture.height_px) == file.size
            assert revision.picture.renditions.count() == 3
        else:
            assert revision.reason.endswith(".")
    else:
        assert answer["Content-Type"] == "application/problem+json"
        assert file.says and file.says in answer.json()["detail"]
        assert not Revision.objects.exists() and not Picture.objects.exists()


def test_the_table_is_long_enough():
    assert len(bad_uploads.ALL) >= 40
    assert len({file.name for file in bad_uploads.ALL}) == len(bad_uploads.ALL)
