"""`manage.py restore DIR`: what `backup` copied is the Underblue of this folder again."""

from argparse import ArgumentParser
from datetime import datetime
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.files.storage import default_storage
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError

from board.management.kept_copy import (
    KeptCopy,
    copy_files,
    copy_secret,
    files_lie_here,
    lay_aside,
    pictures_not_whole,
    put_database_back,
)
from board.management.only_one import only_one_here


class Command(BaseCommand):
    help = "Puts back what `backup` copied. Stop Underblue first. What is there is laid aside, not deleted."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("folder", type=Path, metavar="DIR", help="that `backup` filled")

    def handle(self, *args: Any, folder: Path, **options: Any) -> None:
        copy = KeptCopy(folder.resolve())
        if not copy.database.exists():
            raise CommandError(f"There is no {copy.database.name} in {folder}.")
        with only_one_here():
            aside = settings.VAR_DIR / f"before-restore-{datetime.now():%Y%m%d-%H%M%S}"
            put_database_back(copy.database, aside)
            call_command("migrate", verbosity=0)
            if copy.secret.exists():
                lay_aside(settings.SECRET_FILE, aside)
                copy_secret(copy.secret, settings.SECRET_FILE)
            if files_lie_here() and copy.files.exists():
                here = Path(default_storage.path(""))
                self.stdout.write(f"{copy_files(copy.files, here)} files were put back.")
                if damaged := pictures_not_whole(here):
                    self.stderr.write(f"Missing or cut off, in the copy too: {', '.join(damaged)}.")
        self.stdout.write(f"It stands as it was copied. What was here before lies in {aside}." if aside.exists() else
                          "It stands as it was copied.")
