"""Requests made up from the schema: no answer is a fault of the server, and each is one that the schema tells of."""

import pytest
import schemathesis
from django.core.signals import request_finished, request_started
from django.db import close_old_connections
from hypothesis import HealthCheck, Phase, given, settings
from rest_framework.test import APIClient
from schemathesis import GenerationMode
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import content_type_conformance, response_schema_conformance, status_code_conformance

from board.wsgi import application
from tests.api.class_world import make_class_world
from tests.api.lasting import find_files_again, lasting
from tests.api.world import make_world
from tests.conftest import make_cast

CHECKS = [not_a_server_error, status_code_conformance, content_type_conformance, response_schema_conformance]
# Most of the time goes into making requests up. What only reads has little that could be made up.
FEW_TO_READ, FEW_TO_WRITE = (
    settings(max_examples=few, derandomize=True, deadline=None, database=None, phases=[Phase.generate],
             suppress_health_check=list(HealthCheck))
    for few in (2, 4)
)
schema = schemathesis.openapi.from_path("api/schema.yaml")
# Streams and files are held by tests of their own.
asked = schema.exclude(path_regex="/(events|file|renditions/.*|export|table-file)$").exclude(path_regex="/tokens$")
OPERATIONS = [operation.ok() for operation in asked.get_all_operations()]


@pytest.fixture
def one_connection():
    """A request ends with its connection closed; here the test's own transaction has to outlive it."""
    signals = (request_started, request_finished)
    for signal in signals:
        signal.disconnect(close_old_connections)
    yield
    for signal in signals:
        signal.connect(close_old_connections)


def session_on_one_of_everything() -> str:
    world = make_world(make_cast())
    owner = world.cast.people["owner"]
    make_class_world(instructor=owner)
    client = APIClient()
    client.force_login(owner)
    return client.cookies["sessionid"].value


@pytest.fixture(scope="module")
def made(django_db_setup, django_db_blocker, tmp_path_factory):
    folder = tmp_path_factory.mktemp("files")
    with lasting(session_on_one_of_everything, django_db_blocker, folder) as session:
        yield session, folder


@pytest.fixture
def owner(made, db, one_connection, files_of_their_own, tmp_path):
    find_files_again(made[1], tmp_path / "files")
    return made[0]


@pytest.mark.parametrize("operation", OPERATIONS, ids=lambda operation: operation.label)
def test_no_made_up_request_breaks_the_server(operation, owner):
    """Some requests as the schema has them, and some that it forbids."""
    few = FEW_TO_READ if operation.method.upper() == "GET" else FEW_TO_WRITE

    @few
    @given(case=operation.as_strategy(generation_mode=GenerationMode.POSITIVE))
    def ask_rightly(case):
        ask(case)

    @few
    @given(case=operation.as_strategy(generation_mode=GenerationMode.NEGATIVE))
    def ask_wrongly(case):
        ask(case)

    def ask(case):
        case.cookies = {"sessionid": owner}
        case.headers = {**(case.headers or {}), "Accept-Encoding": "identity"}  # called in this process, it unpacks nothing
        response = case.call(app=application)
        case.validate_response(response, checks=CHECKS)

    ask_rightly()
    ask_wrongly()
