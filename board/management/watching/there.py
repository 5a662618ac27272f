"""What a page has of a picture already, and what stands in its place now."""

from collections.abc import Mapping, Sequence
from typing import Any

Row = Mapping[str, Any]  # a revision, as the API tells it


def there_already(rows: Sequence[Row], alternate: str, stage: str | None, sha256: str) -> Row | None:
    """The newest revision of these bytes, from wherever it was uploaded; at any stage where none is said."""
    same = [row for row in rows if (row["panel"], row["sha256"], row["alternate"]) == (None, sha256, alternate)]
    return _newest([row for row in same if stage in (None, row["stage"]) and row["state"] != "refused"])


def standing(rows: Sequence[Row], place: Row) -> Row | None:
    """The newest revision of the same alternate at the same stage that can be looked at; None where there is none."""
    of_place = [row for row in rows if all(row[name] == place[name] for name in ("panel", "alternate", "stage"))]
    return _newest([row for row in of_place if row["state"] != "refused" and row["withdrawn_at"] is None])


def _newest(rows: Sequence[Row]) -> Row | None:
    return max(rows, key=lambda row: row["number"], default=None)
