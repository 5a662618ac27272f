"""Every error is a problem document (RFC 9457) that says what to do."""

import pytest

from tests.pictures import upload


@pytest.mark.parametrize(
    ("method", "path", "status"),
    [("get", "/api/v1/boards/99999", 404), ("get", "/api/v1/nothing/here", 404), ("put", "/api/v1/boards", 405),
     ("post", "/api/v1/boards", 400), ("get", "/api/v1/boards?limit=abc", 200)],
)
def test_errors_are_problem_documents(cast, client_of, method, path, status):
    answer = getattr(client_of("owner"), method)(path)
    assert answer.status_code == status
    if status >= 400:
        assert answer["Content-Type"] == "application/problem+json"
        assert {"type", "title", "status"} <= answer.json().keys()
        assert answer.json()["status"] == status


def test_who_is_not_signed_in_is_told_so(cast, client_of):
    answer = client_of("anonymous").get("/api/v1/boards")
    assert answer.status_code == 401
    assert answer["Content-Type"] == "application/problem+json"


def test_a_body_that_is_no_json_is_refused(cast, client_of):
    answer = client_of("owner").post("/api/v1/boards", "{not json", content_type="application/json")
    assert answer.status_code == 400


def test_a_body_of_a_kind_that_is_not_read_is_refused(cast, client_of):
    answer = client_of("owner").post("/api/v1/boards", "<board/>", content_type="application/xml")
    assert answer.status_code == 415


def test_fields_are_named_in_the_problem(cast, client_of):
    answer = client_of("owner").post("/api/v1/boards", {"title": "", "trim_width_mm": "wide"})
    assert {"title", "trim_width_mm"} <= answer.json()["errors"].keys()


def test_a_file_over_the_limit_is_cut_off(cast, client_of, settings):
    from board.upload_limits import UploadLimits

    settings.UPLOAD_LIMITS = UploadLimits(most_bytes=1000)
    body = {"image": upload(b"\x89PNG" + b"0" * 200_000), "stage": "thumbnail"}
    answer = client_of("artist").post(f"/api/v1/pages/{cast.page.pk}/revisions", body, format="multipart")
    assert answer.status_code == 413


def test_a_browsers_write_needs_its_csrf_token(cast):
    from rest_framework.test import APIClient

    client = APIClient(enforce_csrf_checks=True)
    client.force_login(cast.owner)
    assert client.post("/api/v1/boards", {"title": "Forged"}).status_code == 403
