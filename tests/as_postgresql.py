"""What PostgreSQL refuses is refused by the suite's SQLite too, which locks no rows and looks at none of it."""

import re
from typing import Any

from django.db import NotSupportedError
from django.db.models.sql.compiler import SQLCompiler

_as_sql = SQLCompiler.as_sql
IN_BRACKETS = re.compile(r"\([^()]*\)")


def refuse_as_postgresql_does() -> None:
    SQLCompiler.as_sql = as_sql  # type: ignore[method-assign]


def as_sql(compiler: SQLCompiler, *arguments: Any, **named: Any) -> Any:
    sql, values = _as_sql(compiler, *arguments, **named)
    if compiler.query.select_for_update and not compiler.query.select_for_update_of and " LEFT OUTER JOIN " in outermost(sql):
        raise NotSupportedError("FOR UPDATE cannot be applied to the nullable side of an outer join")
    return sql, values


def outermost(sql: str) -> str:
    """Without its subqueries, whose rows nobody locks."""
    while (shorter := IN_BRACKETS.sub("", sql)) != sql:
        sql = shorter
    return sql
