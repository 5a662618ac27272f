"""A folder with all that an Underblue is: its database, its pictures and the secret that its links and sign-ins hang on."""

import os
import shutil
import sqlite3
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from django.conf import settings
from django.core.files import File
from django.core.files.storage import FileSystemStorage, default_storage
from django.core.management.base import CommandError
from django.db import connection
from django.db.models import Max

from board.file_storage import UNFINISHED, WholeFileStorage
from board.models import Picture


@dataclass(frozen=True)
class KeptCopy:
    folder: Path

    @property
    def sqlite(self) -> Path:
        return self.folder / "board.sqlite3"

    @property
    def dump(self) -> Path:
        """Of PostgreSQL, in its own format."""
        return self.folder / "board.dump"

    @property
    def files(self) -> Path:
        return self.folder / "files"

    @property
    def secret(self) -> Path:
        return self.folder / "secret_key"

    @property
    def database(self) -> Path:
        return self.dump if is_postgresql() else self.sqlite

    @property
    def is_there(self) -> bool:
        return self.sqlite.exists() or self.dump.exists()


def is_postgresql() -> bool:
    return connection.vendor == "postgresql"


def files_lie_here() -> bool:
    return isinstance(default_storage, FileSystemStorage)


# --- database --------------------------------------------------------------------------------------------------------------------


def copy_database(target: Path) -> None:
    """As it stands at this moment, while others write on. The copy before is kept until this one is whole."""
    new = target.with_name(f"{target.name}.new")
    new.unlink(missing_ok=True)
    if is_postgresql():
        run_postgresql("pg_dump", "--format=custom", f"--file={new}")
    else:
        with connection.cursor() as cursor:
            cursor.execute("VACUUM INTO %s", [str(new)])
        refuse_damaged(new)
    new.chmod(0o600)
    new.replace(target)


def put_database_back(source: Path, aside: Path) -> None:
    """What is there goes to the folder `aside`. Underblue must not run."""
    if is_postgresql():
        run_postgresql("pg_restore", "--file", os.devnull, str(source))  # to its end: nothing is touched for one that was cut off
        aside.mkdir(mode=0o700, exist_ok=True)
        copy_database(aside / source.name)
        _put_dump_back(source, before=aside.name)
        return
    refuse_damaged(source)
    connection.close()
    here = Path(connection.settings_dict["NAME"])
    for file in (here, *(here.with_name(here.name + ending) for ending in ("-wal", "-shm"))):
        lay_aside(file, aside)
    shutil.copyfile(source, here)


def _put_dump_back(source: Path, before: str) -> None:
    """What is there keeps out of the way in a schema of the name `before` until the copy is whole: a table that the copy does not
    know yet would be in its way. Raises CommandError, with all as it was, where it does not go in."""
    run_sql(f'ALTER SCHEMA public RENAME TO "{before}"; CREATE SCHEMA public')
    name = str(connection.settings_dict["NAME"])
    try:
        run_postgresql("pg_restore", "--clean", "--if-exists", "--no-owner", "--single-transaction", "--dbname", name, str(source))
    except BaseException:
        run_sql(f'DROP SCHEMA IF EXISTS public CASCADE; ALTER SCHEMA "{before}" RENAME TO public')
        raise
    run_sql(f'DROP SCHEMA "{before}" CASCADE')


def run_sql(statements: str) -> None:
    with connection.cursor() as cursor:
        cursor.execute(statements)
    connection.close()


def lay_aside(file: Path, folder: Path) -> None:
    if file.exists():
        folder.mkdir(mode=0o700, exist_ok=True)
        file.rename(folder / file.name)


def refuse_damaged(database: Path) -> None:
    reader = sqlite3.connect(f"file:{database}?mode=ro", uri=True)
    try:
        told = reader.execute("PRAGMA integrity_check").fetchone()[0]
    except sqlite3.DatabaseError as error:
        told = str(error)
    finally:
        reader.close()
    if told != "ok":
        raise CommandError(f"{database} is damaged: {told}")


def run_postgresql(program: str, *arguments: str) -> None:
    """With the server, the name and the password of DATABASE_URL; the last stands in no list of processes."""
    given = connection.settings_dict
    names = {"PGHOST": "HOST", "PGPORT": "PORT", "PGUSER": "USER", "PGPASSWORD": "PASSWORD", "PGDATABASE": "NAME"}
    environment = {name: str(given[key]) for name, key in names.items() if given.get(key)}
    try:
        subprocess.run([program, *arguments], env={**os.environ, **environment}, check=True)
    except FileNotFoundError as error:
        raise CommandError(f"{program} is not installed; it comes with PostgreSQL's client programs.") from error
    except subprocess.CalledProcessError as error:
        raise CommandError(f"{program} ended with {error.returncode}.") from error


# --- files -----------------------------------------------------------------------------------------------------------------------


def names_in(folder: Path) -> Iterator[str]:
    for path in folder.rglob("*"):
        name = path.relative_to(folder).as_posix()
        if path.is_file() and not name.startswith(f"{UNFINISHED}/"):
            yield name


def copy_files(source: Path, target: Path) -> int:
    """Those that are not there yet; what lies under a name is never changed. How many they were."""
    storage, copied = WholeFileStorage(str(target)), 0
    for name in names_in(source):
        try:
            with (source / name).open("rb") as file:
                if storage.exists(name) and storage.size(name) == os.fstat(file.fileno()).st_size:
                    continue
                storage.save(name, File(file))
        except FileNotFoundError:
            continue  # it was deleted a moment ago, with what it belonged to
        copied += 1
    return copied


def drop_files_gone(source: Path, target: Path) -> int:
    """What was deleted here stays in no copy of today: it may be a student's. How many they were."""
    gone = [name for name in names_in(target) if not (source / name).exists()]
    for name in gone:
        (target / name).unlink()
    return len(gone)


def newest_picture() -> int:
    """Asked before the database is copied: rows up to this one that are still there later stand in the copy too."""
    return Picture.objects.aggregate(newest=Max("pk"))["newest"] or 0


def pictures_not_whole(folder: Path, up_to: int | None = None) -> list[str]:
    """Names of the pictures that rows tell of, of those that came later than `up_to` none, and whose file is missing there, or has
    another length."""
    pictures = Picture.objects.order_by("pk")
    pictures = pictures if up_to is None else pictures.filter(pk__lte=up_to)
    return [one.file_name for one in pictures.iterator() if not _is_whole(folder / one.file_name, one.size_bytes)]


def _is_whole(file: Path, size_bytes: int) -> bool:
    return file.is_file() and file.stat().st_size == size_bytes


# --- secret ----------------------------------------------------------------------------------------------------------------------


def copy_secret(source: Path, target: Path) -> None:
    shutil.copyfile(source, target)
    target.chmod(0o600)


def secret_lies_here() -> bool:
    return settings.SECRET_FILE.exists() and settings.SECRET_FILE.read_text() == settings.SECRET_KEY
