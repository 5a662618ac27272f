"""Files that people send by mistake, or to see what happens, each with the answer that it gets and what becomes of it."""

import io
import struct
import zipfile
import zlib
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from PIL import Image

from tests.pictures import picture


@dataclass(frozen=True)
class Upload:
    """`status` of the answer, and what its problem `says`; where it is taken (201), `state` is what the worker makes of it."""

    name: str
    make: Callable[[], bytes]
    status: int
    state: str = ""
    size: tuple[int, int] | None = None  # upright, where it becomes ready
    says: str = ""


def noise(mode: str = "RGB", size: tuple[int, int] = (90, 120)) -> Image.Image:
    shape = (size[1], size[0], *(() if mode == "L" else (3,)))
    return Image.fromarray(np.random.default_rng(7).integers(0, 255, shape, np.uint8))


def saved(image: Image.Image, kind: str, **options: object) -> bytes:
    out = io.BytesIO()
    image.save(out, kind, **options)
    return out.getvalue()


def cut(data: bytes, share: float) -> bytes:
    return data[: int(len(data) * share)]


def png_of(width: int, height: int, pixels: bytes = b"", depth: int = 8, colour: int = 0) -> bytes:
    """A PNG whose header says this, whatever its pixels are."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    header = struct.pack(">IIBBBBB", width, height, depth, colour, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", pixels) + chunk(b"IEND", b"")


def bomb() -> bytes:
    """Some kB that unpack to 400 million pixels."""
    row = zlib.compressobj(9)
    pixels = b"".join(row.compress(b"\0" * 20_001) for _ in range(20_000)) + row.flush()
    return png_of(20_000, 20_000, pixels)


def animated(kind: str) -> bytes:
    return saved(noise(), kind, save_all=True, append_images=[noise("L").convert("RGB")])


def tiff_of(pages: int, behind: int) -> bytes:
    """Pages of one pixel in a row, the last of which names a further one at `behind`, where this file has ended: who reads on finds
    it damaged."""
    tags = [(256, 1), (257, 1), (258, 8), (259, 1), (262, 1), (273, 4), (278, 1), (279, 1)]
    length = 2 + 12 * len(tags) + 4
    file = struct.pack("<2sHI", b"II", 42, 8)
    for page in range(pages):
        further = len(file) + length if page < pages - 1 else behind
        file += struct.pack("<H", len(tags)) + b"".join(struct.pack("<HHII", tag, 4, 1, value) for tag, value in tags)
        file += struct.pack("<I", further)
    return file


def turned(orientation: int) -> bytes:
    exif = Image.Exif()
    exif[0x0112] = orientation
    return saved(noise(size=(90, 120)), "JPEG", exif=exif)


def openraster(merged: bytes | None, first: str = "mimetype", mimetype: str = "image/openraster") -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(zipfile.ZipInfo(first), mimetype)
        archive.writestr("stack.xml", "<image/>")
        if merged is not None:
            archive.writestr("mergedimage.png", merged)
    return out.getvalue()


def damaged_packing(behind: int) -> bytes:
    """An archive that is whole but for some bytes, so far `behind` where its picture is packed."""
    data = bytearray(openraster(saved(Image.new("L", (4000, 4000)), "PNG", compress_level=0)))
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        start = archive.getinfo("mergedimage.png").header_offset + 30 + len("mergedimage.png") + behind
    data[start : start + 40] = b"\xff" * 40
    return bytes(data)


def openraster_with_a_long_chunk() -> bytes:
    """Packed, a chunk that no reader knows takes next to nothing; unpacked it would be the whole memory of a small server."""
    chunk = struct.pack(">I", 30_000_000) + b"juNk" + b"\0" * 30_000_000 + b"\0\0\0\0"
    whole = picture()
    return openraster(whole[:33] + chunk + whole[33:])


def openraster_that_says(name: str, size: int) -> bytes:
    """An archive in which `name` is said to unpack to so many bytes."""
    out = io.BytesIO(openraster(picture()))
    with zipfile.ZipFile(out, "a") as archive:
        archive.getinfo(name).file_size = size
        archive.writestr("more.txt", "")
    return out.getvalue()


def deep(kind: str = "PNG") -> bytes:
    return saved(Image.fromarray(np.linspace(0, 65535, 12_000).reshape(120, 100).astype(np.uint16)), kind)


def cmyk() -> bytes:
    return saved(noise().convert("CMYK"), "JPEG")


def palette(**options: object) -> bytes:
    return saved(noise().quantize(16), "PNG", **options)


def changed_in_the_middle() -> bytes:
    data = bytearray(saved(noise(), "PNG"))
    data[len(data) // 2] ^= 0xFF
    return bytes(data)


GOOD = [
    Upload("grey PNG", lambda: picture(), 201, "ready", (40, 60)),
    Upload("RGB PNG", lambda: saved(noise(), "PNG"), 201, "ready", (90, 120)),
    Upload("JPEG", lambda: saved(noise(), "JPEG"), 201, "ready", (90, 120)),
    Upload("progressive JPEG", lambda: saved(noise(), "JPEG", progressive=True), 201, "ready", (90, 120)),
    Upload("WebP", lambda: saved(noise(), "WEBP"), 201, "ready", (90, 120)),
    Upload("lossless WebP", lambda: saved(noise(), "WEBP", lossless=True), 201, "ready", (90, 120)),
    Upload("TIFF", lambda: saved(noise(), "TIFF"), 201, "ready", (90, 120)),
    Upload("packed TIFF", lambda: saved(noise(), "TIFF", compression="tiff_lzw"), 201, "ready", (90, 120)),
    Upload("bitmap TIFF", lambda: saved(noise("L").convert("1"), "TIFF", compression="group4"), 201, "ready", (90, 120)),
    Upload("16-bit grey PNG", deep, 201, "ready", (100, 120)),
    Upload("16-bit grey TIFF", lambda: deep("TIFF"), 201, "ready", (100, 120)),
    Upload("CMYK JPEG", cmyk, 201, "ready", (90, 120)),
    Upload("CMYK TIFF", lambda: saved(noise().convert("CMYK"), "TIFF"), 201, "ready", (90, 120)),
    Upload("palette PNG", palette, 201, "ready", (90, 120)),
    Upload("palette PNG with a see-through colour", lambda: palette(transparency=0), 201, "ready", (90, 120)),
    Upload("RGBA PNG", lambda: picture(mode="RGBA"), 201, "ready", (40, 60)),
    Upload("grey with alpha", lambda: picture(mode="LA"), 201, "ready", (40, 60)),
    Upload("one bit", lambda: picture(mode="1"), 201, "ready", (40, 60)),
    Upload("1 × 1", lambda: picture(size=(1, 1)), 201, "ready", (1, 1)),
    Upload("a strip of 10 × 9000", lambda: picture(size=(10, 9000)), 201, "ready", (10, 9000)),
    Upload("OpenRaster", lambda: openraster(picture()), 201, "ready", (40, 60)),
    Upload("a picture with words behind its end", lambda: picture() + b"PK and more", 201, "ready", (40, 60)),
    *[Upload(f"JPEG turned by EXIF {n}", lambda n=n: turned(n), 201, "ready", (90, 120)) for n in (1, 3)],
    *[Upload(f"JPEG turned by EXIF {n}", lambda n=n: turned(n), 201, "ready", (120, 90)) for n in (6, 8)],
]
TAKEN_AND_REFUSED = [
    Upload("OpenRaster damaged inside its picture", lambda: damaged_packing(12_000), 201, "refused"),
    Upload("JPEG cut at 60 %", lambda: cut(saved(noise(), "JPEG"), 0.6), 201, "refused"),
    Upload("JPEG cut at 98 %", lambda: cut(saved(noise(), "JPEG"), 0.98), 201, "refused"),
    Upload("PNG cut at 50 %", lambda: cut(saved(noise(), "PNG"), 0.5), 201, "refused"),
    Upload("PNG changed in the middle", changed_in_the_middle, 201, "refused"),
    Upload("PNG of 3000 × 3000 without pixels", lambda: png_of(3000, 3000), 201, "refused"),
    Upload("TIFF cut at 90 %", lambda: cut(saved(noise(), "TIFF"), 0.9), 201, "refused"),
    Upload("OpenRaster with a picture cut short", lambda: openraster(cut(saved(noise(), "PNG"), 0.6)), 201, "refused"),
]
NO_PICTURE = "This is no picture that can be read here."
DAMAGED_HEAD = "The head of this file is damaged"
SEVERAL_PICTURES = "This file holds several pictures"
TOO_MANY_PIXELS = "far more pixels than a page needs"
NO_OPENRASTER = "This archive is no OpenRaster file."
DAMAGED_OPENRASTER = "This OpenRaster file is damaged"
REFUSED_AT_ONCE = [
    Upload("nothing", lambda: b"", 415, says=NO_PICTURE),
    Upload("WebP cut at 50 %", lambda: cut(saved(noise(), "WEBP", lossless=True), 0.5), 415, says=DAMAGED_HEAD),
    Upload("words", lambda: b"Page three is on its way.", 415, says=NO_PICTURE),
    Upload("a web page", lambda: b"<!DOCTYPE html><script>alert(1)</script>", 415, says=NO_PICTURE),
    Upload("a drawing in SVG", lambda: b'<svg xmlns="http://www.w3.org/2000/svg"/>', 415, says=NO_PICTURE),
    Upload("GIF", lambda: saved(noise("L"), "GIF"), 415, says=NO_PICTURE),
    Upload("BMP", lambda: saved(noise(), "BMP"), 415, says=NO_PICTURE),
    Upload("PDF", lambda: saved(noise(), "PDF"), 415, says=NO_PICTURE),
    Upload("EPS", lambda: saved(noise(), "EPS"), 415, says=NO_PICTURE),
    Upload("only the first bytes of a PNG", lambda: b"\x89PNG\r\n\x1a\n", 415, says=NO_PICTURE),
    Upload("a JPEG that ends in its head", lambda: cut(saved(noise(), "JPEG"), 0.002), 415, says=DAMAGED_HEAD),
    Upload("zeros", lambda: b"\0" * 5000, 415, says=NO_PICTURE),
    Upload("animated PNG", lambda: animated("PNG"), 415, says=SEVERAL_PICTURES),
    Upload("animated WebP", lambda: animated("WEBP"), 415, says=SEVERAL_PICTURES),
    Upload("TIFF of two pages", lambda: animated("TIFF"), 415, says=SEVERAL_PICTURES),
    Upload("TIFF of a million pages", lambda: tiff_of(2, behind=100_000), 415, says=SEVERAL_PICTURES),
    Upload("30000 × 30000 by its head", lambda: png_of(30_000, 30_000), 413, says=TOO_MANY_PIXELS),
    Upload("too long a side", lambda: png_of(30_001, 3), 413, says="Cut the picture into pages"),
    Upload("too many pixels", lambda: png_of(15_000, 9_000), 413, says="Make the picture smaller"),
    Upload("a bomb of 400 million pixels", bomb, 413, says=TOO_MANY_PIXELS),
    Upload("no width", lambda: png_of(0, 10), 415, says=NO_PICTURE),
    Upload("a plain ZIP", lambda: openraster(picture(), first="words.txt"), 415, says=NO_OPENRASTER),
    Upload("another kind of archive", lambda: openraster(picture(), mimetype="application/epub+zip"), 415, says=NO_OPENRASTER),
    Upload("OpenRaster without its merged picture", lambda: openraster(None), 415, says="has no merged picture"),
    Upload("OpenRaster with words for a picture", lambda: openraster(b"no picture"), 415, says=DAMAGED_OPENRASTER),
    Upload("OpenRaster whose picture is too large", lambda: openraster(png_of(30_000, 30_000)), 413, says=TOO_MANY_PIXELS),
    Upload("OpenRaster cut short", lambda: cut(openraster(picture()), 0.7), 415, says=DAMAGED_OPENRASTER),
    Upload("OpenRaster damaged where its picture begins", lambda: damaged_packing(0), 415, says=DAMAGED_OPENRASTER),
    Upload("OpenRaster whose kind never ends", lambda: openraster_that_says("mimetype", 2**31), 415, says=NO_OPENRASTER),
    Upload("OpenRaster with an endless chunk", openraster_with_a_long_chunk, 415, says=DAMAGED_OPENRASTER),
    Upload("OpenRaster that unpacks to 2 GB", lambda: openraster_that_says("mergedimage.png", 2**31), 413, says="is too large"),
]
ALL = [*GOOD, *TAKEN_AND_REFUSED, *REFUSED_AT_ONCE]
