"""Reads the roster of a class from comma-separated values, and says of each line what is wrong with it."""

import csv
import re
import unicodedata
from dataclasses import dataclass, replace

COLUMNS = ("username", "name", "alias", "minor")
YES, NO = {"yes", "y", "true", "1", "x"}, {"", "no", "n", "false", "0"}
USERNAME = re.compile(r"[\w.@+-]{1,150}\Z")  # as Django's accounts have it
LINE_END = re.compile(r"\r\n|\r|\n")
LOST_LETTER = "\N{REPLACEMENT CHARACTER}"  # whoever read the file took its letters for those of another encoding
MOST_LINES, LONGEST_LINE = 2000, 5000


@dataclass(frozen=True)
class RosterLine:
    """One student. A minor's real name is not kept: the alias is the name."""

    line: int  # in the file, the head being line 1
    username: str = ""
    name: str = ""
    alias: str = ""
    is_minor: bool = False
    is_no_minor: bool = False  # said in so many words; a bare cell says nothing
    faults: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()  # to be looked at; the line can be used


def read_roster(text: str) -> list[RosterLine]:
    """The lines in order, each with its faults. Raises ValueError where there is no head to read them by."""
    lines = LINE_END.split(unicodedata.normalize("NFC", text.removeprefix("\ufeff")))
    if too_long := next((number for number, line in enumerate(lines, 1) if len(line) > LONGEST_LINE), None):
        raise ValueError(f"Line {too_long} is longer than any student’s. Is this a roster of comma-separated values?")
    delimiter = _delimiter(lines[0])
    rows = [_Row(number, *_cells(line, delimiter)) for number, line in enumerate(lines, 1)]
    head = [cell.strip().lower() for cell in rows[0].cells]
    if unknown := [name for name in head if name not in COLUMNS]:
        raise ValueError(f"The first line names the columns {', '.join(COLUMNS)}; “{unknown[0][:40]}” is none of them.")
    if "username" not in head and "alias" not in head:
        raise ValueError(f"The first line names the columns: {', '.join(COLUMNS)}. The username or the alias has to be there.")
    read = [_line(row, head) for row in rows[1:] if row.cells]
    if len(read) > MOST_LINES:
        raise ValueError(f"A roster has at most {MOST_LINES} lines.")
    return _with_doubles_told(read)


def _delimiter(head: str) -> str:
    """Many spreadsheets write semicolons."""
    return max(",;\t", key=head.count)


@dataclass(frozen=True)
class _Row:
    number: int
    cells: list[str]
    is_closed: bool  # each quotation mark is


def _cells(line: str, delimiter: str) -> tuple[list[str], bool]:
    """Without bare ones at the end: spreadsheets write those for columns that were once used.

    Each line is read alone. A quotation mark that is not closed would else take in the students on the lines behind it.
    """
    try:
        cells, is_closed = next(csv.reader([line], delimiter=delimiter, strict=True), []), True
    except csv.Error as error:
        cells, is_closed = next(csv.reader([line], delimiter=delimiter), []), "end of data" not in str(error)
    while cells and not cells[-1].strip():
        cells.pop()
    return cells, is_closed


def _line(row: _Row, head: list[str]) -> RosterLine:
    cells = {name: cell.strip() for name, cell in zip(head, row.cells, strict=False)}
    minor = cells.get("minor", "").lower()
    alias, is_minor = cells.get("alias", ""), minor in YES
    line = RosterLine(
        row.number, cells.get("username", "") or username_of(alias), "" if is_minor else cells.get("name", ""), alias, is_minor,
        minor in NO - {""},
    )
    faults = [
        (not row.is_closed, "A quotation mark is not closed. Each student stands on a line of their own."),
        (LOST_LETTER in "".join(row.cells), "A letter was lost (�). Save the file again as UTF-8."),
        (len(row.cells) > len(head), "There are more cells than columns; is a comma inside a name without quotes?"),
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
    """A name to sign in with stands for one person, whatever its case; two with one alias cannot be told apart by others."""
    names: dict[str, int] = {}
    aliases: dict[str, int] = {}
    return [_with_double_told(line, names, aliases) for line in lines]


def _with_double_told(line: RosterLine, names: dict[str, int], aliases: dict[str, int]) -> RosterLine:
    name_on = names.setdefault(line.username.lower(), line.line) if line.username else line.line
    alias_on = aliases.setdefault(line.alias.lower(), line.line) if line.alias else line.line
    if name_on != line.line:
        line = replace(line, faults=(*line.faults, f"“{line.username}” stands on line {name_on} already."))
    elif alias_on != line.line:
        line = replace(line, remarks=(*line.remarks, f"The alias “{line.alias}” stands on line {alias_on} too."))
    return line
