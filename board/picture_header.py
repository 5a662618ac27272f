"""Reads what a picture says of itself, before any pixel of it is decoded. Told by content, never by name."""

import lzma
import struct
import zipfile
import zlib
from dataclasses import dataclass
from io import BytesIO
from typing import IO, BinaryIO

from PIL import Image, UnidentifiedImageError

from board.errors import PictureRefused, PictureTooLarge
from board.upload_limits import UploadLimits

FORMATS = {"PNG": "image/png", "JPEG": "image/jpeg", "WEBP": "image/webp", "TIFF": "image/tiff"}
OPENRASTER = "image/openraster"
READABLE = "PNG, JPEG, WebP, TIFF or OpenRaster"
# What a damaged file raises in the libraries that read it: not every one of them tells "damaged" from its own mistakes.
DAMAGED = (
    OSError, ValueError, SyntaxError, EOFError, KeyError, TypeError, IndexError, OverflowError, RuntimeError,
    struct.error, zlib.error, lzma.LZMAError, zipfile.BadZipFile,
)
LONGEST_MIMETYPE = 100
# All that stands before the pixels of a packed picture, a colour profile too. More is not unpacked here.
LONGEST_HEAD = 8 * 1024 * 1024


@dataclass(frozen=True)
class PictureHeader:
    media_type: str
    width_px: int
    height_px: int


def read_header(file: BinaryIO, limits: UploadLimits) -> PictureHeader:
    """Raises PictureRefused (not a picture we read) or PictureTooLarge, with the sentence that people read."""
    file.seek(0)
    is_zip = file.read(4) == b"PK\x03\x04"
    header = _openraster_header(file, limits) if is_zip else _image_header(file, limits)
    _hold_to_limits(header, limits)
    return header


def _image_header(file: BinaryIO, limits: UploadLimits) -> PictureHeader:
    file.seek(0)
    try:
        with Image.open(file, formats=list(FORMATS)) as image:
            # A telephone's JPEG may carry a second picture behind the first ("MPO"); the first is the page.
            header = PictureHeader(FORMATS["JPEG" if image.format == "MPO" else str(image.format)], *image.size)
            if image.format in ("PNG", "WEBP", "TIFF") and _holds_more_than(limits.most_frames, image):
                raise PictureRefused("This file holds several pictures; send one page at a time.")
            return header
    except UnidentifiedImageError as error:
        raise PictureRefused(f"This is no picture that can be read here. Send {READABLE}.") from error
    except Image.DecompressionBombError as error:
        raise PictureTooLarge("This picture unpacks to far more pixels than a page needs.") from error
    except DAMAGED as error:
        raise PictureRefused("The head of this file is damaged; save it again from your program.") from error


def _holds_more_than(frames: int, image: Image.Image) -> bool:
    """Moves on to another picture, where there is one. A TIFF knows the number of its pictures only when all of them are walked
    through, which takes minutes where it has a million."""
    if image.format != "TIFF":
        return getattr(image, "n_frames", 1) > frames
    try:
        image.seek(frames)
    except EOFError:
        return False
    return True


def _openraster_header(file: BinaryIO, limits: UploadLimits) -> PictureHeader:
    """OpenRaster: a ZIP whose first entry is `mimetype`; the picture to show is `mergedimage.png`."""
    file.seek(0)
    try:
        with zipfile.ZipFile(file) as archive:
            if archive.namelist()[:1] != ["mimetype"] or _mimetype_of(archive) != OPENRASTER.encode():
                raise PictureRefused(f"This archive is no OpenRaster file. Send {READABLE}.")
            if archive.getinfo("mergedimage.png").file_size > limits.most_bytes:  # nothing is unpacked beyond what it says here
                raise PictureTooLarge("The merged picture in this OpenRaster file is too large.")
            with archive.open("mergedimage.png") as merged, Image.open(_head_of(merged), formats=["PNG"]) as image:
                return PictureHeader(OPENRASTER, *image.size)
    except Image.DecompressionBombError as error:
        raise PictureTooLarge("This picture unpacks to far more pixels than a page needs.") from error
    except KeyError as error:
        raise PictureRefused("This OpenRaster file has no merged picture; save it again with one.") from error
    except DAMAGED as error:
        raise PictureRefused("This OpenRaster file is damaged; save it again from your program.") from error


def _mimetype_of(archive: zipfile.ZipFile) -> bytes:
    """Nothing where it says that it is longer than a kind can be: it is not unpacked then."""
    is_short = archive.getinfo("mimetype").file_size <= LONGEST_MIMETYPE
    return archive.read("mimetype").strip() if is_short else b""


def _head_of(packed: IO[bytes]) -> BytesIO:
    return BytesIO(packed.read(LONGEST_HEAD))


def _hold_to_limits(header: PictureHeader, limits: UploadLimits) -> None:
    longest = max(header.width_px, header.height_px)
    if longest > limits.longest_side_px:
        raise PictureTooLarge(
            f"A side of {longest} px is more than the {limits.longest_side_px} px that are taken here. Cut the picture into pages"
            " that follow one another, make it smaller, or ask whoever runs this server to set UNDERBLUE_LONGEST_SIDE_PX higher."
        )
    if header.width_px * header.height_px > limits.most_pixels:
        millions, most = header.width_px * header.height_px / 1e6, limits.most_pixels / 1e6
        raise PictureTooLarge(
            f"{millions:.0f} million pixels are more than the {most:.0f} million taken here. Make the picture smaller, or ask"
            " whoever runs this server to set UNDERBLUE_MOST_MEGAPIXELS higher."
        )
