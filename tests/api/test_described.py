"""Requests made up from the schema: no answer is a fault of the server, and each is one that the schema tells of."""

import pytest
import schemathesis
from django.core.signals import request_finished, request_started
from django.db import close_old_connections
from hypothesis import HealthCheck, Phase, settings
from rest_framework.test import APIClient
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import content_type_conformance, response_schema_conformance, status_code_conformance

from board.wsgi import application
from tests.api.world import make_world
from tests.conftest import make_cast

CHECKS = [not_a_server_error, status_code_conformance, content_type_conformance, response_schema_conformance]
FEW = settings(
    max_examples=3, derandomize=True, deadline=None, database=None, phases=[Phase.explicit, Phase.generate],
    suppress_health_check=list(HealthCheck),
)
schema = schemathesis.openapi.from_path("api/schema.yaml")
# Streams and files are held by tests of their own.
asked = schema.exclude(path_regex="/(events|file|renditions/.*)$").exclude(path_regex="/tokens$")


@pytest.fixture
def one_connection():
    """A request ends with its connection closed; here the test's own transaction has to outlive it."""
    signals = (request_started, request_finished)
    for signal in signals:
        signal.disconnect(close_old_connections)
    yield
    for signal in signals:
        signal.connect(close_old_connections)


@pytest.fixture
def owner(db, one_connection):
    world = make_world(make_cast())
    client = APIClient()
    client.force_login(world.cast.people["owner"])
    return client.cookies["sessionid"].value


@asked.parametrize()
@FEW
def test_no_made_up_request_breaks_the_server(case, owner):
    case.cookies = {"sessionid": owner}
    response = case.call(app=application)
    case.validate_response(response, checks=CHECKS)
