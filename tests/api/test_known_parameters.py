"""A slip in what stands behind the `?`, or in one of a few words, is refused with what there is: in silence it would answer all."""

from pathlib import Path

import pytest
import yaml
from django.urls import reverse

from api.endpoint import Endpoint
from api.known_parameters import known_parameters
from api.urls import urlpatterns
from tests.api.route_table import routes

SCHEMA = yaml.safe_load((Path(__file__).resolve().parent.parent.parent / "api" / "schema.yaml").read_text())
VIEWS = {row.name: row.callback.view_class for row in urlpatterns}
ANY = {"pk": 1, "nominal_px": 400, "kind": "svg", "model": 2, "check": "panels", "place": 1, "page": 3}
OF_NOTES = "source, state, tone, panel, check, page, scope, limit, cursor"


def described(name: str, method: str) -> set[str]:
    """The parameters behind the `?`, as the description has them."""
    pattern = next(row.pattern for row in urlpatterns if row.name == name)
    path = reverse(f"api:{name}", kwargs={word: ANY[word] for word in pattern.converters})
    operation = next(ways[method.lower()] for template, ways in SCHEMA["paths"].items() if same_place(template, path))
    return {one["name"] for one in operation.get("parameters", ()) if one["in"] == "query"}


def same_place(template: str, path: str) -> bool:
    parts, there = template.split("/"), path.split("/")
    return len(parts) == len(there) and all(a == b or a.startswith("{") for a, b in zip(parts, there, strict=True))


def test_what_is_taken_is_what_the_description_names():
    endpoints = [(name, method) for name, method in routes() if issubclass(VIEWS[name], Endpoint)]
    assert len(endpoints) > 100
    for name, method in endpoints:
        assert set(known_parameters(VIEWS[name], method)) == described(name, method), (name, method)


@pytest.mark.parametrize(("method", "path", "slip", "there_are"), [
    ("get", "boards/{board}/notes?sorce=person", "sorce", f"Those there are: {OF_NOTES}."),
    ("head", "boards/{board}/notes?sorce=person", "sorce", None),
    ("get", "boards/{board}?limit=3", "limit", "This request takes none."),
    ("get", "boards?format=json", "format", "Those there are: limit, cursor."),
    ("get", "boards/{board}/events?since=4", "since", "Those there are: after, limit."),
    ("get", "boards/{board}/drawings?page=1", "page", "This request takes none."),
    ("post", "boards/{board}/notes?tone=must", "tone", "This request takes none."),
])
def test_a_parameter_that_is_not_known_is_refused_by_name(cast, client_of, method, path, slip, there_are):
    answer = getattr(client_of("owner"), method)("/api/v1/" + path.format(board=cast.board.pk))
    assert (answer.status_code, answer["Content-Type"]) == (400, "application/problem+json")
    if there_are:
        assert answer.json()["errors"] == {slip: [f"There is no such parameter here. {there_are}"]}


@pytest.mark.parametrize(("path", "name", "words"), [
    ("boards/{board}/notes?state=opn", "state", "“opn” is not one of held, open, answered, settled, stet, gone."),
    ("boards/{board}/notes?state=open,opn", "state", "“opn” is not one of held, open, answered, settled, stet, gone."),
    ("boards/{board}/notes?state=", "state", "A value is missing. Leave the parameter out where nothing is asked of it."),
    ("boards/{board}/notes?state=open,", "state", "A value is missing. Leave the parameter out where nothing is asked of it."),
    ("boards/{board}/notes?state=open&state=held", "state", "Say it once."),
    ("boards/{board}/notes?source=all", "source", "“all” is not one of person, measured."),
    ("boards/{board}/pages?stage=ink", "stage", "“ink” is not one of thumbnail, pencil, final."),
    ("boards/{board}/panels?is_gone=maybe", "is_gone", "“maybe” is not one of true, false."),
])
def test_a_value_that_is_none_of_a_filter_is_refused_with_those_there_are(cast, client_of, path, name, words):
    answer = client_of("owner").get("/api/v1/" + path.format(board=cast.board.pk))
    assert (answer.status_code, answer.json()["errors"]) == (400, {name: [words]})


@pytest.mark.parametrize("path", ["notes?state=open,held&source=person", "panels?is_gone=False", "pages?stage=pencil&limit=500",
                                  "events?after=0&limit=1", "annotations?part=0&tone=ask"])
def test_what_is_known_is_taken(world, client_of, path):
    assert client_of("owner").get(f"/api/v1/boards/{world.cast.board.pk}/{path}").status_code in (200, 404)


def test_a_word_in_a_body_that_is_none_is_refused_with_those_there_are(cast, client_of):
    client = client_of("owner")
    answer = client.post(f"/api/v1/boards/{cast.board.pk}/notes", {"tone": "shout", "body": "Here."})
    assert answer.json()["errors"] == {"tone": ["“shout” is not one of must, try, ask, keep."]}
    answer = client.patch(f"/api/v1/boards/{cast.board.pk}", {"checks": ["panels", "colour"]})
    assert answer.json()["errors"]["checks.1"][0].startswith("“colour” is not one of panels, ")


def test_the_description_alone_is_told_its_form_in_the_address(cast, client_of):
    assert client_of("anonymous").get("/api/v1/schema?format=json")["Content-Type"].startswith("application/vnd.oai.openapi+json")
