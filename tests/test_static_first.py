"""Files of a screen are sent at once: named early in its HTML, and before Django is asked."""

import asyncio
from pathlib import Path

import pytest
from django.template import Context, Template

from board.module_packs import our_packs
from board.static_first import StaticFirst
from board.static_storage import joined
from board.templatetags.early import imported_by


def test_all_that_a_screen_imports_is_named_and_nothing_that_comes_on_demand():
    named = imported_by("js/screens/desk.js")
    assert {"js/screens/desk_notes.js", "js/elements/h.js", "js/geometry/page_space.js"} <= set(named)
    assert "js/screens/shapes.js" not in named and "js/screens/desk.js" not in named


@pytest.mark.usefixtures("files_of_their_own")
@pytest.mark.parametrize("is_debug", [True, False])
def test_html_names_a_screens_packs_or_where_files_may_change_its_modules(settings, is_debug):
    settings.DEBUG = is_debug
    html = Template('{% load early %}{% module "js/screens/boards.js" %}').render(Context())
    named = imported_by("js/screens/boards.js") if is_debug else our_packs().of_screen["js/screens/boards.js"]
    assert html.count("modulepreload") == len(named) and html.endswith("</script>")


@pytest.mark.usefixtures("files_of_their_own")
@pytest.mark.parametrize("is_debug", [True, False])
def test_what_one_goes_to_from_here_is_named_to_be_fetched_when_there_is_time(settings, is_debug):
    settings.DEBUG = is_debug
    html = Template('{% load early %}{% ahead "js/screens/wall.js" "css/screens/wall.css" %}').render(Context())
    assert html.count('rel="prefetch"') == (0 if is_debug else len(our_packs().of_screen["js/screens/wall.js"]) + 2)


def test_a_stylesheet_is_sent_with_all_that_it_imports():
    texts = {
        "css/all.css": '@layer low;\n@import url("parts/one.css") layer(low);',
        "css/parts/one.css": '@font-face { src: url("../../fonts/a.ttf"); }\n@import url("two.css");',
        "css/parts/two.css": "p { color: red; }\n",
    }
    assert joined("css/all.css", texts.__getitem__) == (
        '@layer low;\n@layer low {\n@font-face { src: url("../fonts/a.ttf"); }\np { color: red; }\n}'
    )


def ask(application: StaticFirst, path: str, *headers: tuple[bytes, bytes]) -> list[dict]:
    sent: list[dict] = []

    async def send(message: dict) -> None:
        sent.append(message)

    asyncio.run(application({"type": "http", "method": "GET", "path": path, "headers": list(headers)}, None, send))
    return sent


async def django_answers(scope: dict, receive: object, send) -> None:
    await send({"type": "http.response.start", "status": 418, "headers": []})


def test_static_files_are_sent_without_django_and_all_else_by_it(settings, tmp_path: Path):
    settings.STATIC_ROOT, settings.DEBUG = str(tmp_path), False
    (tmp_path / "one.js").write_text("export const one = 1;")
    first = StaticFirst(django_answers)
    start, body = ask(first, "/static/one.js")
    told = dict(start["headers"])
    assert start["status"] == 200 and body["body"] == b"export const one = 1;"
    assert told[b"x-content-type-options"] == b"nosniff" and told[b"content-type"].startswith(b"text/javascript")
    again, nothing = ask(first, "/static/one.js", (b"if-none-match", told[b"etag"]))
    assert again["status"] == 304 and nothing["body"] == b""
    assert StaticFirst(django_answers).files == first.files and set(first.files) == {"/static/one.js"}
    for path in ("/static/two.js", "/static/../one.js", "/boards"):
        assert ask(first, path)[0]["status"] == 418
