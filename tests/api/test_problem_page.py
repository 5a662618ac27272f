"""The `type` of every problem leads to a page that says what it means and what to do."""

import pytest
from rest_framework.exceptions import APIException
from rest_framework.test import APIClient

from api.problem_types import MEANINGS, WHAT_TO_DO, problem_types
from board.errors import BoardError


def all_under(kind: type) -> set[type]:
    return {one for direct in kind.__subclasses__() for one in (direct, *all_under(direct))}


def test_every_error_that_is_raised_is_told():
    assert set(WHAT_TO_DO) == all_under(BoardError) | set(MEANINGS)
    framework = {one for one in all_under(APIException) if one.__module__ == APIException.__module__}
    assert framework == set(MEANINGS)
    assert all(kind.meaning and kind.to_do for kind in problem_types().values())


@pytest.mark.parametrize("name", sorted(problem_types()))
def test_each_has_its_page_without_sign_in(db, client, name):
    kind = problem_types()[name]
    html = client.get(f"/problems/{name}").content.decode()
    assert kind.title in html and str(kind.status) in html and "What to do" in html


@pytest.mark.parametrize(("ask", "status"), [
    (lambda client, board: client.get("/api/v1/boards/99999"), 404),
    (lambda client, board: client.get("/api/v1/boards?limit=0"), 400),
    (lambda client, board: client.patch(f"/api/v1/boards/{board.pk}", "<x/>", content_type="text/xml"), 415),
    (lambda client, board: APIClient().get("/api/v1/boards"), 401),
])
def test_what_is_answered_leads_to_its_page(cast, client_of, ask, status):
    client = client_of("owner")
    problem = ask(client, cast.board).json()
    page = client.get(problem["type"])
    assert (problem["status"], page.status_code) == (status, 200)
    assert problem["title"] in page.content.decode()


@pytest.mark.parametrize("address", ["/problems/no-such-thing", "/boards/99999", "/nowhere"])
def test_where_nothing_is_a_page_says_so(cast, client, address):
    client.force_login(cast.owner)
    answer = client.get(address)
    assert answer.status_code == 404 and "not yours to see" in answer.content.decode() and "owner" in answer.content.decode()
