"""Smaller copies of a picture for screens: about 2400, 1200 and 400 px wide, each made from the one before."""

from io import BytesIO

from PIL import Image

from board.actions.intake import record_renditions, tell_pictures_are_there
from board.models import Job, Picture, Rendition
from board.picture_files import keep_file
from board.worker.decoding import decoded
from board.worker.outcome import Outcome
from board.worker.subjects import revision_of

NOMINAL_PX = (2400, 1200, 400)
QUALITY, METHOD = 82, 2


def make_renditions(picture: Picture, image: Image.Image) -> dict[int, tuple[int, int]]:
    """Writes the files and returns nominal width -> (width, height) in px. A smaller original is never blown up."""
    sizes, packed = {}, b""
    for nominal_px in NOMINAL_PX:
        if image.width > nominal_px:
            height_px = max(1, round(image.height * nominal_px / image.width))
            image, packed = image.resize((nominal_px, height_px), Image.Resampling.LANCZOS, reducing_gap=2.0), b""
        if not packed:  # a small picture is its own larger copy
            image = _within_webp(image)
            packed = _as_webp(image)
        sizes[nominal_px] = image.size
        keep_file(Rendition(picture=picture, nominal_px=nominal_px).file_name, BytesIO(packed))
    return sizes


def _as_webp(image: Image.Image) -> bytes:
    content = BytesIO()
    image.save(content, "WEBP", quality=QUALITY, method=METHOD)
    return content.getvalue()


def _within_webp(image: Image.Image) -> Image.Image:
    """WebP ends at 16383 px a side; a strip may be taller than that."""
    longest = max(image.size)
    if longest <= 16_383:
        return image
    scale = 16_383 / longest
    return image.resize((max(1, int(image.width * scale)), max(1, int(image.height * scale))), Image.Resampling.LANCZOS)


def handle(job: Job) -> Outcome:
    revision = revision_of(job)
    sizes = make_renditions(revision.picture, decoded(revision.picture).image)

    def record() -> None:
        record_renditions(picture=revision.picture, sizes=sizes)
        tell_pictures_are_there(revision=revision)

    return Outcome({"widths_px": [size[0] for size in sizes.values()]}, record)
