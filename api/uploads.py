"""Pictures that come in: one multipart field, `image`. What is in it is judged by its head, in `board.picture_header`."""

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers
from rest_framework.parsers import MultiPartParser

from api.body import Body


@extend_schema_field({"type": "string", "format": "binary"})
class ImageFile(serializers.FileField):
    """Empty files come through: they are refused with the same words as any other file that is no picture."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(allow_empty_file=True, **kwargs)


class PictureBody(Body):
    image = ImageFile()


UPLOAD_PARSERS = [MultiPartParser]
