"""Locks that hold up nobody who writes what refers to the locked row, as each event refers to its page."""

import ast
from pathlib import Path

BOARD = Path(__file__).resolve().parent.parent / "board"
MAY_DELETE = {"cast_merging.py", "unused_files.py", "student_deletion.py"}  # nothing may come to refer to a row that goes


def plain_locks(source: str) -> list[int]:
    calls = [node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)]
    locks = [call for call in calls if getattr(call.func, "attr", "") == "select_for_update"]
    return [call.lineno for call in locks if not any(keyword.arg == "no_key" for keyword in call.keywords)]


def test_only_what_may_delete_a_row_holds_up_those_who_refer_to_it() -> None:
    found = {path.name for path in BOARD.rglob("*.py") if plain_locks(path.read_text())}
    assert found == MAY_DELETE
