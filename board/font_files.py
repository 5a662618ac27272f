"""Serves the typefaces out of their installed packages; none is copied into the project.

Each is served twice: the part that European languages are written in, which is a quarter of it, and all of it for the rest.
"""

import os
from collections.abc import Iterable, Iterator
from hashlib import md5
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from django.conf import settings
from django.contrib.staticfiles.finders import BaseFinder
from django.core.checks import CheckMessage
from django.core.files.storage import FileSystemStorage

# File in the package -> name under /static/fonts/. The weights that the stylesheets name, and no more.
FONTS = {
    ("fontpkg_alegreya_sans", "AlegreyaSans-Regular.ttf"): "fonts/text-regular.ttf",
    ("fontpkg_alegreya_sans", "AlegreyaSans-Italic.ttf"): "fonts/text-italic.ttf",
    ("fontpkg_alegreya_sans", "AlegreyaSans-Bold.ttf"): "fonts/text-bold.ttf",
    ("fontpkg_ibm_plex_mono", "IBMPlexMono-Regular.ttf"): "fonts/figures.ttf",
}
# As `static/css/base.css` says it to browsers: letters, accents, punctuation, money, letter-like signs, arrows, signs of reckoning.
LATIN = "U+0000-036F, U+2000-206F, U+20A0-20BF, U+2100-214F, U+2190-2193, U+2212, U+2248-2265"


def font_path(package: str, name: str) -> Path:
    """Where a typeface file lies in its installed package. Raises FileNotFoundError, naming the package."""
    spec = find_spec(package)
    for folder in (spec.submodule_search_locations or []) if spec else []:
        path = Path(folder) / "files" / name
        if path.exists():
            return path
    raise FileNotFoundError(f"The typeface {name} is missing: install {package.replace('_', '-')}.")


def latin_of(source: Path) -> Path:
    """The Latin part of a typeface as WOFF2, made once. With its hints: on coarse screens words run together without them."""
    made = Path(settings.VAR_DIR) / "fonts" / f"{source.stem}-{md5(LATIN.encode(), usedforsecurity=False).hexdigest()[:8]}.woff2"
    if not made.exists():
        from fontTools import subset

        options = subset.Options(flavor="woff2", ignore_missing_unicodes=True, drop_tables=["meta"])
        font, part = subset.load_font(str(source), options), subset.Subsetter(options)
        part.populate(unicodes=subset.parse_unicodes(LATIN.replace("U+", "").replace(" ", "")))
        part.subset(font)
        made.parent.mkdir(exist_ok=True)
        # Another process may ask for it meanwhile: it is there whole or not at all.
        half = made.with_suffix(f".{os.getpid()}")
        subset.save_font(font, str(half), options)
        half.replace(made)
    return made


def path_served_as(name: str) -> str | None:
    for source, served in FONTS.items():
        if name == served:
            return str(font_path(*source))
        if name == served.replace(".ttf", ".woff2"):
            return str(latin_of(font_path(*source)))
    return None


class PackageFontStorage(FileSystemStorage):
    """Reads a font by the name it is served under."""

    def path(self, name: str) -> str:
        return path_served_as(str(name).replace("\\", "/")) or super().path(name)


class FontFinder(BaseFinder):
    storage = PackageFontStorage()

    def find(self, path: str, find_all: bool = False, **kwargs: Any) -> Any:
        found = path_served_as(path)
        return ([found] if found else []) if find_all else (found or [])

    def check(self, **kwargs: Any) -> list[CheckMessage]:
        return []

    def list(self, ignore_patterns: Iterable[str] | None) -> Iterator[Any]:
        for served in FONTS.values():
            yield served, self.storage
            yield served.replace(".ttf", ".woff2"), self.storage
