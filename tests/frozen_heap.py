"""A plugin: what is loaded until the first test starts is never freed, so it is not looked through for that with every test."""

import gc

import pytest


def pytest_configure(config: pytest.Config) -> None:
    gc.disable()


def pytest_collection_finish(session: pytest.Session) -> None:
    gc.freeze()
    gc.enable()
