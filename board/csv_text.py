"""Tables as comma-separated values (RFC 4180), safe to open in a spreadsheet."""

import csv
from collections.abc import Iterable, Sequence
from io import StringIO

# A cell that begins so is read as a formula by spreadsheets, and could run: OWASP, "CSV Injection".
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def safe_cell(value: object) -> str:
    """Text as it is; what would be a formula gets an apostrophe before it. Numbers stay numbers."""
    if value is None:
        return ""
    if isinstance(value, (int, float)):
        return str(value)
    text = str(value)
    return f"'{text}" if text.lstrip(" ").startswith(FORMULA_STARTS) else text


def table_as_csv(head: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    out = StringIO()
    writer = csv.writer(out)
    writer.writerow([safe_cell(cell) for cell in head])
    writer.writerows([safe_cell(cell) for cell in row] for row in rows)
    return out.getvalue()
