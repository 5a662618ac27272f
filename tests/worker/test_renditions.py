"""The copies for screens: three sizes, of which a small picture needs fewer."""

import pytest
from PIL import Image

from board.models import Picture
from board.picture_files import open_file
from board.worker.renditions import NOMINAL_PX, make_renditions


@pytest.mark.parametrize(("width", "widths"), [(2500, (2400, 1200, 400)), (900, (900, 900, 400)), (90, (90, 90, 90))])
def test_each_is_of_its_width_or_as_wide_as_the_picture_and_packed_once(files_of_their_own, monkeypatch, width, widths):
    packed, save = [], Image.Image.save

    def noting(image, *args, **options):
        packed.append(image.width)
        save(image, *args, **options)

    monkeypatch.setattr(Image.Image, "save", noting)
    picture = Picture(sha256=str(width).ljust(64, "0"))
    sizes = make_renditions(picture, Image.new("RGB", (width, width // 2), "white"))
    for nominal_px, expected in zip(NOMINAL_PX, widths, strict=True):
        with open_file(f"renditions/{picture.sha256[:2]}/{picture.sha256}-{nominal_px}.webp") as copy, Image.open(copy) as image:
            assert image.size == sizes[nominal_px]
            assert image.width == expected
    assert packed == list(dict.fromkeys(widths))


def test_a_strip_taller_than_webp_goes_is_made_smaller_once(files_of_their_own):
    picture = Picture(sha256="tall".ljust(64, "0"))
    sizes = make_renditions(picture, Image.new("L", (1250, 24_000), "white"))
    assert sizes == {2400: (853, 16_383), 1200: (853, 16_383), 400: (400, 7683)}
