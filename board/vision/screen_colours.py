"""Colours as a picture's own profile means them, in sRGB, which screens show and checks see."""

from functools import cache
from io import BytesIO

from PIL import Image, ImageCms

OF_COLOURS = {"RGB": "RGB", "RGBA": "RGBA", "CMYK": "RGB"}  # mode -> what it becomes
# White paper stays white, and the darkest ink is as dark as a screen shows.
INTENT, FLAGS = ImageCms.Intent.RELATIVE_COLORIMETRIC, ImageCms.Flags.BLACKPOINTCOMPENSATION
# What a profile that is damaged, or one of other colours than the picture's, raises.
NOT_USABLE = (ImageCms.PyCMSError, OSError, ValueError, TypeError)


def in_screen_colours(image: Image.Image) -> Image.Image:
    """An 8-bit picture in sRGB by the ICC profile that it carries; as it is where it has none, or one that cannot be used.

    Greys are left alone: a profile changes how dark a tone is, and no line.
    """
    packed = image.info.get("icc_profile")
    if not packed or image.mode not in OF_COLOURS:
        return image
    try:
        profile = ImageCms.ImageCmsProfile(BytesIO(packed))
        if ImageCms.getProfileDescription(profile).strip().startswith("sRGB"):
            return image
        shown = ImageCms.profileToProfile(image, profile, _srgb(), INTENT, OF_COLOURS[image.mode], flags=FLAGS)
    except NOT_USABLE:
        return image
    return image if shown is None else shown


@cache
def _srgb() -> ImageCms.ImageCmsProfile:
    return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))
