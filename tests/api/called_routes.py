"""Calls any endpoint once, as the board's owner, with a request that is right for it; what it did is undone."""

from django.db import transaction
from django.urls import reverse
from rest_framework.test import APIClient

from tests.api.route_table import FormBody, arguments_of, payload_of
from tests.api.world import World


def call_route(world: World, name: str, method: str) -> int:
    """The answer's status; its body is read to the end, so that files and streams are opened too."""
    client = APIClient()
    client.force_login(world.cast.people["owner"])
    on = world.artists
    payload = payload_of(name, method)(world, on)
    is_form = isinstance(payload, FormBody)
    with transaction.atomic():
        response = getattr(client, method.lower())(
            reverse(f"api:{name}", args=arguments_of(name)(world, on)), payload.fields if is_form else payload,
            format="multipart" if is_form else "json", headers={"If-Match": "*"},
        )
        if response.streaming:
            assert b"".join(response.streaming_content)
        transaction.set_rollback(True)
    return response.status_code
