"""A picture's colours are those that its profile means: a final in printing inks is signed off by what it looks like in print."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from board.upload_limits import UploadLimits
from board.vision.picture_decoding import decode_picture
from tests.colour_profiles import GAMMA, VIVID, printing_inks, vivid_rgb

# Common offset inks on coated paper, about: L*, a*, b* (ISO 12647-2).
CYAN, MAGENTA, YELLOW, BLACK, PAPER = (55, -37, -50), (48, 74, -3), (89, -5, 93), (16, 0, 0), (100, 0, 0)
TO_SRGB = np.array([[3.1338561, -1.6168667, -0.4906146], [-0.9787684, 1.9161415, 0.0334540], [0.0719453, -0.2289914, 1.4052427]])


def printed(inks):
    alone = {(1, 0, 0, 0): CYAN, (0, 1, 0, 0): MAGENTA, (0, 0, 1, 0): YELLOW, (0, 0, 0, 0): PAPER}
    return alone.get(tuple(inks), BLACK)


def srgb_of_xyz(xyz) -> np.ndarray:
    """IEC 61966-2-1, from XYZ of D50 by the matrix adapted after Bradford; 0..255."""
    linear = np.clip(TO_SRGB @ np.asarray(xyz), 0, 1)
    return 255 * np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055)


def srgb_of_lab(lightness, a, b) -> np.ndarray:
    fy = (lightness + 16) / 116
    cubes = [f**3 if f > 6 / 29 else 3 * (6 / 29) ** 2 * (f - 4 / 29) for f in (fy + a / 500, fy, fy - b / 200)]
    return srgb_of_xyz(np.multiply(cubes, (0.9642, 1.0, 0.8249)))


def seen(mode: str, colour, kind: str, **more) -> np.ndarray:
    file = BytesIO()
    Image.new(mode, (8, 8), colour).save(file, kind, **more)
    return np.asarray(decode_picture(file, UploadLimits()).image.convert("RGB"))[4, 4].astype(float)


@pytest.mark.parametrize(("kind", "more"), [("TIFF", {}), ("JPEG", {"quality": 100})])
@pytest.mark.parametrize(("inks", "lab"), [((255, 0, 0, 0), CYAN), ((0, 255, 0, 0), MAGENTA), ((0, 0, 0, 0), PAPER)])
def test_printing_inks_are_seen_as_they_print(kind, more, inks, lab):
    told = seen("CMYK", inks, kind, icc_profile=printing_inks(printed), **more)
    assert np.abs(told - srgb_of_lab(*lab)).max() <= 8


@pytest.mark.parametrize("mode", ["RGB", "RGBA"])
@pytest.mark.parametrize("colour", [(200, 120, 60), (128, 128, 128), (90, 140, 100), (255, 255, 255)])
def test_colours_of_a_wider_space_are_seen_as_they_are_meant(mode, colour):
    linear = np.divide(colour, 255) ** GAMMA
    meant = srgb_of_xyz(np.transpose(VIVID) @ linear)
    told = seen(mode, colour + ((255,) if mode == "RGBA" else ()), "PNG", icc_profile=vivid_rgb())
    assert np.abs(told - meant).max() <= 3


@pytest.mark.parametrize("profile", [b"", b"no profile at all", vivid_rgb()[:200], printing_inks(printed)])
def test_without_a_profile_of_its_own_colours_a_picture_is_as_it_is(profile):
    assert list(seen("RGB", (200, 120, 60), "PNG", icc_profile=profile)) == [200, 120, 60]


def test_a_clear_sheet_stays_clear_under_a_profile():
    assert list(seen("RGBA", (0, 0, 0, 0), "PNG", icc_profile=vivid_rgb())) == [255, 255, 255]
