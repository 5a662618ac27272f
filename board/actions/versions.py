"""Optimistic locking: a write names the version it was made on."""

from typing import TypeVar

from django.db import models

from board.errors import StaleVersion

Row = TypeVar("Row", bound=models.Model)


def lock_version(row: Row, expected_version: int | None) -> Row:
    """The same row, read again under a lock. Raises StaleVersion when it is not at `expected_version` any more."""
    locked = type(row)._default_manager.select_for_update().get(pk=row.pk)
    if expected_version is not None and locked.version != expected_version:  # type: ignore[attr-defined]
        raise StaleVersion(current=locked.version)  # type: ignore[attr-defined]
    return locked


def save_next_version(row: models.Model, *fields: str) -> None:
    row.version += 1  # type: ignore[attr-defined]
    row.save(update_fields=[*fields, "version"])
