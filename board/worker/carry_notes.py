"""Registers this revision on the one before: carries people's notes and figure marks over, and says what changed in each panel."""

from functools import cache

import numpy as np

from board.actions.carrying import tell_panels_compared
from board.actions.figure_places import record_figure_places
from board.actions.note_places import record_note_places
from board.models import Job, Note, PanelShape, Revision
from board.page_space import PictureFrame, bounds, contains, middle_of
from board.vision.page_registration import PageRegistration, register_pages
from board.worker.carry_figures import carry_figures
from board.worker.decoding import decoded, decoded_apart
from board.worker.outcome import Outcome
from board.worker.panel_changes import Pictures, panel_changes
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
    places = [(note, *place(note, standing[note.pk], before, after, registration, frames)) for note in notes]
    figures = carry_figures(job.inputs.get("figures", {}), before, after, registration, frames)
    changes = panel_changes(job, before, after, registration, pictures)
    is_news = changes["compared"] != job.numbers.get("compared")
    answer = {"before": before.pk, "pictures": _pictures(before, after), "map": registration.to_numbers(), "notes": len(places)}

    def record() -> None:
        record_note_places(revision=after, places=places)
        record_figure_places(revision=after, carried=figures)
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


Frames = tuple[PictureFrame, PictureFrame]


def place(
    note: Note, region: dict, before: Revision, after: Revision, registration: PageRegistration, frames: Frames
) -> tuple[dict, str, float]:
    """(region on the newer picture, "registered" or "panel", quality)."""
    quality = float(registration.quality)
    was, now = (PanelShape.objects.filter(panel_id=note.panel_id or 0, revision=revision).first() for revision in (before, after))
    shapes = (was, now) if was is not None and now is not None else None
    if quality >= GOOD_ENOUGH:
        mapped = map_region(region, registration, frames)
        if shapes is None or stays_inside(region, shapes[0], mapped, shapes[1]):
            return mapped, "registered", quality
    if shapes is not None:
        return move_with_panel(region, shapes[0].polygon, shapes[1].polygon), "panel", quality
    return region, "panel", quality


def stays_inside(region: dict, was: PanelShape, mapped: dict, now: PanelShape) -> bool:
    """A map that takes a note out of the panel that it lay in was made from other drawings: scribbles can fit by chance."""
    return not contains(was.polygon, middle_of(region)) or contains(now.polygon, middle_of(mapped))


def map_region(region: dict, registration: PageRegistration, frames: Frames) -> dict:
    kind, points = _points(region)
    pixels = np.array([frames[0].to_pixels(point) for point in points])
    mapped = [_clamp(frames[1].to_page(point)) for point in registration.map_points(pixels).tolist()]
    return {kind: mapped[0] if kind == "point" else mapped}


def move_with_panel(region: dict, before: list, after: list) -> dict:
    """The same place in the panel: the box of the panel before, laid onto the box of the panel after."""
    left, top, right, bottom = bounds(before)
    new_left, new_top, new_right, new_bottom = bounds(after)
    kind, points = _points(region)
    moved = [
        _clamp((
            new_left + (x - left) / max(1e-9, right - left) * (new_right - new_left),
            new_top + (y - top) / max(1e-9, bottom - top) * (new_bottom - new_top),
        ))
        for x, y in points
    ]
    return {kind: moved[0] if kind == "point" else moved}


def _points(region: dict) -> tuple[str, list]:
    kind = "point" if "point" in region else "polygon"
    return kind, [region["point"]] if kind == "point" else region["polygon"]


def _clamp(point: tuple[float, float]) -> list[float]:
    return [min(1.0, max(0.0, float(value))) for value in point]
