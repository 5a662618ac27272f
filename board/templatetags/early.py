"""All that a module or a stylesheet imports is asked for at once, not as the browser reads on."""

import re
from functools import cache
from pathlib import Path
from posixpath import dirname, join, normpath

from django import template
from django.conf import settings
from django.templatetags.static import static
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from board.module_packs import our_packs

register = template.Library()
# Imports that come when they are asked for, `import("…")`, are left to come then.
IMPORTS = {
    ".js": re.compile(r'^(?:import|export)[^"(]*"(\.[^"]+)";?$', re.MULTILINE),
    ".css": re.compile(r'@import url\("([^"]+)"\)'),
}


@register.simple_tag
def module(path: str) -> SafeString:
    """The screen's script, and with it all that it will import: in packs, but where files may change while it runs."""
    parts = imported_by(path) if settings.DEBUG else our_packs().of_screen[path]
    links = format_html_join("\n", '<link rel="modulepreload" href="{}" fetchpriority="high">', ((static(one),) for one in parts))
    return format_html('{}\n<script type="module" src="{}"></script>', links, static(path))


@register.simple_tag
def stylesheet(path: str) -> SafeString:
    """One file, but where files may change while it runs: there each part comes by itself."""
    parts = imported_by(path) if settings.DEBUG else ()
    links = format_html_join("\n", '<link rel="preload" href="{}" as="style">', ((static(one),) for one in parts))
    return format_html('<link rel="stylesheet" href="{}">\n{}', static(path), links)


@register.simple_tag
def ahead(*paths: str) -> SafeString:
    """What one goes to from here, or wants when the line may be broken: fetched when the browser has nothing else to do."""
    if settings.DEBUG:
        return SafeString()
    ours = our_packs()
    needed = (ours.home.get(one, one) for path in paths if path.endswith(".js") for one in ours.all_imported(path))
    named = dict.fromkeys([*needed, *paths])
    return format_html_join("\n", '<link rel="prefetch" href="{}">', ((static(one),) for one in named))


@cache
def imported_by(path: str) -> tuple[str, ...]:
    """All files that this one needs before it can run, nearest first."""
    found: list[str] = []
    waiting = [path]
    while waiting:
        at = waiting.pop(0)
        text = (Path(settings.BASE_DIR) / "static" / at).read_text()
        for name in IMPORTS[Path(at).suffix].findall(text):
            one = normpath(join(dirname(at), name))
            if one != path and one not in found:
                found.append(one)
                waiting.append(one)
    return tuple(found)
