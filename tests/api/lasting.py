"""A world that is made once for a file of tests; each test finds it as it was made, since `db` undoes what the one before did."""

import shutil
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings
from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.test import override_settings
from rest_framework.test import APIClient

Blocker = Any  # of pytest-django


@contextmanager
def lasting(make: Callable[[], Any], blocker: Blocker, folder: Path) -> Iterator[Any]:
    """What `make` makes, with its files in `folder`, in a transaction that ends with the tests."""
    with blocker.unblock(), transaction.atomic():
        with _quiet(folder):
            made = make()
        yield made
        transaction.set_rollback(True)


@contextmanager
def _quiet(folder: Path) -> Iterator[None]:
    default = {"BACKEND": "board.file_storage.WholeFileStorage", "OPTIONS": {"location": str(folder)}}
    hashers = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    with pytest.MonkeyPatch.context() as patch, override_settings(
        STORAGES={**settings.STORAGES, "default": default}, PASSWORD_HASHERS=hashers
    ):
        patch.setattr("board.actions.jobs.send_job", lambda **_: True)
        yield


def find_files_again(made_files: Path, own_files: Path) -> None:
    """Each test writes into a folder of its own, so it gets copies of the world's files there."""
    shutil.copytree(made_files, own_files, dirs_exist_ok=True)


def clients_of(people: Mapping[str, AbstractBaseUser], names: Iterable[str]) -> dict[str, APIClient]:
    """Browsers in which these people are signed in, once for all tests; nobody is in that of "anonymous"."""
    clients = {name: APIClient() for name in names}
    for name, client in clients.items():
        if name != "anonymous":
            client.force_login(people[name])
    return clients
