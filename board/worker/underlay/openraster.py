"""An underlay as an OpenRaster file, layer by layer over the drawing (freedesktop.org, OpenRaster 0.0.3, baseline: from memory)."""

import zipfile
from collections.abc import Iterable, Sequence
from io import BytesIO
from xml.etree import ElementTree as ET

from PIL import Image

MEDIA_TYPE = "image/openraster"
THUMBNAIL_PX = 256
QUICK = 1  # of Pillow's nine degrees: a page of layers is mostly empty, and time counts more than the last tenth

NamedPicture = tuple[str, Image.Image]


def as_openraster(layers: Iterable[NamedPicture], dpi: float | None = None) -> BytesIO:
    """`layers`: the lowest first, all of one size; of a large page each is held no longer than it is written."""
    merged, names, content = None, [], BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED) as archive:
        # First and not packed, so that the kind of file is seen at a fixed place.
        archive.writestr("mimetype", MEDIA_TYPE, zipfile.ZIP_STORED)
        for name, picture in layers:
            archive.writestr(f"data/{name}.png", png_of(picture, dpi), zipfile.ZIP_STORED)
            merged = laid_on(merged, picture)
            names.append(name)
        assert merged is not None
        archive.writestr("stack.xml", _stack(names, merged.size, dpi))
        archive.writestr("mergedimage.png", png_of(merged, dpi), zipfile.ZIP_STORED)
        merged.thumbnail((THUMBNAIL_PX, THUMBNAIL_PX))
        archive.writestr("Thumbnails/thumbnail.png", png_of(merged), zipfile.ZIP_STORED)
    return content


def laid_on(below: Image.Image | None, picture: Image.Image) -> Image.Image:
    """On nothing yet it is a copy; else `below` itself, with the picture on it."""
    if below is None:
        return picture.convert("RGBA")
    below.alpha_composite(picture.convert("RGBA"))
    return below


def png_of(picture: Image.Image, dpi: float | None = None) -> bytes:
    content = BytesIO()
    picture.save(content, "PNG", compress_level=QUICK, **({"dpi": (dpi, dpi)} if dpi else {}))
    return content.getvalue()


def _stack(names: Sequence[str], size: tuple[int, int], dpi: float | None) -> bytes:
    """The uppermost layer stands first."""
    resolution = {"xres": str(round(dpi)), "yres": str(round(dpi))} if dpi else {}
    image = ET.Element("image", {"version": "0.0.3", "w": str(size[0]), "h": str(size[1]), **resolution})
    stack = ET.SubElement(image, "stack")
    for name in reversed(names):
        ET.SubElement(stack, "layer", {
            "name": name, "src": f"data/{name}.png", "x": "0", "y": "0", "opacity": "1.0", "visibility": "visible",
            "composite-op": "svg:src-over",
        })
    return ET.tostring(image, encoding="utf-8", xml_declaration=True)
