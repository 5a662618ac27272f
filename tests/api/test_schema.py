"""The committed description of the API is the API, and valid OpenAPI 3.1."""

from io import StringIO
from pathlib import Path

from django.core.management import call_command

COMMITTED = Path(__file__).resolve().parent.parent.parent / "api" / "schema.yaml"


def test_the_committed_schema_is_up_to_date_and_valid():
    out = StringIO()
    call_command("spectacular", validate=True, fail_on_warn=True, stdout=out)
    assert out.getvalue().strip() == COMMITTED.read_text().strip(), "The API changed: run `make schema` and commit it."


def test_it_is_served_to_everyone(cast, client_of):
    answer = client_of("anonymous").get("/api/v1/schema", HTTP_ACCEPT="application/vnd.oai.openapi+json")
    assert answer.status_code == 200
    assert b'"openapi":"3.1.0"' in answer.content.replace(b" ", b"")
