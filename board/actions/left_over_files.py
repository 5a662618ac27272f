"""Pictures that nothing shows, and files that no row names: an upload or a job that broke off leaves them, a deletion that was cut
short; a reference that was taken away leaves its picture."""

import logging
import re
from collections.abc import Iterator
from contextlib import suppress
from datetime import datetime, timedelta

from django.db.models import Max

from board.actions.unused_files import drop_picture_if_unused, unused_pictures
from board.models import Picture, ReviewSheet, Underlay
from board.picture_files import drop_file, kept_files, written_at

logger = logging.getLogger(__name__)
OLD = timedelta(days=7)
MOST_AT_ONCE = 2000  # the others have their turn the next time
# What is written there, and nothing that others laid beside it; the model and field by which a row names what is in brackets.
NAMES = {
    "pictures": (re.compile(r"pictures/../([0-9a-f]{64})"), Picture, "sha256"),
    "renditions": (re.compile(r"renditions/../([0-9a-f]{64})-\d+\.webp"), Picture, "sha256"),
    "underlays": (re.compile(r"underlays/../([0-9a-f]{64})\.\w+"), Underlay, "digest"),
    "review-sheets": (re.compile(r"(review-sheets/\d+-[0-9a-f]{32}\.pdf)"), ReviewSheet, "file_name"),
}


def drop_left_over() -> int:
    """How many it were. What is newer than the newest picture that the database knows stays, and all of it where most files have no
    row: then these are another database's files, or a younger one's, which somebody may look for yet."""
    newest = Picture.objects.aggregate(newest=Max("created_at"))["newest"]
    if newest is None:
        return 0
    before = newest - OLD
    unused = list(unused_pictures().filter(created_at__lt=before).values_list("sha256", flat=True)[:MOST_AT_ONCE])
    return sum(drop_picture_if_unused(sha256) for sha256 in unused) + _drop_files_without_rows(before)


def _drop_files_without_rows(before: datetime) -> int:
    found = [(folder, name, key, is_named) for folder in NAMES for name, key, is_named in _files_of(folder)]
    left = [(folder, name, key) for folder, name, key, is_named in found if not is_named]
    if len(left) > len(found) / 2:
        logger.warning("%s of %s files have no row in this database. None is dropped.", len(left), len(found))
        return 0
    return sum(_drop_if_old(folder, name, key, before) for folder, name, key in left[:MOST_AT_ONCE])


def _files_of(folder: str) -> Iterator[tuple[str, str, bool]]:
    """Name, what a row would name of it, and whether one does."""
    pattern, model, field = NAMES[folder]
    for names in kept_files(folder):
        keys = {match[0]: match[1] for match in map(pattern.fullmatch, names) if match}
        rows = model._default_manager.filter(**{f"{field}__in": set(keys.values())})
        named = set(rows.values_list(field, flat=True))
        yield from ((name, key, key in named) for name, key in keys.items())


def _drop_if_old(folder: str, name: str, key: str, before: datetime) -> bool:
    with suppress(FileNotFoundError):
        if written_at(name) >= before:
            return False
        if NAMES[folder][1] is Picture:
            return drop_picture_if_unused(key, [name])
        drop_file(name)
        return True
    return False
