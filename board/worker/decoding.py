"""The picture of a job, decoded once for all the work on it."""

from django.conf import settings

from board.models import Picture
from board.picture_files import open_file
from board.vision.picture_decoding import DecodedPicture, decode_picture
from board.worker.picture_at_hand import at_hand


def decoded(picture: Picture) -> DecodedPicture:
    """Raises PictureRefused with the sentence that people read."""
    return at_hand(picture.sha256, lambda: _decode(picture))


def decoded_apart(picture: Picture) -> DecodedPicture:
    """For a look at a second picture, while the job's own stays at hand."""
    return _decode(picture)


def _decode(picture: Picture) -> DecodedPicture:
    with open_file(picture.file_name) as file:
        return decode_picture(file, settings.UPLOAD_LIMITS)
