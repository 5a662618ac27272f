"""A copy that is made while one writes on is whole, and an Underblue again where it is put back."""

import os
import shutil
import sqlite3
import subprocess
import sys
from io import BytesIO, StringIO
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from board.management import kept_copy
from board.management.commands import backup
from board.management.commands.backup import opened
from board.management.kept_copy import put_database_back
from board.models import Picture
from board.picture_files import drop_file, keep_file
from tests.made_once import empty_folder

PERSON = """INSERT INTO auth_user (password, is_superuser, username, first_name, last_name, email, is_staff, is_active, date_joined)
    VALUES ('', 0, ?, '', '', '', 0, 1, '2026-01-01')"""
PICTURE = "INSERT INTO board_picture (sha256, size_bytes, media_type, created_at) VALUES (?, 5, '', '2026-01-01')"
ROOT = Path(__file__).resolve().parents[2]


def manage(var: Path, *words: str) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "UNDERBLUE_VAR": str(var)}
    command = [sys.executable, "manage.py", *words]
    return subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, timeout=60)


def done(var: Path, *words: str) -> str:
    answer = manage(var, *words)
    assert answer.returncode == 0, answer.stderr
    return answer.stdout


def names(database: Path) -> list[str]:
    with sqlite3.connect(database) as reader:
        return [name for (name,) in reader.execute("SELECT username FROM auth_user ORDER BY id")]


def files_in(folder: Path) -> list[str]:
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())


def add_person(writer: sqlite3.Connection, name: str) -> None:
    with writer:
        writer.execute(PERSON, (name,))


@pytest.fixture
def var(tmp_path: Path) -> Path:
    var = tmp_path / "var"
    var.mkdir()
    shutil.copy(empty_folder() / "board.sqlite3", var)
    (var / "files/pictures/ab").mkdir(parents=True)
    (var / "files/pictures/ab/abc").write_bytes(b"drawn")
    (var / "files/deleted-later").write_bytes(b"drawn too")
    (var / "files/unfinished").mkdir()
    (var / "files/unfinished/x").write_bytes(b"half")
    return var


def test_a_copy_made_while_one_writes_is_brought_up_to_date_and_put_back(var, tmp_path):
    copy, elsewhere = tmp_path / "copy", tmp_path / "elsewhere"
    writer = sqlite3.connect(var / "board.sqlite3")
    writer.execute("PRAGMA journal_mode=WAL")
    with writer:
        writer.executemany(PICTURE, [("abc",), ("cde",)])
    answer = manage(var, "backup", str(copy))
    assert "Missing or cut off, here as in the copy: pictures/cd/cde." in answer.stderr
    assert files_in(copy) == ["board.sqlite3", "files/deleted-later", "files/pictures/ab/abc", "secret_key"]
    assert (copy.stat().st_mode & 0o777, (copy / "secret_key").stat().st_mode & 0o777) == (0o700, 0o600)

    add_person(writer, "wim")  # stands in the -wal alone as long as the writer is there
    (var / "files/deleted-later").rename(var / "files/new")
    assert "1 files were copied, 1 that are gone here" in done(var, "backup", str(copy))
    assert files_in(copy) == ["board.sqlite3", "files/new", "files/pictures/ab/abc", "secret_key"]
    add_person(writer, "later")
    writer.close()

    done(elsewhere, "restore", str(copy))
    assert names(elsewhere / "board.sqlite3") == ["wim"]
    assert elsewhere.stat().st_mode & 0o777 == 0o700  # no other account of the machine reads it
    assert (elsewhere / "files/pictures/ab/abc").read_bytes() == b"drawn"
    assert (elsewhere / "secret_key").read_text() == (var / "secret_key").read_text()

    # And here: what came after the copy is laid aside, and is not lost.
    done(var, "restore", str(copy))
    aside, = var.glob("before-restore-*")
    assert names(var / "board.sqlite3") == ["wim"] and names(aside / "board.sqlite3") == ["wim", "later"]


def test_what_comes_and_goes_while_it_is_copied_is_told_as_no_damage(db, tmp_path, settings, monkeypatch):
    def keep(sha256: str) -> None:
        keep_file(Picture.objects.create(sha256=sha256, size_bytes=5).file_name, BytesIO(b"drawn"))

    def copy_while_others_draw(target: Path) -> None:
        Picture.objects.filter(sha256="gone").delete()
        Picture.objects.create(sha256="later", size_bytes=5)  # whose file comes behind the files that are copied

    monkeypatch.setattr(backup, "copy_database", copy_while_others_draw)
    monkeypatch.setattr(backup, "secret_lies_here", lambda: False)
    settings.VAR_DIR = tmp_path / "var"
    for sha256 in ("whole", "gone", "lost", "again"):
        keep(sha256)
    drop_file(Picture(sha256="gone").file_name)
    drop_file(Picture(sha256="lost").file_name)
    copy_files = backup.copy_files

    def copy_but_one(source: Path, target: Path) -> int:
        number = copy_files(source, target)
        (target / Picture(sha256="again").file_name).unlink()
        return number

    monkeypatch.setattr(backup, "copy_files", copy_but_one)
    told = StringIO()
    call_command("backup", str(tmp_path / "copy"), stdout=StringIO(), stderr=told)
    assert told.getvalue().splitlines() == [
        "Missing or cut off, here as in the copy: pictures/lo/lost. Who has the picture sends it again.",
        "Whole here, and not in the copy: pictures/ag/again. Make the copy once more.",
    ]


def test_a_folder_with_other_things_in_it_is_left_alone(tmp_path, settings):
    settings.VAR_DIR = tmp_path
    (tmp_path / "letters").mkdir()
    (tmp_path / "letters/one.txt").write_text("Dear Wim")
    for folder in (tmp_path / "letters", tmp_path):
        with pytest.raises(CommandError, match="Give a folder of its own"):
            opened(folder)
    with pytest.raises(CommandError, match=r"no board\.sqlite3 in"):
        call_command("restore", str(tmp_path / "letters"))


def test_a_damaged_copy_is_not_put_in_the_place_of_what_is_there(tmp_path):
    copy = tmp_path / "board.sqlite3"
    copy.write_bytes((empty_folder() / "board.sqlite3").read_bytes()[:40_000])
    with pytest.raises(CommandError, match="is damaged"):
        put_database_back(copy, tmp_path / "aside")
    assert not (tmp_path / "aside").exists()


class PostgreSQL:
    """What is asked of one whose `pg_restore` ends with an error in a call that has `fails_with` among its arguments."""

    def __init__(self, fails_with: str) -> None:
        self.fails_with = fails_with
        self.asked: list[str] = []

    def run(self, program: str, *arguments: str) -> None:
        self.asked.append(program)
        if self.fails_with in arguments:
            raise CommandError("pg_restore ended with 1.")


@pytest.mark.parametrize(("fails_with", "asked"), [
    (os.devnull, ["pg_restore"]),
    ("--dbname", [
        "pg_restore", "copy", 'ALTER SCHEMA public RENAME TO "before"; CREATE SCHEMA public', "pg_restore",
        'DROP SCHEMA IF EXISTS public CASCADE; ALTER SCHEMA "before" RENAME TO public',
    ]),
])
def test_of_postgresql_too_nothing_is_lost_where_a_copy_does_not_go_in(tmp_path, monkeypatch, fails_with, asked):
    there = PostgreSQL(fails_with)
    monkeypatch.setattr(kept_copy, "is_postgresql", lambda: True)
    monkeypatch.setattr(kept_copy, "run_postgresql", there.run)
    monkeypatch.setattr(kept_copy, "run_sql", there.asked.append)
    monkeypatch.setattr(kept_copy, "copy_database", lambda target: there.asked.append("copy"))
    with pytest.raises(CommandError):
        put_database_back(tmp_path / "board.dump", tmp_path / "before")
    assert there.asked == asked
