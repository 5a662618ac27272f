"""Takes an uploaded file in: header, limits, hash, bytes, row. Nothing is decoded here."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import BinaryIO

from django.conf import settings
from django.db import transaction

from board.actions.unused_files import drop_picture_if_unused
from board.errors import BoardError
from board.models import Picture
from board.picture_files import keep_file, sha256_of
from board.picture_header import read_header


@contextmanager
def kept_picture(*, file: BinaryIO) -> Iterator[Picture]:
    """A transaction to write in what shows the picture; where it is refused, the file goes too. Raises PictureRefused or
    PictureTooLarge.

    The bytes are written before it begins, since others wait for its end; and again within it, while the picture's row is held,
    where the same bytes were dropped in between.
    """
    header = read_header(file, settings.UPLOAD_LIMITS)
    file.seek(0, 2)
    taken = Picture(sha256=sha256_of(file), media_type=header.media_type, size_bytes=file.tell())
    keep_file(taken.file_name, file)
    try:
        with transaction.atomic():
            picture, _ = Picture.objects.select_for_update(no_key=True).get_or_create(
                sha256=taken.sha256, defaults={"size_bytes": taken.size_bytes, "media_type": taken.media_type}
            )
            keep_file(taken.file_name, file)
            yield picture
    except BoardError:
        drop_picture_if_unused(taken.sha256)
        raise
