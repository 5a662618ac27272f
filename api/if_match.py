"""`If-Match` (RFC 9110, 13.1.1): a write on a note, page or panel names the version it was made on. Tags compare strongly."""

import re

from django.urls import reverse
from rest_framework.request import Request

from board.actions.versions import entity_tag, stale
from board.errors import BoardError, NotValid, StaleVersion
from board.models import Versioned

TAG = re.compile(r'\s*((?:W/)?"[\x21\x23-\x7e\x80-\xff]*")\s*(?:,|$)')


class VersionNeeded(BoardError):
    """Say in If-Match which version you changed; the ETag that you read it with is what to send."""

    status = 428


def version_named(request: Request, row: Versioned) -> int | None:
    """The version that the request was made on; None for `*`. Raises VersionNeeded, StaleVersion or NotValid."""
    header = request.headers.get("If-Match")
    if header is None:
        raise VersionNeeded(f"Say in If-Match which version you changed: {_where_read(row)}.")
    if header.strip() == "*":
        return None
    tags, current = _tags(header), entity_tag(row.version)
    if current not in tags:
        raise _weak(current) if f"W/{current}" in tags else stale(row)
    return row.version


def _weak(current: str) -> StaleVersion:
    told = (f"Nobody changed it since you read it, but W/{current} is a weak tag, and those never match here. Whatever packs "
            f"answers on the way to you may have made it so; send {current}.")
    return StaleVersion(told, current=current)


def version_after(row: Versioned, expected_version: int | None) -> int | None:
    """What a guarded write left behind; None where it is gone, or somebody else wrote since: theirs was not read."""
    version = type(row)._default_manager.filter(pk=row.pk).values_list("version", flat=True).first()
    is_ours = version is not None and (expected_version is None or version <= expected_version + 1)
    return version if is_ours else None


def _where_read(row: Versioned) -> str:
    """Of what the tag is, and where it is read: a write under one address may be guarded by the version of another's row."""
    noun = str(row._meta.verbose_name)
    return f"the ETag of this {noun}, which GET {reverse('api:' + noun.replace(' ', '-'), args=[row.pk])} answers with"


def _tags(header: str) -> list[str]:
    tags, at = [], 0
    while match := TAG.match(header, at):
        tags.append(match[1])
        at = match.end()
    if not tags or at < len(header):
        raise NotValid('If-Match carries entity tags in quotes, such as "3".')
    return tags
