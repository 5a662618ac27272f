"""Where pictures lie: the storage that the settings name. Reading and writing bytes, no rows."""

import hashlib
from collections.abc import Iterator
from datetime import datetime
from os import SEEK_END
from typing import BinaryIO, cast

from django.core.files import File
from django.core.files.storage import default_storage

CHUNK = 256 * 1024
LISTED_AT_ONCE = 1000
ENDINGS = {"image/png": "png", "image/jpeg": "jpg", "image/webp": "webp", "image/tiff": "tif", "image/openraster": "ora"}


def chunks_of(file: BinaryIO) -> Iterator[bytes]:
    file.seek(0)
    while chunk := file.read(CHUNK):
        yield chunk


def sha256_of(file: BinaryIO) -> str:
    digest = hashlib.sha256()
    for chunk in chunks_of(file):
        digest.update(chunk)
    return digest.hexdigest()


def keep_file(name: str, file: BinaryIO) -> None:
    """Keeps the bytes under `name`, once: what is there with as many has the same, since names carry their hash.

    One of another length was cut off, by a version that wrote straight to the name: it is written anew.
    """
    if not (default_storage.exists(name) and default_storage.size(name) == file.seek(0, SEEK_END)):
        file.seek(0)
        default_storage.save(name, File(file))


def open_file(name: str) -> BinaryIO:
    return cast(BinaryIO, default_storage.open(name, "rb"))


def file_is_kept(name: str) -> bool:
    return default_storage.exists(name)


def kept_files(folder: str) -> Iterator[list[str]]:
    """Names of what lies in it and in the folders within, some at a time."""
    try:
        folders, files = default_storage.listdir(folder)
    except FileNotFoundError:
        return
    for start in range(0, len(files), LISTED_AT_ONCE):
        yield [f"{folder}/{name}" for name in files[start : start + LISTED_AT_ONCE]]
    for inner in folders:
        yield from kept_files(f"{folder}/{inner}")


def written_at(name: str) -> datetime:
    """Raises FileNotFoundError."""
    return default_storage.get_modified_time(name)


def size_of(name: str) -> int:
    return default_storage.size(name)


def drop_file(name: str) -> None:
    default_storage.delete(name)
