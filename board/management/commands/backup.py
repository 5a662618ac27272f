"""`manage.py backup DIR`: a copy of everything, made while Underblue runs."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.files.storage import default_storage
from django.core.management.base import BaseCommand, CommandError

from board.management.kept_copy import (
    KeptCopy,
    copy_database,
    copy_files,
    copy_secret,
    drop_files_gone,
    files_lie_here,
    newest_picture,
    pictures_not_whole,
    secret_lies_here,
)

NOT_HERE = "Pictures lie in object storage and are not in this copy: keep versions there, or copy them by its own means."
OWN_SECRET = "The secret key is not in this copy: it is yours (UNDERBLUE_SECRET_KEY), and has to be kept."


class Command(BaseCommand):
    help = (
        "Copies database, pictures and secret key into a folder, while Underblue runs. Into the same folder again, it brings the "
        "copy up to date. `restore` makes an Underblue of it again."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("folder", type=Path, metavar="DIR", help="a new folder, or one with a copy made before")

    def handle(self, *args: Any, folder: Path, **options: Any) -> None:
        copy = opened(folder)
        # First the rows, then the files: a picture is kept before its row is written, so no row of the copy lacks its picture.
        newest = newest_picture()
        copy_database(copy.database)
        if secret_lies_here():
            copy_secret(settings.SECRET_FILE, copy.secret)
        else:
            self.stdout.write(OWN_SECRET)
        self._copy_files(copy, newest)
        self.stdout.write(f"All of it lies in {folder}.")

    def _copy_files(self, copy: KeptCopy, newest: int) -> None:
        if not files_lie_here():
            self.stdout.write(NOT_HERE)
            return
        here = Path(default_storage.path(""))
        new, gone = copy_files(here, copy.files), drop_files_gone(here, copy.files)
        self.stdout.write(f"{new} files were copied, {gone} that are gone here were deleted there.")
        not_whole = pictures_not_whole(copy.files, newest)
        damaged = set(pictures_not_whole(here, newest)) if not_whole else set()
        if lost := [name for name in not_whole if name in damaged]:
            self.stderr.write(f"Missing or cut off, here as in the copy: {', '.join(lost)}. Who has the picture sends it again.")
        if changed := [name for name in not_whole if name not in damaged]:
            self.stderr.write(f"Whole here, and not in the copy: {', '.join(changed)}. Make the copy once more.")


def opened(folder: Path) -> KeptCopy:
    """Raises CommandError for a folder in which other things lie."""
    copy = KeptCopy(folder.resolve())
    if copy.folder == settings.VAR_DIR.resolve() or (folder.exists() and any(folder.iterdir()) and not copy.is_there):
        raise CommandError(f"{folder} is no copy made by this command, and not empty. Give a folder of its own.")
    copy.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    return copy
