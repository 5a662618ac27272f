"""Figure posts: stood on a panel's floor by hand, kept with the panel, as tall as the cast has them now."""

from typing import Any

from django.db import transaction

from board.access import Seat
from board.actions.events import write_event
from board.actions.figure_inputs import eye_height_m
from board.actions.given_places import moved_onto
from board.actions.measuring import measure_panel_again
from board.actions.shown_shape import shape_shown
from board.actions.versions import lock_version, save_next_version
from board.errors import NotPossibleNow, NotValid
from board.figure_posts import is_in_reach
from board.models import Board, Character, Job, ModelSheet, Panel, PanelShape, Revision
from board.models.job import DONE
from board.models.model_sheet import height_on, proportions_on
from board.page_space import bounds


@transaction.atomic
def set_figure_posts(
    *, seat: Seat, panel: Panel, posts: list[dict[str, Any]], eye_height: float | None = None, expected_version: int | None,
    revision: Revision | None = None,
) -> Panel:
    """All posts of a panel at once: {"foot", "character"} as tall as the cast has it, or {"foot", "height_m", "heads", "name"}.

    Feet lie where they are on the picture named, else on the page as it stands. An empty list and no eye height take everything
    back. Marked figures are held against the eye height that is said.
    """
    panel = lock_version(panel, expected_version)
    shape = shape_shown(panel, revision)
    if shape is None:
        raise NotPossibleNow("This panel has no drawing yet.")
    _read(seat.board, shape, posts)
    kept = {"posts": posts, "eye_height_m": eye_height, "bounds": list(bounds(shape.polygon))}
    panel.figure_posts = kept if posts or eye_height else None
    save_next_version(panel, "figure_posts")
    write_event(board=seat.board, kind="panel-figure-posts-set", actor=seat.user, page=panel.page, panel=panel.pk)
    measure_panel_again(shape=shape)
    return panel


def _read(board: Board, shape: PanelShape, posts: list[dict[str, Any]]) -> None:
    """Raises NotValid with the sentence that people read."""
    heights = {character.pk: _size_of(character, shape.panel.page.number)["height_m"]
               for character in Character.objects.filter(board=board, pk__in=[post.get("character") for post in posts])}
    for post in posts:
        if not is_in_reach(shape.polygon, post["foot"]):
            raise NotValid("A post stands in its panel, or beyond the frame that cuts it off by no more than the panel is high.")
        if ("character" in post) == ("height_m" in post):
            raise NotValid("A post is as tall as one of the cast, or as a height that is given: name one of the two.")
        if "character" in post and post["character"] not in heights:
            raise NotValid("There is no such character in the cast.")
        if "character" in post and not heights[post["character"]]:
            raise NotValid("This character has no height in the cast.")


def posts_on(shape: PanelShape) -> list[dict[str, Any]]:
    """As guides of an underlay: the feet moved onto this drawing, heights and heads from the cast. Who left it has no post."""
    kept = shape.panel.figure_posts
    if not kept:
        return []
    cast = Character.objects.filter(pk__in=[post["character"] for post in kept["posts"] if "character" in post]).in_bulk()
    number = shape.panel.page.number
    sizes = {pk: size for pk, character in cast.items() if (size := _size_of(character, number))["height_m"]}
    return [{**(sizes[post["character"]] if "character" in post else post), "foot": moved_onto(shape, kept["bounds"], post["foot"])}
            for post in kept["posts"] if "character" not in post or post["character"] in sizes]


def _size_of(character: Character, page_number: int) -> dict[str, Any]:
    """As the check of heights has it on that page."""
    sheets = list(ModelSheet.objects.filter(character=character).select_related("reference__picture"))
    return {"name": character.name, "height_m": height_on(character, sheets, page_number),
            "heads": proportions_on(sheets, page_number).head_count}


def eye_height_on(shape: PanelShape) -> float | None:
    """Over the floor: as someone said, else as the still's camera has it, else as the panel's marked figures have it."""
    return eye_height_m(shape.panel) or _by_figures(shape)


def _by_figures(shape: PanelShape) -> float | None:
    job = Job.objects.filter(revision=shape.revision_id, check_id="heights", state=DONE).first()
    rows = job.numbers.get("panels", []) if job else []
    return next((row["eye_height_m"] for row in rows if row["panel"] == shape.panel_id), None)
