"""Reads the roster of a class from comma-separated values, and says of each line what is wrong with it."""

import csv
import re
from collections import Counter
from dataclasses import dataclass, replace
from io import StringIO

COLUMNS = ("username", "name", "alias", "minor")
YES, NO = {"yes", "y", "true", "1", "x"}, {"", "no", "n", "false", "0"}
USERNAME = re.compile(r"[\w.@+-]{1,150}\Z")  # as Django's accounts have it
MOST_LINES = 2000


@dataclass(frozen=True)
class RosterLine:
    """One student. A minor's real name is not kept: the alias is the name."""

    line: int  # in the file, the head being line 1
    username: str = ""
    name: str = ""
    alias: str = ""
    is_minor: bool = False
    faults: tuple[str, ...] = ()


def read_roster(text: str) -> list[RosterLine]:
    """The lines in order, each with its faults. Raises ValueError where there is no head to read them by."""
    text = text.removeprefix("\ufeff")
    rows = csv.reader(StringIO(text, newline=""), delimiter=_delimiter(text), strict=False)
    try:
        head = [cell.strip().lower() for cell in next(rows, [])]
        if unknown := [name for name in head if name not in COLUMNS]:
            raise ValueError(f"The first line names the columns {', '.join(COLUMNS)}; “{unknown[0][:40]}” is none of them.")
        if "username" not in head and "alias" not in head:
            raise ValueError(f"The first line names the columns: {', '.join(COLUMNS)}. The username or the alias has to be there.")
        lines = [_line(rows.line_num, dict(zip(head, row, strict=False)), len(row) > len(head)) for row in rows if any(row)]
    except csv.Error as error:
        raise ValueError(f"Line {rows.line_num} cannot be read: {error}.") from error
    if len(lines) > MOST_LINES:
        raise ValueError(f"A roster has at most {MOST_LINES} lines.")
    return _with_doubles_told(lines)


def _delimiter(text: str) -> str:
    """Many spreadsheets write semicolons."""
    head = text.partition("\n")[0]
    return max(",;\t", key=head.count)


def _line(number: int, cells: dict[str, str], is_too_long: bool) -> RosterLine:
    cells = {name: (cell or "").strip() for name, cell in cells.items()}
    minor = cells.get("minor", "").lower()
    alias, is_minor = cells.get("alias", ""), minor in YES
    line = RosterLine(
        number, cells.get("username", "") or username_of(alias), "" if is_minor else cells.get("name", ""), alias, is_minor
    )
    faults = [
        (is_too_long, "There are more cells than columns; is a comma inside a name without quotes?"),
        (minor not in YES | NO, "“minor” is yes or no."),
        (is_minor and not alias, "A minor needs an alias."),
        (not USERNAME.match(line.username), "A username is letters, digits and . @ + - _, without spaces."),
        (len(alias) > 60, "An alias has at most 60 letters."),
        (len(line.name) > 150, "A name has at most 150 letters."),
    ]
    return replace(line, faults=tuple(words for is_so, words in faults if is_so))


def username_of(alias: str) -> str:
    return re.sub(r"[^\w.@+-]+", "-", alias.strip().lower()).strip("-")


def _with_doubles_told(lines: list[RosterLine]) -> list[RosterLine]:
    count = Counter(line.username.lower() for line in lines if line.username)
    first: dict[str, int] = {}
    told = []
    for line in lines:
        key = line.username.lower()
        if count[key] > 1 and key in first:
            line = replace(line, faults=(*line.faults, f"“{line.username}” stands on line {first[key]} already."))
        first.setdefault(key, line.line)
        told.append(line)
    return told
