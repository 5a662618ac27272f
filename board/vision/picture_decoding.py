"""Decodes an uploaded picture once, within limits, into what people see and what checks measure."""

import zipfile
from dataclasses import dataclass
from functools import cached_property
from io import BytesIO
from typing import BinaryIO
from warnings import catch_warnings, simplefilter

import numpy as np
from PIL import Image, ImageOps

from board.errors import PictureRefused
from board.picture_header import DAMAGED, FORMATS, OPENRASTER, PictureHeader, read_header
from board.upload_limits import UploadLimits
from board.vision.screen_colours import in_screen_colours

# 16-bit grey in Pillow's modes, and by how much a value is divided to fit 8 bits.
DEEP_MODES = {"I;16", "I;16B", "I;16L", "I;16N", "I"}
# What is lighter than this is not seen on white; so many of its pixels may be darker in a drawing that is told as white.
NEARLY_WHITE, SPECKS = 230, 0.01


@dataclass(frozen=True)
class DecodedPicture:
    """`image`: 8-bit "L" or "RGB" (sRGB by the file's own profile), upright by its EXIF orientation, alpha flattened on white (a
    white drawing on black). `dpi`: as the file says, or None."""

    image: Image.Image
    dpi: float | None

    @property
    def size(self) -> tuple[int, int]:
        return self.image.size

    @cached_property
    def gray(self) -> np.ndarray:
        """uint8 (H, W), read-only: checks share it."""
        gray = np.asarray(self.image if self.image.mode == "L" else self.image.convert("L"))
        gray.flags.writeable = False
        return gray


def decode_picture(file: BinaryIO, limits: UploadLimits) -> DecodedPicture:
    """Raises PictureRefused or PictureTooLarge with the sentence that people read; never returns half a picture."""
    header = read_header(file, limits)
    try:
        with catch_warnings():
            simplefilter("error", Image.DecompressionBombWarning)
            return _decode(file, header, limits)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise PictureRefused("This picture unpacks to far more pixels than a page needs.") from error
    except MemoryError as error:
        raise PictureRefused("This picture needs more memory than is given to one page.") from error
    except DAMAGED as error:
        raise PictureRefused("The file is cut off or damaged and could not be read to its end. Save it again.") from error


def _decode(file: BinaryIO, header: PictureHeader, limits: UploadLimits) -> DecodedPicture:
    source, formats = (file, list(FORMATS)) if header.media_type != OPENRASTER else (_merged_image(file, limits), ["PNG"])
    source.seek(0)
    Image.MAX_IMAGE_PIXELS = limits.most_pixels
    with Image.open(source, formats=formats) as image:
        image.load()
        dpi = _dpi_of(image)
        return DecodedPicture(_flattened(ImageOps.exif_transpose(image)), dpi)


def _merged_image(file: BinaryIO, limits: UploadLimits) -> BinaryIO:
    """Read no further than the limit, whatever the archive says of its sizes."""
    file.seek(0)
    with zipfile.ZipFile(file) as archive, archive.open("mergedimage.png") as merged:
        content = merged.read(limits.most_bytes + 1)
    if len(content) > limits.most_bytes:
        raise PictureRefused("The merged picture in this OpenRaster file is too large.")
    return BytesIO(content)


def _dpi_of(image: Image.Image) -> float | None:
    try:
        dpi = float(image.info["dpi"][0])
    except (KeyError, TypeError, ValueError, IndexError, ZeroDivisionError):
        return None
    return dpi if 1 < dpi < 10_000 else None


def _flattened(image: Image.Image) -> Image.Image:
    if image.mode in DEEP_MODES:
        image = _from_16_bit(image)
    if image.mode == "P" and "transparency" not in image.info:
        image = image.convert("RGB")
    image = in_screen_colours(image)
    if image.mode in ("L", "RGB"):
        return image
    if image.mode == "1":
        return image.convert("L")
    if image.mode in ("LA", "PA", "La", "RGBA", "RGBa") or "transparency" in image.info:
        return _on_paper(image.convert("RGBA"))
    if image.mode in ("CMYK", "YCbCr", "LAB", "HSV"):
        return image.convert("RGB")
    raise PictureRefused(f"Pixels of the kind “{image.mode}” are not read here; save the page as 8-bit grey or RGB.")


def _from_16_bit(image: Image.Image) -> Image.Image:
    deep = np.asarray(image).astype(np.float32)
    return Image.fromarray(np.clip(np.round(deep / 257.0), 0, 255).astype(np.uint8))


def _on_paper(image: Image.Image) -> Image.Image:
    """An RGBA picture on white; on black where white would show nothing of it."""
    page = Image.new("RGB", image.size, "black" if _is_drawn_in_white(image) else "white")
    page.paste(image, mask=image.getchannel("A"))
    is_gray = image.getchannel("R").tobytes() == image.getchannel("G").tobytes() == image.getchannel("B").tobytes()
    return page.convert("L") if is_gray else page


def _is_drawn_in_white(image: Image.Image) -> bool:
    """A sheet that is clear for the most part, and hardly a pixel on it darker than white. Blue line is: it has little red."""
    pixels = np.asarray(image)
    drawn = pixels[pixels[..., 3] > 127]
    if not 0 < len(drawn) < pixels.shape[0] * pixels.shape[1] / 2:
        return False
    return bool(np.mean(drawn[:, :3].min(axis=1) < NEARLY_WHITE) < SPECKS)
