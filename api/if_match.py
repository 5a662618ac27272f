"""`If-Match` (RFC 9110, 13.1.1): a write on a note, page or panel names the version it was made on. Tags compare strongly."""

import re

from rest_framework.request import Request

from board.errors import BoardError, NotValid, StaleVersion
from board.models import Versioned

TAG = re.compile(r'\s*((?:W/)?"[\x21\x23-\x7e\x80-\xff]*")\s*(?:,|$)')


class VersionNeeded(BoardError):
    """Say in If-Match which version you changed; the ETag that you read it with is what to send."""

    status = 428


def entity_tag(version: int) -> str:
    return f'"{version}"'


def version_named(request: Request, row: Versioned) -> int | None:
    """The version that the request was made on; None for `*`. Raises VersionNeeded, StaleVersion or NotValid."""
    header = request.headers.get("If-Match")
    if header is None:
        raise VersionNeeded
    if header.strip() == "*":
        return None
    if entity_tag(row.version) not in _tags(header):
        raise StaleVersion(current=entity_tag(row.version))
    return row.version


def _tags(header: str) -> list[str]:
    tags, at = [], 0
    while match := TAG.match(header, at):
        tags.append(match[1])
        at = match.end()
    if not tags or at < len(header):
        raise NotValid('If-Match carries entity tags in quotes, such as "3".')
    return tags
