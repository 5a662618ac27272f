"""Every error is a problem document (RFC 9457) that says what to do."""

import pytest
from rest_framework.test import APIClient

from board.models import Revision
from board.upload_limits import UploadLimits
from tests.pictures import upload


@pytest.mark.parametrize(
    ("method", "path", "status"),
    [("get", "/api/v1/boards/99999", 404), ("get", "/api/v1/nothing/here", 404), ("put", "/api/v1/boards", 405),
     ("post", "/api/v1/boards", 400), ("get", "/api/v1/boards?limit=abc", 400)],
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


@pytest.mark.parametrize(("path", "levels", "is_refused_for_it"), [
    ("tokens", 200_000, True), ("boards", 700, True), ("boards", 33, True), ("boards", 31, False)])
def test_json_that_is_nested_deep_is_refused_in_words(cast, client_of, path, levels, is_refused_for_it):
    who, nested = "anonymous" if path == "tokens" else "owner", "[" * levels + "1" + "]" * levels
    answer = client_of(who).post(f"/api/v1/{path}", f'{{"title": {nested}}}', content_type="application/json")
    assert answer.status_code == 400
    assert ("nested deeper than the 32 levels" in answer.json()["detail"]) == is_refused_for_it


def test_a_body_of_a_kind_that_is_not_read_is_refused(cast, client_of):
    answer = client_of("owner").post("/api/v1/boards", "<board/>", content_type="application/xml")
    assert answer.status_code == 415


@pytest.mark.parametrize(("method", "path", "sent_as", "words"), [
    ("post", "pages/{page}/revisions", "application/json", "Send the file as multipart/form-data, in the field “image”."),
    ("post", "boards/{board}/sheets", "image/png", "Send the file as multipart/form-data, in the field “image”."),
    ("put", "references/{reference}/camera", "text/plain",
     "in the field “gltf”; or without a file JSON, with the header Content-Type: application/json."),
    ("post", "pages/{page}/notes", "application/x-www-form-urlencoded", "Send JSON, with the header Content-Type"),
    ("post", "boards/{board}/sendings", "multipart/form-data; boundary=x", "This came as “multipart/form-data; boundary=x”."),
    ("post", "tokens", "", "This came as nothing that says what it is."),
])
def test_what_came_in_another_form_is_told_in_which_it_is_taken(world, client_of, method, path, sent_as, words):
    url = "/api/v1/" + path.format(page=world.cast.page.pk, board=world.cast.board.pk, reference=world.reference.pk)
    answer = client_of("artist").generic(method.upper(), url, "{}", content_type=sent_as)
    assert answer.status_code == 415
    assert words in answer.json()["detail"]


def test_fields_are_named_in_the_problem(cast, client_of):
    answer = client_of("owner").post("/api/v1/boards", {"title": "", "trim_width_mm": "wide"})
    assert {"title", "trim_width_mm"} <= answer.json()["errors"].keys()


def test_half_a_letter_is_told_of_as_it_came(cast, client_of):
    body = b'{"title": "The mill", "reading": "\\ud800"}'
    answer = client_of("owner").post("/api/v1/boards", body, content_type="application/json")
    assert answer.status_code == 400
    assert answer.json()["errors"] == {"reading": ["“\ud800” is not one of ltr, rtl."]}


def test_a_file_over_the_limit_is_cut_off(cast, client_of, settings):
    settings.UPLOAD_LIMITS = UploadLimits(most_bytes=1000)
    body = {"image": upload(b"\x89PNG" + b"0" * 200_000), "stage": "thumbnail"}
    answer = client_of("artist").post(f"/api/v1/pages/{cast.page.pk}/revisions", body, format="multipart")
    assert answer.status_code == 413
    assert "larger than" in answer.json()["detail"]
    assert not Revision.objects.exists()


def test_a_browsers_write_needs_its_csrf_token(cast):
    client = APIClient(enforce_csrf_checks=True)
    client.force_login(cast.owner)
    answer = client.post("/api/v1/boards", {"title": "Forged"})
    assert (answer.status_code, answer.json()["type"]) == (403, "/problems/csrf-failed")


def test_a_browser_with_its_csrf_token_may_write(cast):
    client = APIClient(enforce_csrf_checks=True)
    client.force_login(cast.owner)
    client.cookies["csrftoken"] = token = "t" * 32
    assert client.post("/api/v1/boards", {"title": "Salt"}, headers={"X-CSRFToken": token}).status_code == 201


def test_a_crash_is_noted_down_and_told_without_its_insides(cast, client_of, monkeypatch, caplog):
    def crash(*args: object, **kwargs: object) -> None:
        raise RuntimeError("secret of the house")

    monkeypatch.setattr("api.boards.create_board", crash)
    client = client_of("owner")
    client.raise_request_exception = False
    answer = client.post("/api/v1/boards", {"title": "Salt"})
    assert (answer.status_code, answer["Content-Type"]) == (500, "application/problem+json")
    assert "secret" not in answer.content.decode()
    assert "secret of the house" in caplog.text


def test_what_is_not_known_is_refused_by_name(cast, client_of):
    answer = client_of("owner").post("/api/v1/boards", {"title": "Salt", "titel": "Salt"})
    words, = answer.json()["errors"]["titel"]
    assert words.startswith("There is no such field here. Those there are: title, ")


def test_errors_inside_lists_say_where(world, client_of):
    url = f"/api/v1/revisions/{world.artists.revision.pk}/panels"
    panels = [{"polygon": [[0, 0], [1, 0], [1, 1]]}, {"polygon": [[0, 0]]}]
    answer = client_of("artist").put(url, {"panels": panels}, headers={"If-Match": "*"})
    assert list(answer.json()["errors"]) == ["panels.1.polygon"]


def test_what_may_be_done_is_told(cast, client_of):
    answer = client_of("owner").options(f"/api/v1/boards/{cast.board.pk}")
    assert (answer.status_code, answer["Allow"]) == (204, "GET, PATCH, HEAD, OPTIONS")


@pytest.mark.parametrize("number", [0, 2**63, 10**30])
def test_a_number_that_no_row_can_have_finds_nothing(cast, client_of, number):
    assert client_of("owner").get(f"/api/v1/pages/{number}").status_code == 404


def test_what_two_wrote_at_once_is_to_be_sent_again_and_is_no_crash(cast, client_of, monkeypatch):
    # As if the other one's page was not there yet when it was looked for.
    monkeypatch.setattr("board.actions.pages.numbers_are_free", lambda page: None)
    answer = client_of("owner").post(f"/api/v1/boards/{cast.board.pk}/pages", {"number": cast.page.number})
    assert (answer.status_code, answer.json()["type"]) == (409, "/problems/met-another-change")
    assert "send it again" in answer.json()["detail"]
