"""Zips that are sent while they are written: neither memory nor a disk has to hold one whole."""

import zipfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

from board.picture_files import CHUNK, file_is_kept, open_file


@dataclass(frozen=True)
class ZipEntry:
    """A file in a zip: its `content`, or the `kept` name under which its bytes lie. What lies there no more is left out. `at`: when
    it came, where that is known; else it is of now."""

    name: str
    content: bytes = b""
    kept: str = ""
    at: datetime | None = None

    def head(self) -> zipfile.ZipInfo:
        """Its name and local time."""
        return zipfile.ZipInfo(self.name, (self.at.astimezone() if self.at else datetime.now()).timetuple()[:6])


class _Outlet:
    """What a zip is written to, and taken from at once. It cannot be gone back in: sizes stand behind each file then."""

    def __init__(self) -> None:
        self._parts: list[bytes] = []

    def write(self, data: bytes) -> int:
        self._parts.append(bytes(data))
        return len(data)

    def flush(self) -> None:
        pass

    def take(self) -> bytes:
        taken, self._parts = b"".join(self._parts), []
        return taken


def zipped(entries: Iterable[ZipEntry]) -> Iterator[bytes]:
    """The bytes of the zip, some at a time. Not packed: pictures are already."""
    outlet = _Outlet()
    with zipfile.ZipFile(outlet, "w", zipfile.ZIP_STORED) as archive:  # type: ignore[call-overload]  # what it asks of a file is there
        for entry in entries:
            if not entry.kept:
                archive.writestr(entry.head(), entry.content)
            elif file_is_kept(entry.kept):
                with open_file(entry.kept) as source, archive.open(entry.head(), "w", force_zip64=True) as target:
                    while chunk := source.read(CHUNK):
                        target.write(chunk)
                        yield outlet.take()
            yield outlet.take()
    yield outlet.take()
