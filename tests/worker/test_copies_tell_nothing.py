"""A copy for screens is what a peer critic gets: it carries nothing of what the file says of its maker."""

from io import BytesIO

import pytest
from PIL import Image, ImageCms
from PIL.PngImagePlugin import PngInfo

from board.models import Picture
from board.picture_files import open_file
from board.upload_limits import UploadLimits
from board.vision.picture_decoding import decode_picture
from board.worker.renditions import NOMINAL_PX, make_renditions

MAKER = "quillon"


def signed_file(kind: str) -> BytesIO:
    """The maker's name in every place that such a file has for words."""
    exif = Image.Exif()
    exif[0x013B], exif[0x010E] = MAKER, MAKER
    words = PngInfo()
    words.add_text("Author", MAKER)
    words.add_itxt("XML:com.adobe.xmp", f"<x>{MAKER}</x>")
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes() + MAKER.encode()
    places = {"PNG": {"pnginfo": words}, "JPEG": {"xmp": MAKER.encode(), "comment": MAKER}}[kind]
    out = BytesIO()
    Image.new("RGB", (2500, 30), "white").save(out, kind, exif=exif, icc_profile=profile, **places)
    assert MAKER.encode() in out.getvalue()
    return out


@pytest.mark.parametrize("kind", ["PNG", "JPEG"])
def test_no_copy_names_the_maker(kind):
    picture = Picture(sha256=kind.ljust(64, "0"))
    make_renditions(picture, decode_picture(signed_file(kind), UploadLimits()).image)
    for nominal_px in NOMINAL_PX:
        with open_file(f"renditions/{picture.sha256[:2]}/{picture.sha256}-{nominal_px}.webp") as copy:
            assert MAKER.encode() not in copy.read()
