"""Static files named by their content, so that a browser may keep them for ever."""

import re
from collections.abc import Callable, Iterator
from hashlib import md5
from posixpath import dirname, join, normpath, relpath
from typing import Any

from django.core.files.base import ContentFile
from whitenoise.storage import CompressedManifestStaticFilesStorage

from board.module_packs import our_packs

IMPORTED = re.compile(r'@import url\("([^"]+)"\)(?: layer\(([\w.]+)\))?;')
URL = re.compile(r'url\("(\.[^"]+)"\)')


class HashedStaticStorage(CompressedManifestStaticFilesStorage):
    # Relative imports between our ES modules are rewritten to the hashed names too: no import map.
    support_js_module_import_aggregation = True
    # The admin of a development checkout works before `collectstatic` was run.
    manifest_strict = False
    scripts_hash = ""

    def create_compressor(self, **options: Any) -> Any:
        """By gzip alone: Brotli, which the typefaces need, takes 20 s longer over all files, at each start."""
        return super().create_compressor(**options, use_brotli=False)

    def post_process(self, paths: dict[str, Any], dry_run: bool = False, **options: Any) -> Iterator[Any]:
        """A stylesheet is sent with all that it imports, and modules in packs: a browser asks for each file apart."""

        def read(path: str) -> str:
            storage, source = paths[path]
            with storage.open(source) as file:
                return file.read().decode()

        sheets = {path: joined(path, read) for path in paths if path.startswith("css/") and IMPORTED.search(read(path))}
        self.scripts_hash = md5("".join(our_packs().texts.values()).encode(), usedforsecurity=False).hexdigest()[:12]
        for path, text in ({} if dry_run else sheets | our_packs().files()).items():
            self.delete(path)
            paths[path] = (self, self._save(path, ContentFile(text.encode())))
        yield from super().post_process(paths, dry_run, **options)

    def file_hash(self, name: str | None, content: Any = None) -> str:
        """One for all our scripts: what comes on demand and the packs name each other, and no name can then wait for another's."""
        is_ours = bool(name and name.startswith("js/"))
        return self.scripts_hash if is_ours and self.scripts_hash else super().file_hash(name, content)


def joined(path: str, read: Callable[[str], str]) -> str:
    """A stylesheet with all that it imports written in, each part in its layer and its addresses seen from here."""

    def written_in(found: re.Match[str]) -> str:
        part = normpath(join(dirname(path), found[1]))
        text = URL.sub(lambda url: f'url("{relpath(join(dirname(part), url[1]), dirname(path))}")', joined(part, read))
        return f"@layer {found[2]} {{\n{text}}}" if found[2] else text

    return IMPORTED.sub(written_in, read(path))
