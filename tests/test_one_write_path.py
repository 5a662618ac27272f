"""Only actions write: a row saved anywhere else has no event, no permission and no transaction of its own."""

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
WRITES = {
    "save", "asave", "create", "acreate", "bulk_create", "get_or_create", "update_or_create", "update", "bulk_update", "delete",
    "adelete",
}
# `dict.update`, `file.save` and the like: the receiver says whether it is a row or a query.
ROWS = ("objects", "filter", "exclude", "all", "annotate", "select_for_update")
MAY_WRITE = ("board/actions", "board/migrations")


def python_files() -> list[Path]:
    files = [path for folder in ("board", "api") for path in (ROOT / folder).rglob("*.py")]
    return [path for path in files if not path.relative_to(ROOT).as_posix().startswith(MAY_WRITE)]


def is_query(node: ast.expr) -> bool:
    """Whether the expression goes through a manager or a query set."""
    names = [part.attr for part in ast.walk(node) if isinstance(part, ast.Attribute)]
    return any(name in ROWS for name in names)


def orm_writes(source: str) -> list[int]:
    lines = []
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Attribute):
            continue
        is_write_on_query = node.func.attr in WRITES and is_query(node.func.value)
        saves_some_fields = node.func.attr == "save" and any(keyword.arg == "update_fields" for keyword in node.keywords)
        if is_write_on_query or saves_some_fields:
            lines.append(node.lineno)
    return lines


@pytest.mark.parametrize("path", python_files(), ids=lambda path: path.relative_to(ROOT).as_posix())
def test_no_row_is_written_outside_actions(path):
    assert orm_writes(path.read_text()) == []


@pytest.mark.parametrize(
    "source",
    ["Note.objects.create(body='x')", "Note.objects.filter(pk=1).update(body='x')", "note.save(update_fields=['body'])",
     "page.notes.all().delete()"],
)
def test_the_test_sees_a_write(source):
    assert orm_writes(source) == [1]
