"""The file and the renditions of everything that has a picture."""

from django.http.response import HttpResponseBase
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter
from rest_framework.request import Request

from api.endpoint import Endpoint
from api.picture_answers import WEBP, AnyAccept, original, rendition
from board.access import access_reference, access_revision, access_sheet
from board.errors import NotFound
from board.picture_files import ENDINGS

INLINE = OpenApiParameter("inline", OpenApiTypes.STR, description="Show it, if browsers can, instead of saving it.")


class OriginalFile(Endpoint):
    """The file as it was uploaded."""

    content_negotiation_class = AnyAccept
    media_types = tuple(ENDINGS)
    parameters = {"GET": (INLINE,)}

    def get(self, request: Request, pk: int) -> HttpResponseBase:
        row = self.row
        # Of a page laid flat, the name it came under has the ending of the photograph.
        return original(request, row.picture, "" if getattr(row, "photo_id", None) else getattr(row, "file_name", ""))


class SmallerCopy(Endpoint):
    """A copy for screens, about 400, 1200 or 2400 px wide. It never changes."""

    content_negotiation_class = AnyAccept
    media_types = (WEBP,)

    def get(self, request: Request, pk: int, nominal_px: int) -> HttpResponseBase:
        return rendition(request, self.row.picture, nominal_px)


class RevisionFile(OriginalFile):
    reach = access_revision


class RevisionRendition(SmallerCopy):
    reach = access_revision


class RevisionPhoto(OriginalFile):
    """The photograph as it was uploaded, of a page that was laid flat from one."""

    reach = access_revision

    def get(self, request: Request, pk: int) -> HttpResponseBase:
        if self.row.photo is None:
            raise NotFound("This revision came as it is; there is no photograph of it.")
        return original(request, self.row.photo, self.row.file_name)


class SheetFile(OriginalFile):
    reach = access_sheet


class SheetRendition(SmallerCopy):
    reach = access_sheet


class ReferenceFile(OriginalFile):
    reach = access_reference


class ReferenceRendition(SmallerCopy):
    reach = access_reference
