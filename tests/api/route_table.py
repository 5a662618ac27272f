"""Every endpoint under /api/v1 with a request that is right for it, so that only permission decides the answer."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from django.urls import URLPattern
from rest_framework.serializers import Serializer

from api.urls import urlpatterns
from board.access import access_board
from board.actions.seat_invitations import secret_of
from board.actions.still_search import search_still
from board.models import Character, FigureProposal, Panel
from tests.api.world import MARKS, SQUARE, PageWithAll, World
from tests.pictures import png, upload

Payload = Callable[[World, PageWithAll], Any]
SCRIPT = "Page 40\nPanel 1\nRain.\n"


def routes() -> Iterator[tuple[str, str]]:
    """(route name, method) of every endpoint; the row that catches all other addresses has no name."""
    for row in urlpatterns:
        assert isinstance(row, URLPattern)
        if row.name:
            view = row.callback.view_class
            yield from ((row.name, method.upper()) for method in ("get", "post", "put", "patch", "delete") if hasattr(view, method))


def of_world(name: str) -> Callable[[World, PageWithAll], tuple]:
    """The arguments of a route, from the first word of its name."""
    noun = "model" if name == "model-sheet" else name.split("-", maxsplit=1)[0]
    on_page = {"page", "revision", "panel", "note", "job", "underlay", "figure"}

    def arguments(world: World, on: PageWithAll) -> tuple:
        if name == "panel-same-as-one":
            return (on.panel.pk, Panel.objects.create(page=on.page, order=9).pk)
        if name == "figure-proposal":
            return (proposal_on(on).pk,)
        if noun in on_page:
            first = getattr(on, noun).pk
        else:
            first = {"board": world.cast.board, "sheet": world.sheet, "reference": world.reference, "character": world.character,
                     "model": world.model_sheet, "review": world.review_sheet, "seat": world.seat_invitation}[noun].pk
        return (first, *({"rendition": (400,), "left-alone": ("perspective",), "files": ("svg",)}.get(name.partition("-")[2], ())))

    return arguments


def proposal_on(on: PageWithAll) -> FigureProposal:
    """That the marked figure stands in another panel of its page too."""
    panel = Panel.objects.create(page=on.page, order=9)
    return FigureProposal.objects.create(panel=panel, revision=on.revision, source=on.figure, found_by="reuse", marks=MARKS)


def another_character(world: World) -> Character:
    return Character.objects.get_or_create(board=world.cast.board, name="Ines of the mill", key="8")[0]


def bare_bodies(name: str) -> Iterator[dict]:
    """What a PATCH may carry that says nothing: no field at all, or one whose parts have none."""
    view = next(row.callback.view_class for row in urlpatterns if row.name == name)
    yield {}
    for field_name, field in view.bodies["PATCH"]().fields.items():
        if isinstance(getattr(field, "child", None), Serializer):
            yield {field_name: [{}]}


def beyond_all_numbers(arguments: tuple) -> Iterator[tuple]:
    """The same with one number in turn that no database can hold."""
    for at, one in enumerate(arguments):
        if isinstance(one, int):
            yield (*arguments[:at], 10**20, *arguments[at + 1:])


def no_arguments(world: World, on: PageWithAll) -> tuple:
    return ()


def other_member(world: World, on: PageWithAll) -> tuple:
    return (world.cast.board.members.get(user=world.cast.reader).pk,)


OF_NOTHING = {
    "tokens", "me", "me-password", "checks", "boards", "presets", "schema", "seat-invitation-previews",
    "seat-invitation-acceptances",
}


def arguments_of(name: str) -> Callable[[World, PageWithAll], tuple]:
    if name == "member":
        return other_member
    return no_arguments if name in OF_NOTHING else of_world(name)


@dataclass(frozen=True)
class FormBody:
    fields: dict


def form(**fields: str) -> Payload:
    return lambda world, on: FormBody({"image": upload(png(shade=99)), **fields})


def body(value: Any) -> Payload:
    return lambda world, on: value


def placed_still(world: World, on: PageWithAll) -> Any:
    """Only a panel with a still has a place for it."""
    Panel.objects.filter(pk=on.panel.pk).update(still=world.reference)
    return {"in_still": [[0.2, 0.2], [0.8, 0.8]], "on_page": [[0.2, 0.2], [0.8, 0.8]]}


def searched_still(world: World, on: PageWithAll) -> Any:
    placed_still(world, on)
    panel = Panel.objects.get(pk=on.panel.pk)
    search_still(seat=access_board(panel.page.drawn_by, panel.page.board_id), panel=panel)
    return None


PAYLOADS: dict[tuple[str, str], Payload] = {
    ("tokens", "POST"): body({"username": "owner", "password": "millrace-7"}),
    ("me", "PATCH"): body({"name": "Fenwick Oar"}),
    ("me-password", "PUT"): body({"old": "not-this-one", "new": "a-long-oar-in-the-reeds"}),
    ("boards", "POST"): body({"title": "Another comic"}),
    ("board", "PATCH"): body({"title": "The mill"}),
    ("board-members", "POST"): body({"username": "outsider", "roles": ["reader"]}),
    ("member", "PATCH"): body({"roles": ["artist"]}),
    ("board-invitations", "POST"): body({"roles": ["artist"], "days": 3}),
    ("seat-invitation-previews", "POST"): lambda world, on: {"secret": secret_of(world.seat_invitation)},
    ("seat-invitation-acceptances", "POST"): lambda world, on: {
        "secret": secret_of(world.seat_invitation), "username": "fenwick", "password": "a-long-oar-in-the-reeds"},
    ("board-pages", "POST"): body({"number": 12}),
    ("page", "PATCH"): body({"happens": "The wheel stops."}),
    ("board-renumberings", "POST"): body({"first": 1, "to": 4}),
    ("board-script-previews", "POST"): body({"text": SCRIPT}),
    ("board-scripts", "POST"): body({"text": SCRIPT}),
    ("board-last-look", "PUT"): body({"event": 1}),
    ("page-place", "PUT"): body({"before": None}),
    ("page-last-look", "PUT"): body({"event": 1}),
    ("page-chosen-alternate", "PUT"): body({"alternate": "A"}),
    ("page-stage-moves", "POST"): body({"move": "hand-in"}),
    ("page-revisions", "POST"): form(stage="thumbnail"),
    ("revision-panels", "PUT"): lambda world, on: {"panels": [{"id": on.panel.pk, "polygon": SQUARE}]},
    ("revision-underlays", "POST"): lambda world, on: {"panel": on.panel.pk, "includes": ["grid", "notes"]},
    ("page-panels", "POST"): body({"happens": "A hand on the sluice."}),
    ("panel", "PATCH"): body({"said": "Hold!"}),
    ("reference", "PATCH"): body({"title": "The mill race"}),
    ("panel-still", "PUT"): lambda world, on: {"reference": world.reference.pk},
    ("panel-still-search", "GET"): searched_still,
    ("panel-still-search", "POST"): searched_still,
    ("panel-still-placement", "PUT"): placed_still,
    ("panel-perspective", "PUT"): body({"eye_level": [[0.1, 0.4], [0.9, 0.42]]}),
    ("panel-figure-posts", "PUT"): body({"posts": [], "eye_height_m": 1.6}),
    ("panel-chosen-alternate", "PUT"): body({"alternate": "B"}),
    ("panel-stage-moves", "POST"): body({"move": "send-back", "why": "The arm bends the wrong way."}),
    ("page-notes", "POST"): body({"region": {"point": [0.2, 0.3]}, "tone": "try", "body": "Lower the eye level."}),
    ("board-notes", "POST"): body({"tone": "keep", "body": "The rain works."}),
    ("board-sendings", "POST"): body({}),
    ("note", "PATCH"): body({"body": "The hand still floats."}),
    ("note-replies", "POST"): body({"body": "I see it."}),
    ("board-sheets", "POST"): form(),
    ("sheet-cuts", "PUT"): lambda world, on: {"cuts": [{"polygon": SQUARE, "page": world.cast.page.pk}]},
    ("board-characters", "POST"): body({"name": "The heron", "height_m": 0.9}),
    ("character", "PATCH"): body({"height_m": 1.42}),
    ("character-mergings", "POST"): lambda world, on: {"character": another_character(world).pk},
    ("character-sheets", "POST"): lambda world, on: {"reference": world.reference.pk, "landmarks": MARKS},
    ("model-sheet", "PATCH"): body({"from_page": 3}),
    ("revision-figures", "POST"): lambda world, on: {"character": world.character.pk, "marks": MARKS},
    ("figure", "PATCH"): body({"pose": "seated"}),
    ("figure-proposal", "PATCH"): body({"state": "refused"}),
    ("reference-camera", "PUT"): body({"yfov_deg": 40.0, "pitch_deg": -5.0, "eye_height_m": 1.6}),
    ("board-references", "POST"): form(title="A sluice"),
}


def payload_of(name: str, method: str) -> Payload:
    return PAYLOADS.get((name, method), body(None))
