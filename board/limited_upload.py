"""Uploads go to a temporary file as they arrive, and are cut off once they pass the limit."""

from django.conf import settings
from django.core.files.uploadhandler import StopUpload, TemporaryFileUploadHandler

from board.errors import PictureTooLarge


class LimitedUploadHandler(TemporaryFileUploadHandler):
    def receive_data_chunk(self, raw_data: bytes, start: int) -> None:
        if start + len(raw_data) > settings.UPLOAD_LIMITS.most_bytes:
            self.request.upload_was_cut_off = True  # type: ignore[union-attr]
            raise StopUpload(connection_reset=False)
        super().receive_data_chunk(raw_data, start)


def refuse_if_cut_off(request: object) -> None:
    """Call it once the form was read. Raises PictureTooLarge."""
    if getattr(request, "upload_was_cut_off", False):
        megabytes = settings.UPLOAD_LIMITS.most_bytes // (1024 * 1024)
        raise PictureTooLarge(f"The file is larger than the {megabytes} MB that are taken here.")
