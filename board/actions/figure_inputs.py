"""What the checks of figures work from: the marks, the cast, and how each panel sees its ground."""

from collections.abc import Iterable
from typing import Any

from board.actions.given_places import given_on
from board.actions.placed_still import placed_numbers
from board.models import Board, Character, Figure, FigurePlace, Finding, Job, ModelSheet, Panel, PanelShape, Revision
from board.models.figure import LOST
from board.models.job import DONE, UNFINISHED
from board.models.model_sheet import height_on, proportions_on
from board.models.note import STET
from board.models.revision import current_revisions
from board.page_space import bounds
from board.read_once import read_once

TREND = "off-model-trend"
SEEN = ("eye_level", "eye_level_interval_px", "focal_px", "pitch_deg", "vanishing_points")
SAME_SHAPE = 0.03  # by which a panel's shape may part from its still's, for the still's camera to be the panel's

HeadsOnPage = tuple[int, float, float]


@read_once
def figures_on(revision: Revision) -> list[FigurePlace]:
    """Those whose marks are known there."""
    places = FigurePlace.objects.filter(revision=revision).exclude(placed_by=LOST)
    return list(places.select_related("figure__character").order_by("figure"))


@read_once
def lost_on(revision: Revision) -> list[int]:
    """Nothing is measured of these; what was said of them is told not to be."""
    places = FigurePlace.objects.filter(revision=revision, placed_by=LOST)
    return list(places.order_by("figure").values_list("figure", flat=True))


def figure_inputs(revision: Revision, check_id: str) -> dict[str, Any]:
    places, page = figures_on(revision), revision.page
    who = {place.figure.character_id: place.figure.character for place in places}
    heads = heads_by_page(page.board, who, but=page.number) if check_id == "proportions" else {}
    cast = {pk: {**_as_cast(character, page.number), "heads_by_page": heads.get(pk, [])} for pk, character in who.items()}
    for pk, rows in heads.items():
        cast[pk]["sheet_heads"] = _other_sheets(who[pk], cast[pk]["head_count"], {number for number, _, _ in rows})
    for pk in set(heads) & (_whose_drift_stands(page.board) if heads else set()):
        cast[pk]["drift_stands"] = True
    panels = {place.figure.panel_id for place in places if place.figure.panel_id}
    shapes = PanelShape.objects.filter(revision=revision, panel__in=panels)
    shapes = shapes.select_related("panel__still__picture", "revision__picture")
    lost = lost_on(revision)
    return {
        **({"lost": lost} if lost else {}),
        "number": page.number,
        "figures": [_as_figure(place, cast[place.figure.character_id]) for place in places],
        "eye_heights": {str(shape.panel_id): eye_m for shape in shapes if (eye_m := eye_height_m(shape.panel))},
        "perspective": {"panels": perspective_of(revision, shapes)},
    }


@read_once
def _as_cast(character: Character, page_number: int) -> dict[str, Any]:
    sheets = list(ModelSheet.objects.filter(character=character).select_related("reference__picture"))
    proportions = proportions_on(sheets, page_number)
    segments = {name: round(value, 6) for name, value in proportions.segments.items()}
    height_m = height_on(character, sheets, page_number)
    return {"id": character.pk, "name": character.name, "height_m": height_m, "segments": segments,
            "head_count": proportions.head_count and round(proportions.head_count, 6)}


def _other_sheets(character: Character, head_count: float | None, pages: Iterable[int]) -> dict[str, float]:
    """Page number -> the head count that the character's sheet has there, where it is another than here."""
    sheets = list(ModelSheet.objects.filter(character=character).select_related("reference__picture"))
    there = {number: proportions_on(sheets, number).head_count for number in sorted(pages)}
    return {str(number): round(count, 6) for number, count in there.items() if count and round(count, 6) != head_count}


def _whose_drift_stands(board: Board) -> set[int]:
    """The characters whose drift was given a stet, on whichever page it was told."""
    told = Finding.objects.filter(note__board=board, note__finding_kind=TREND, note__state=STET).values_list("geometry", flat=True)
    figures = {figure for geometry in told for figure in geometry.get("figures", ())}
    return set(Figure.objects.filter(pk__in=figures).values_list("character", flat=True))


def _as_figure(place: FigurePlace, character: dict[str, Any]) -> dict[str, Any]:
    figure = place.figure
    return {"id": figure.pk, "panel": figure.panel_id, "character": character, "marks": place.marks, "pose": figure.pose,
            "view": figure.view or None, "ground_offset_m": figure.ground_offset_m, "doubts": place.doubts}


def eye_height_m(panel: Panel) -> float | None:
    """Over the floor: as somebody said, else as the exact camera of the panel's still has it."""
    said = (panel.figure_posts or {}).get("eye_height_m")
    return said or ((panel.still.camera or {}).get("eye_height_m") if panel.still else None)


def perspective_of(revision: Revision, shapes: Iterable[PanelShape]) -> list[dict[str, Any]]:
    """Each panel's eye level: set by hand, or as its lines show it; where they do not, as its still has it."""
    solved = {row["panel"]: row for row in perspective_rows(revision)}
    rows = []
    for shape in shapes:
        row = solved.get(shape.panel_id) or {}
        measured = {name: row.get(name) for name in SEEN} if row.get("eye_level") else None
        seen = measured or _by_hand(shape) or _of_still(revision, shape)
        if seen:
            rows.append({"panel": shape.panel_id, **seen})
    return rows


@read_once
def perspective_rows(revision: Revision) -> list[dict[str, Any]]:
    """What was measured of the panels whose lines tell something."""
    job = Job.objects.filter(revision=revision, check_id="perspective", state=DONE).first()
    return (job.numbers if job else {}).get("panels", [])


def _by_hand(shape: PanelShape) -> dict[str, Any] | None:
    """An eye level that somebody set is known, even where the panel has too few lines for anything else."""
    given = given_on(shape) if shape.panel.given_perspective else {}
    return {**dict.fromkeys(SEEN), "vanishing_points": [], "eye_level": given["eye_level"]} if "eye_level" in given else None


def _of_still(revision: Revision, shape: PanelShape) -> dict[str, Any] | None:
    """Where it was placed; else it is taken to fill the panel, so that what it shows is moved and scaled onto it."""
    if shape.panel.still_place:
        return placed_numbers(shape)
    still, page = shape.panel.still, revision.picture
    numbers = still.perspective_numbers() if still else {}
    if still is None or not numbers.get("eye_level") or not page.width_px or not page.height_px:
        return None
    left, top, right, bottom = bounds(shape.polygon)
    wide, high = right - left, bottom - top
    scale = wide * page.width_px / (still.picture.width_px or 1)
    if abs(high * page.height_px / (still.picture.height_px or 1) / scale - 1) > SAME_SHAPE:
        return None
    points = [{**one, "point": _moved(one["point"], left, top, wide, high)} for one in numbers.get("vanishing_points", [])]
    interval, focal = numbers.get("eye_level_interval_px"), numbers.get("focal_px")
    return {
        "eye_level": [[left + x * wide, top + y * high] for x, y in numbers["eye_level"]],
        "eye_level_interval_px": interval and interval * scale, "focal_px": focal and focal * scale,
        "pitch_deg": numbers.get("pitch_deg"), "vanishing_points": points,
    }


def _moved(point: list[float], left: float, top: float, wide: float, high: float) -> list[float]:
    """A homogeneous point of the panel's own frame, in the page's."""
    x, y, w = point
    return [x * wide + w * left, y * high + w * top, w]


def heads_by_page(board: Board, characters: Iterable[int], but: int | None = None) -> dict[int, list[HeadsOnPage]]:
    """Character id -> (page number, heads, 1 sigma) as the pages' current revisions were measured, page `but` left out.

    A page that is being measured again counts as it was: where a whole comic is, no trend is gone for a while.
    """
    wanted = set(characters)
    revisions = current_revisions(board.pages.in_comic()).values()
    rows = Job.objects.filter(revision__in=[one.pk for one in revisions], check_id="proportions", state__in=(DONE, *UNFINISHED))
    found: dict[int, list[HeadsOnPage]] = {}
    for number, numbers in rows.order_by("revision__page__number").values_list("revision__page__number", "numbers"):
        for one in numbers.get("figures", []) if number != but else []:
            if one["character"] in wanted and one["heads"]:
                found.setdefault(one["character"], []).append((number, *one["heads"]))
    return found
