"""Registers this revision on the one before: carries notes, figure marks and panels over, and says what changed in each panel."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache, partial

import numpy as np

from board.actions.carrying import tell_panels_compared
from board.actions.figure_places import CarriedMarks, record_figure_places
from board.actions.measuring import queue_ready_checks
from board.actions.note_places import CarriedNote, record_note_places
from board.actions.panels import record_carried_panels, record_shown_panels
from board.drawn_lines import Lines, moved_lines
from board.models import Job, Note, PanelShape, Revision
from board.models.comparison import REDRAWN
from board.page_space import PictureFrame, bounds, contains, middle_of
from board.vision.page_registration import PageRegistration, register_pages
from board.vision.panel_map import PanelMap
from board.worker.carry_figures import Frames, Maps, carry_figures
from board.worker.carry_panels import carry_panels
from board.worker.decoding import decoded, decoded_apart
from board.worker.outcome import Outcome
from board.worker.panel_changes import Pictures, maps_of_panels, panel_changes, shown_panels
from board.worker.panels_back import panels_back
from board.worker.subjects import revision_of

# Below this the two pictures have too little in common to carry a point; the note then keeps its place in its panel.
GOOD_ENOUGH = 0.35


def handle(job: Job) -> Outcome:
    after = revision_of(job)
    before = Revision.objects.select_related("picture").get(pk=job.inputs["before"])
    pictures = cache(lambda: (decoded_apart(before.picture).gray, decoded(after.picture).gray))
    registration = kept_map(job, before, after) or found_map(pictures)
    frames = PictureFrame(*_size(before)), PictureFrame(*_size(after))
    standing = {int(note): region for note, region in job.inputs["notes"].items()}
    notes = Note.objects.filter(pk__in=standing).select_related("panel")
    lines = job.inputs.get("lines", {})
    changes = panel_changes(job, before, after, registration, pictures)
    maps = Maps(registration, maps_of_panels(job, changes))
    redrawn = {row["panel"] for row in changes["panels"] if row["word"] == REDRAWN}
    guessed = {*job.inputs.get("guessed", []), *(note.pk for note in notes if note.panel_id in redrawn)}
    places = [place(note, standing[note.pk], lines.get(str(note.pk), []), before, after, maps, frames) for note in notes]
    # The drawing of a panel that was redrawn is not there any more: its frame alone says where a note lies.
    places = [replace(one, placed_by="panel") if one.note.pk in guessed else one for one in places]
    doubts = job.inputs.get("doubts", {})
    figures = carry_figures(job.inputs.get("figures", {}), doubts, before, after, maps, frames, pictures, redrawn)
    figures += [CarriedMarks(int(figure), reason=reason) for figure, reason in job.inputs.get("lost", {}).items()]
    panels = carry_panels(job.inputs.get("missed", []), before, registration, frames, pictures)
    shows = panels_back(job, before, after, registration, frames, changes) | shown_panels(job, changes)
    is_news = any(changes[name] != job.numbers.get(name) for name in ("compared", "panels"))
    answer = {"before": before.pk, "pictures": _pictures(before, after), "map": registration.to_numbers(), "notes": len(places)}

    def record() -> None:
        record_note_places(revision=after, places=places)
        record_figure_places(revision=after, carried=figures)
        record_carried_panels(revision=after, before=before, carried=panels)
        record_shown_panels(revision=after, shows=shows)
        queue_ready_checks(revision=after)
        if is_news:
            tell_panels_compared(revision=after)

    return Outcome(answer | changes, record)


def _pictures(before: Revision, after: Revision) -> list[str]:
    return [before.picture.sha256, after.picture.sha256]


def kept_map(job: Job, before: Revision, after: Revision) -> PageRegistration | None:
    """The map of an earlier run, when it was made from the same two pictures."""
    if job.numbers.get("pictures") != _pictures(before, after):
        return None
    return PageRegistration.from_numbers(job.numbers["map"])


def found_map(pictures: Pictures) -> PageRegistration:
    return register_pages(*pictures())


def _size(revision: Revision) -> tuple[int, int]:
    return revision.picture.width_px or 1, revision.picture.height_px or 1


Points = Sequence[Sequence[float]]


def place(
    note: Note, region: dict, lines: Lines, before: Revision, after: Revision, maps: Maps, frames: Frames
) -> CarriedNote:
    registration = maps.of(note.panel_id)
    quality = float(registration.quality)
    was, now = (PanelShape.objects.filter(panel_id=note.panel_id or 0, revision=revision).first() for revision in (before, after))
    shapes = (was, now) if was is not None and now is not None else None
    if quality >= GOOD_ENOUGH:
        by_map = partial(map_points, registration=registration, frames=frames)
        mapped = moved_region(region, by_map)
        if shapes is None or stays_inside(region, shapes[0], mapped, shapes[1]):
            return CarriedNote(note, mapped, moved_lines(lines, by_map), "registered", quality)
    if shapes is not None:
        with_panel = partial(move_with_panel, before=shapes[0].polygon, after=shapes[1].polygon)
        return CarriedNote(note, moved_region(region, with_panel), moved_lines(lines, with_panel), "panel", quality)
    return CarriedNote(note, region, lines, "panel", quality)


def stays_inside(region: dict, was: PanelShape, mapped: dict, now: PanelShape) -> bool:
    """A map that takes a note out of the panel that it lay in was made from other drawings: scribbles can fit by chance."""
    return not contains(was.polygon, middle_of(region)) or contains(now.polygon, middle_of(mapped))


def moved_region(region: dict, move: Callable[[Points], list[list[float]]]) -> dict:
    return {"point": move([region["point"]])[0]} if "point" in region else {"polygon": move(region["polygon"])}


def map_points(points: Points, registration: PageRegistration | PanelMap, frames: Frames) -> list[list[float]]:
    pixels = np.array([frames[0].to_pixels(point) for point in points])
    return [_clamp(frames[1].to_page(point)) for point in registration.map_points(pixels).tolist()]


def move_with_panel(points: Points, before: list, after: list) -> list[list[float]]:
    """The same place in the panel: the box of the panel before, laid onto the box of the panel after."""
    left, top, right, bottom = bounds(before)
    new_left, new_top, new_right, new_bottom = bounds(after)
    return [
        _clamp((
            new_left + (x - left) / max(1e-9, right - left) * (new_right - new_left),
            new_top + (y - top) / max(1e-9, bottom - top) * (new_bottom - new_top),
        ))
        for x, y in points
    ]


def _clamp(point: Sequence[float]) -> list[float]:
    return [min(1.0, max(0.0, float(value))) for value in point]
