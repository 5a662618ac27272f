"""Which pictures lie in the folder, and which of them are whole: nothing that is still being written or renamed is touched."""

import hashlib
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import SpooledTemporaryFile
from typing import IO

from board.page_names import read_name

ENDINGS = {".png", ".jpg", ".jpeg", ".webp", ".tif", ".tiff", ".ora"}
# Exported as well, and not taken. What one works on (a document of layers, say) lies beside exports, and is none.
OTHER_ENDINGS = {".pdf", ".gif", ".bmp", ".heic", ".heif", ".avif", ".jxl", ".svg", ".eps"}
CHUNK = 1 << 20
IN_MEMORY = 16 << 20


@dataclass(frozen=True)
class Stamp:
    """What changes when a file is written or replaced."""

    size: int
    changed_ns: int
    inode: int


@dataclass(frozen=True)
class Export:
    """`name` is its path in the folder, with / on every machine."""

    name: str
    path: Path
    stamp: Stamp


@dataclass(frozen=True)
class Copy:
    """One whole file as it was at one moment."""

    file: IO[bytes]
    sha256: str
    size: int


class WatchedFolder:
    def __init__(self, folder: Path, settle_seconds: float, clock: Callable[[], float] = time.monotonic) -> None:
        self.folder, self.settle_seconds, self.clock = folder, settle_seconds, clock
        self._since: dict[str, tuple[Stamp, float]] = {}
        # At the last look: pages exported as something else, and not as a picture too; pictures whose names are no text.
        self.not_taken: set[str] = set()
        self.unreadable: set[str] = set()

    def look(self) -> list[Export]:
        """The pictures that have stood unchanged for long enough."""
        try:
            found = list(self._visible())
            paths = [path for path in found if is_text(self._name(path))]
            now, seen = self.clock(), {export.name: export for export in self._exports(paths)}
        except OSError:  # a folder inside went while it was read
            return []
        self.not_taken = self._others(paths)
        self.unreadable = {readable(self._name(path)) for path in set(found).difference(paths) if path.suffix.lower() in ENDINGS}
        self._since = {
            name: self._since[name] if name in self._since and self._since[name][0] == export.stamp else (export.stamp, now)
            for name, export in seen.items()
        }
        return [export for name, export in seen.items() if now - self._since[name][1] >= self.settle_seconds]

    @property
    def is_settled(self) -> bool:
        """Nothing seen at the last look was still changing."""
        return all(self.clock() - since >= self.settle_seconds for _, since in self._since.values())

    def _visible(self) -> Iterator[Path]:
        for path in self.folder.rglob("*"):
            if not any(part.startswith((".", "~")) for part in path.relative_to(self.folder).parts):
                yield path

    def _exports(self, paths: Iterable[Path]) -> Iterator[Export]:
        for path in paths:
            stamp = stamp_of(path) if path.suffix.lower() in ENDINGS else None
            if stamp and stamp.size:
                yield Export(self._name(path), path, stamp)

    def _name(self, path: Path) -> str:
        return path.relative_to(self.folder).as_posix()

    def _others(self, paths: Iterable[Path]) -> set[str]:
        pictures = {path.with_suffix("") for path in paths if path.suffix.lower() in ENDINGS}
        others = [path for path in paths if path.suffix.lower() in OTHER_ENDINGS and path.with_suffix("") not in pictures]
        names = {self._name(path) for path in others}
        return {name for name in names if read_name(name).candidates}


def is_text(name: str) -> bool:
    """A name from another disk or an old archive may be bytes that mean no letters here."""
    return readable(name) == name


def readable(name: str) -> str:
    return name.encode(errors="replace").decode()


def stamp_of(path: Path) -> Stamp | None:
    """None for what is no file, or gone meanwhile."""
    try:
        found = path.stat()
    except OSError:
        return None
    return Stamp(found.st_size, found.st_mtime_ns, found.st_ino) if path.is_file() else None


@contextmanager
def copied(export: Export) -> Iterator[Copy | None]:
    """A copy, so that what is sent is what was hashed; None if the file changed while it was read."""
    with SpooledTemporaryFile(IN_MEMORY) as copy:
        digest, size = hashlib.sha256(), 0
        try:
            with export.path.open("rb") as file:
                while chunk := file.read(CHUNK):
                    digest.update(chunk)
                    size += copy.write(chunk)
        except OSError:
            yield None
            return
        if stamp_of(export.path) != export.stamp or size != export.stamp.size:
            yield None
            return
        copy.seek(0)
        yield Copy(copy, digest.hexdigest(), size)
