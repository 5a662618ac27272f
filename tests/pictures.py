"""Tiny pictures for tests, drawn on the spot."""

import io

from PIL import Image


def picture(kind: str = "PNG", size: tuple[int, int] = (40, 60), mode: str = "L", color: object = None, **options: object) -> bytes:
    """One plain picture as a file's bytes."""
    fill = color if color is not None else {"L": 240, "RGB": (240, 240, 240)}.get(mode, 0)
    out = io.BytesIO()
    Image.new(mode, size, fill).save(out, kind, **options)
    return out.getvalue()


def png(width_px: int = 40, height_px: int = 60, shade: int = 240) -> bytes:
    return picture("PNG", (width_px, height_px), color=shade)


def upload(data: bytes | None = None, name: str = "page.png") -> io.BytesIO:
    """A file as a test client sends it."""
    file = io.BytesIO(png() if data is None else data)
    file.name = name
    return file
