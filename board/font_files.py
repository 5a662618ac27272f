"""Serves the typefaces out of their installed packages; none is copied into the project."""

from collections.abc import Iterable, Iterator
from importlib.util import find_spec
from pathlib import Path
from typing import Any

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


def font_path(package: str, name: str) -> Path:
    """Where a typeface file lies in its installed package. Raises FileNotFoundError, naming the package."""
    spec = find_spec(package)
    for folder in (spec.submodule_search_locations or []) if spec else []:
        path = Path(folder) / "files" / name
        if path.exists():
            return path
    raise FileNotFoundError(f"The typeface {name} is missing: install {package.replace('_', '-')}.")


class PackageFontStorage(FileSystemStorage):
    """Reads a font by the name it is served under."""

    def path(self, name: str) -> str:
        source = next((source for source, served in FONTS.items() if served == str(name).replace("\\", "/")), None)
        return str(font_path(*source)) if source else super().path(name)


class FontFinder(BaseFinder):
    storage = PackageFontStorage()

    def find(self, path: str, find_all: bool = False, **kwargs: Any) -> Any:
        found = [str(font_path(*source)) for source, served in FONTS.items() if served == path]
        return found if find_all else (found[0] if found else [])

    def check(self, **kwargs: Any) -> list[CheckMessage]:
        return []

    def list(self, ignore_patterns: Iterable[str] | None) -> Iterator[Any]:
        for served in FONTS.values():
            yield served, self.storage
