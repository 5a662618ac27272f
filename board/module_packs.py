"""ES modules that the same screens need are sent as one file: a browser asks for each file apart, six at a time.

None is loaded twice: each has one home, which whatever comes on demand imports too.
The sources stay plain modules with relative imports, and run as they are where files may change while the program runs.
"""

import re
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from posixpath import basename, dirname, join, normpath, relpath, splitext

from django.conf import settings

FOLDER = "js/packs"
IMPORTED = re.compile(r'^import \{ ([^}]+) \} from "(\.[^"]+)";$', re.MULTILINE)
ON_DEMAND = re.compile(r'\bimport\("(\.[^"]+)"\)')
COMMENT = re.compile(r"^ *(?://.*|/\*[\s\S]*?\*/)\n", re.MULTILINE)
EXPORTED = re.compile(r"^export ((?:async )?(?:const|function|class)) (\w+)", re.MULTILINE)


# What so many screens need is one pack, for all: small modules each, and a browser that was on any screen has it.
MANY, COMMON = 6, ()


class ModulePacks:
    """`screens` are the modules that HTML names: they import packs, and lie in none, since they do things when they are loaded."""

    def __init__(self, texts: Mapping[str, str], screens: list[str]) -> None:
        self.texts, self.screens = texts, screens
        needs = {screen: (set(self.all_imported(screen)), self._within_reach(screen)) for screen in screens}
        groups: dict[tuple, list[str]] = {}
        for path in sorted({path for at_once, _ in needs.values() for path in at_once}):
            users = tuple((path in at_once) + (path in later) for at_once, later in needs.values())
            groups.setdefault(COMMON if users.count(2) >= MANY else users, []).append(path)
        named = ((f"{FOLDER}/common.js" if users == COMMON else named_after(paths[0]), paths) for users, paths in groups.items())
        self.packs = {pack: self._in_order(paths) for pack, paths in named}
        self.home = {path: pack for pack, paths in self.packs.items() for path in paths}
        # What each needs before it can run.
        self.of_screen = {screen: list(dict.fromkeys(self.home[path] for path in self.all_imported(screen))) for screen in screens}

    def files(self) -> dict[str, str]:
        """Path -> text of all that is sent in place of the sources."""
        return {
            **{pack: self._packed(pack) for pack in self.packs},
            **{path: self._facade(path) if path in self.home else self._unpacked(path) for path in self.texts},
        }

    def all_imported(self, path: str) -> list[str]:
        """Whatever a module needs before it can run, each behind what it needs itself."""
        found: list[str] = []
        for one in named(path, IMPORTED, self.texts[path]):
            found += [each for each in [*self.all_imported(one), one] if each not in found]
        return found

    def _within_reach(self, screen: str) -> set[str]:
        """What a screen may load, at once or on demand."""
        found, waiting = {screen}, [screen]
        while waiting:
            at = waiting.pop()
            more = {one for kind in (IMPORTED, ON_DEMAND) for one in named(at, kind, self.texts[at])} - found
            found |= more
            waiting += more
        return found

    def _in_order(self, paths: list[str]) -> tuple[str, ...]:
        ordered = [one for path in paths for one in [*self.all_imported(path), path] if one in paths]
        return tuple(dict.fromkeys(ordered))

    def _packed(self, pack: str) -> str:
        needed = {one for path in self.packs[pack] for one in named(path, IMPORTED, self.texts[path])} - set(self.packs[pack])
        imports = [f'import {{ {name_of(one)} }} from "./{basename(self.home[one])}";\n' for one in sorted(needed)]
        return "".join([*imports, *(self._wrapped(path) for path in self.packs[pack])])

    def _wrapped(self, path: str) -> str:
        """A module as what it exports, its other names its own."""
        text = IMPORTED.sub(lambda found: taken(found[1], name_of(beside(path, found[2]))), self.texts[path])
        text = ON_DEMAND.sub(lambda found: f'import("{relpath(beside(path, found[1]), FOLDER)}")', text)
        kept, exported = COMMENT.sub("", EXPORTED.sub(r"\1 \2", text)), ", ".join(self._exported(path))
        return f"export const {name_of(path)} = (() => {{\n{kept}return {{ {exported} }};\n}})();\n"

    def _facade(self, path: str) -> str:
        """What is left of a packed module in its own place, for whoever imports it on demand."""
        home, exported = relpath(self.home[path], dirname(path)), ", ".join(self._exported(path))
        return f'import {{ {name_of(path)} }} from "{home}";\nexport const {{ {exported} }} = {name_of(path)};\n'

    def _unpacked(self, path: str) -> str:
        def from_pack(found: re.Match[str]) -> str:
            one = beside(path, found[2])
            if one not in self.home:
                return found[0]
            return f'import {{ {name_of(one)} }} from "{relpath(self.home[one], dirname(path))}";{taken(found[1], name_of(one))}'

        return COMMENT.sub("", IMPORTED.sub(from_pack, self.texts[path]))

    def _exported(self, path: str) -> Iterator[str]:
        return (found[2] for found in EXPORTED.finditer(self.texts[path]))


def taken(names: str, module: str) -> str:
    return f"const {{ {names.replace(' as ', ': ')} }} = {module};"


def named_after(path: str) -> str:
    return f"{FOLDER}/{path.removeprefix('js/').replace('/', '-')}"


def name_of(path: str) -> str:
    """A name that no module gives itself."""
    return re.sub(r"\W", "$", splitext(path)[0].removeprefix("js"))


def beside(path: str, address: str) -> str:
    return normpath(join(dirname(path), address))


def named(path: str, kind: re.Pattern[str], text: str) -> list[str]:
    return [beside(path, found[kind.groups]) for found in kind.finditer(text)]


@cache
def our_packs() -> ModulePacks:
    root, templates = Path(settings.BASE_DIR) / "static", Path(settings.BASE_DIR) / "board/templates/board"
    texts = {path.relative_to(root).as_posix(): path.read_text() for path in sorted(root.glob("js/**/*.js"))}
    screens = (f"js/screens/{template.stem}.js" for template in sorted(templates.glob("*.html")))
    return ModulePacks(texts, [screen for screen in screens if screen in texts])
