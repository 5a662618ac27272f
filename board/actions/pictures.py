"""Takes an uploaded file in: header, limits, hash, bytes, row. Nothing is decoded here."""

from typing import BinaryIO

from django.conf import settings

from board.models import Picture
from board.picture_files import keep_file, sha256_of
from board.picture_header import read_header


def keep_picture(*, file: BinaryIO) -> Picture:
    """Raises PictureRefused or PictureTooLarge. The bytes are written before the row, so no row points at nothing."""
    header = read_header(file, settings.UPLOAD_LIMITS)
    file.seek(0, 2)
    picture = Picture(sha256=sha256_of(file), media_type=header.media_type, size_bytes=file.tell())
    keep_file(picture.file_name, file)
    kept, _ = Picture.objects.get_or_create(
        sha256=picture.sha256, defaults={"size_bytes": picture.size_bytes, "media_type": picture.media_type}
    )
    return kept
