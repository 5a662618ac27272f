"""The folder where pictures lie, on a machine that has no object storage."""

import os
import time
from contextlib import suppress
from pathlib import Path
from tempfile import NamedTemporaryFile

from django.core.files import File
from django.core.files.storage import FileSystemStorage

UNFINISHED = "unfinished"
CHUNK = 256 * 1024


class WholeFileStorage(FileSystemStorage):
    """A file has its name once all of it is on the disk: what is cut off, by a full disk or a killed process, has none."""

    def __init__(self, location: str) -> None:
        super().__init__(location=location, allow_overwrite=True)

    def _save(self, name: str, content: File) -> str:
        target, unfinished = Path(self.path(name)), Path(self.path(UNFINISHED))
        for folder in (target.parent, unfinished):
            folder.mkdir(parents=True, exist_ok=True)
        with NamedTemporaryFile(dir=unfinished, delete=False) as file:
            try:
                for chunk in content.chunks(CHUNK):
                    file.write(chunk)
                file.flush()
                os.fsync(file.fileno())
                Path(file.name).chmod(self.file_permissions_mode or 0o644)
                Path(file.name).replace(target)
            except BaseException:
                Path(file.name).unlink(missing_ok=True)
                raise
        return name


def drop_cut_off(folder: Path, older_than_seconds: float) -> None:
    """Deletes what lies there since then: processes that were killed left it, and nobody will go on with it."""
    for file in folder.glob("*"):
        with suppress(FileNotFoundError):
            if file.is_file() and file.stat().st_mtime < time.time() - older_than_seconds:
                file.unlink()
