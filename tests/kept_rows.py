"""What many tests start from is made once in a process; after that its rows and files are written as they were."""

import pickle
from collections.abc import Callable
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import connection, transaction

Rows = dict[str, dict[tuple[Any, ...], None]]  # of each table, in the order they came in


class KeptRows:
    """`stand(…)` gives what `make(…)` gives, a copy for each test. It takes for granted that a test asks for it on the same rows
    as the first test did, and that nothing is removed."""

    def __init__(self, make: Callable[..., Any]) -> None:
        self.make, self.made = make, b""
        self.rows: Rows = {}
        self.files: dict[Path, bytes] = {}

    def stand(self, *arguments: Any) -> Any:
        if self.made and connection.vendor == "sqlite":  # PostgreSQL counts on after a test: rows written again would be in its way
            self._write()
        else:
            self._make(*arguments)
        return pickle.loads(self.made)

    def _make(self, *arguments: Any) -> None:
        rows, files = _all_rows(), _all_files()
        made = self.make(*arguments)
        self.files = {path: content for path, content in _all_files().items() if path not in files}
        self.rows = {table: {row: None for row in now if row not in rows[table]} for table, now in _all_rows().items()}
        self.made = pickle.dumps(made)

    def _write(self) -> None:
        with transaction.atomic(), connection.cursor() as cursor:
            for table, rows in self.rows.items():
                if rows:
                    places = ", ".join(["%s"] * len(next(iter(rows))))
                    cursor.executemany(f"INSERT OR REPLACE INTO {table} VALUES ({places})", list(rows))
        for path, content in self.files.items():
            file = _folder() / path
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_bytes(content)


def _folder() -> Path:
    return Path(settings.STORAGES["default"]["OPTIONS"]["location"])


def _all_files() -> dict[Path, bytes]:
    return {path.relative_to(_folder()): path.read_bytes() for path in sorted(_folder().rglob("*")) if path.is_file()}


def _all_rows() -> Rows:
    rows: Rows = {}
    with connection.cursor() as cursor:
        for table in connection.introspection.table_names(cursor):
            cursor.execute(f"SELECT * FROM {table}")
            rows[table] = dict.fromkeys(cursor.fetchall())
    return rows
