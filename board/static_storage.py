"""Static files named by their content, so that a browser may keep them for ever."""

import re
from collections.abc import Callable, Iterator
from posixpath import dirname, join, normpath, relpath
from typing import Any

from django.core.files.base import ContentFile
from whitenoise.storage import CompressedManifestStaticFilesStorage

IMPORTED = re.compile(r'@import url\("([^"]+)"\)(?: layer\(([\w.]+)\))?;')
URL = re.compile(r'url\("(\.[^"]+)"\)')


class HashedStaticStorage(CompressedManifestStaticFilesStorage):
    # Relative imports between our ES modules are rewritten to the hashed names too: no import map, no build.
    support_js_module_import_aggregation = True
    # One for each step of the longest chain of imports: a module's name changes when one that it imports has changed its own.
    max_post_process_passes = 12
    # The admin of a development checkout works before `collectstatic` was run.
    manifest_strict = False

    def post_process(self, paths: dict[str, Any], dry_run: bool = False, **options: Any) -> Iterator[Any]:
        """A stylesheet that imports others is sent as one file: a browser asks for each file apart, and a screen had two dozen."""
        def read(path: str) -> str:
            storage, source = paths[path]
            with storage.open(source) as file:
                return file.read().decode()

        whole = {path: Joined(joined(path, read)) for path in paths if path.startswith("css/") and IMPORTED.search(read(path))}
        yield from super().post_process({**paths, **{path: (one, path) for path, one in whole.items()}}, dry_run, **options)


class Joined:
    """What the hashing reads in place of a file."""

    def __init__(self, text: str) -> None:
        self.text = text

    def open(self, path: str) -> ContentFile:
        return ContentFile(self.text.encode())


def joined(path: str, read: Callable[[str], str]) -> str:
    """A stylesheet with all that it imports written in, each part in its layer and its addresses seen from here."""

    def written_in(found: re.Match[str]) -> str:
        part = normpath(join(dirname(path), found[1]))
        text = URL.sub(lambda url: f'url("{relpath(join(dirname(part), url[1]), dirname(path))}")', joined(part, read))
        return f"@layer {found[2]} {{\n{text}}}" if found[2] else text

    return IMPORTED.sub(written_in, read(path))
