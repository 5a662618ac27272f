"""Optimistic locking: a write names the version it was made on."""

from typing import TypeVar

from board.actions.row_locks import hold_pages
from board.errors import StaleVersion
from board.models import Versioned

Row = TypeVar("Row", bound=Versioned)


def lock_version(row: Row, expected_version: int | None) -> Row:
    """The same row, read again under a lock; so is the page that it is on. Raises StaleVersion when it is not at
    `expected_version` any more."""
    hold_pages([getattr(row, "page_id", None)])
    locked = type(row)._default_manager.select_for_update(no_key=True).get(pk=row.pk)
    if expected_version is not None and locked.version != expected_version:
        raise stale(locked)
    return locked


def stale(row: Versioned) -> StaleVersion:
    noun = row._meta.verbose_name
    told = f"Someone changed this {noun} since you read it. Read the {noun} again, then send your change."
    return StaleVersion(told, current=entity_tag(row.version))


def entity_tag(version: int) -> str:
    return f'"{version}"'


def save_next_version(row: Versioned, *fields: str) -> None:
    row.version += 1
    row.save(update_fields=[*fields, "version"])
