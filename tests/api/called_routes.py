"""Calls any endpoint once, as the board's owner, with a request that is right for it; what it did is undone."""

from functools import cache

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.urls import reverse
from rest_framework.test import APIClient

from tests.api.class_route_table import class_arguments, class_payload
from tests.api.class_world import ClassWorld
from tests.api.route_table import FormBody, arguments_of, payload_of
from tests.api.world import World


def call_route(world: World, name: str, method: str) -> int:
    """The answer's status; its body is read to the end, so that files and streams are opened too."""
    on = world.artists
    return call(world.cast.people["owner"], name, method, arguments_of(name)(world, on), payload_of(name, method)(world, on))


def call_class_route(world: ClassWorld, name: str, method: str) -> int:
    return call(world.people["hollis"], name, method, class_arguments(world, name), class_payload(world, name, method))


def call(user: AbstractBaseUser, name: str, method: str, arguments: tuple, payload: object) -> int:
    client = client_of(user)
    is_form = isinstance(payload, FormBody)
    with transaction.atomic():
        response = getattr(client, method.lower())(
            reverse(f"api:{name}", args=arguments), payload.fields if isinstance(payload, FormBody) else payload,
            format="multipart" if is_form else "json", headers={"If-Match": "*"},
        )
        if response.streaming:
            assert b"".join(response.streaming_content)
        transaction.set_rollback(True)
    return response.status_code


@cache
def client_of(user: AbstractBaseUser) -> APIClient:
    """One for all calls: each client loads every middleware anew, one of which looks at all static files."""
    client = APIClient()
    client.force_login(user)
    return client
