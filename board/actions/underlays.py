"""Underlays: asked for, gathered from what is measured, and made by a worker."""

from typing import Any

from django.db import transaction

from board.access import Seat, numbers_are_shown, visible_notes
from board.actions.events import write_event
from board.actions.figure_posts import eye_height_on, posts_on
from board.actions.given_places import given_on
from board.actions.jobs import digest_of, queue_job
from board.actions.placed_still import placed_numbers
from board.errors import NotPossibleNow, NotValid
from board.models import Job, NotePlace, Panel, PanelShape, Revision, Underlay
from board.models.note import ANSWERED, OPEN
from board.models.revision import READY as REVISION_READY
from board.models.underlay import FAILED, QUEUED, READY

VERSION = 4  # raise it when the files come out otherwise: they are then made again
INCLUDES = ("grid", "walls", "eye-level", "guides", "notes")
WAITING = "The perspective of this panel is not measured yet."
NOT_SHOWN_YET = "What was measured is not shown to you yet. An eye level set by hand, or a placed still, gives a grid."


@transaction.atomic
def request_underlay(*, seat: Seat, revision: Revision, panel: Panel | None = None, options: dict | None = None) -> Underlay:
    """Of one panel, or of all. Asked for again with nothing changed meanwhile, it is the one that is there.

    `options`: "includes" (of INCLUDES; by default all), "step", "eye_height_m", "known_height" {"foot", "top", "height_m"}, "posts"
    [{"foot", "height_m", "heads", "name"}], "boxes" [{"foot", "width_m", "height_m", "depth_m", "turn_deg"}]; in page coordinates.
    """
    if revision.state != REVISION_READY or revision.picture.width_px is None:
        raise NotPossibleNow("This picture is not read yet.")
    named = {"panel": panel.pk} if panel else {}
    inputs = _gather(seat, revision, panel, {"includes": list(INCLUDES), **(options or {}), **named})
    underlay, is_new = Underlay.objects.get_or_create(
        revision=revision, digest=digest_of(inputs),
        defaults={"board": seat.board, "panel": panel, "options": inputs["options"], "requested_by_id": seat.user.pk},
    )
    if is_new or underlay.state == FAILED:
        _queue(underlay, inputs, is_again=not is_new)
    return underlay


def _queue(underlay: Underlay, inputs: dict[str, Any], is_again: bool) -> None:
    if is_again:
        underlay.state, underlay.reason = QUEUED, ""
        underlay.save(update_fields=["state", "reason"])
    queue_job(
        board=underlay.board, kind="underlay", key=f"underlay/{underlay.pk}", revision=underlay.revision, underlay=underlay,
        inputs=inputs, force=is_again,
    )


def _gather(seat: Seat, revision: Revision, panel: Panel | None, options: dict[str, Any]) -> dict[str, Any]:
    shapes = PanelShape.objects.filter(revision=revision).select_related("panel__still__picture", "revision__picture")
    shown = list(shapes.filter(panel=panel) if panel else shapes)
    if panel and not shown:
        raise NotValid("This panel is not on this revision.")
    is_shown = numbers_are_shown(seat, revision)
    job = Job.objects.filter(revision=revision, kind="check", check_id="perspective").first() if is_shown else None
    waiting = WAITING if is_shown else NOT_SHOWN_YET
    picture = revision.picture
    return {
        "version": VERSION, "sha256": picture.sha256, "size_px": [picture.width_px, picture.height_px], "options": options,
        "panels": [_panel_as_input(shape, job, waiting) for shape in shown],
        "notes": _notes_as_input(seat, revision, panel) if "notes" in options["includes"] else [],
    }


def _panel_as_input(shape: PanelShape, job: Job | None, waiting: str = WAITING) -> dict[str, Any]:
    measured = job.numbers if job else {}
    found = next((one for one in measured.get("panels", ()) if one["panel"] == shape.panel_id and one["eye_level"]), None)
    numbers = found or _numbers_by_hand(shape) or _numbers_of_still(shape)
    why_not = "" if numbers else measured.get("not_measured", {}).get(str(shape.panel_id)) or (job.reason if job else "")
    return {"id": shape.panel_id, "polygon": shape.polygon, "numbers": numbers, "reason": "" if numbers else why_not or waiting,
            "eye_height_m": eye_height_on(shape), "posts": posts_on(shape), **({"is_from_check": True} if found or why_not else {})}


def _numbers_by_hand(shape: PanelShape) -> dict[str, Any] | None:
    """Where the lines show too little, an eye level set by hand is enough for a grid."""
    given = given_on(shape) if shape.panel.given_perspective else {}
    if "eye_level" not in given:
        return None
    points = [{"point": [x, y, 1.0], "role": "level", "confidence": 1.0} for x, y in given.get("points", ())]
    return {"panel": shape.panel_id, "eye_level": given["eye_level"], "vanishing_points": points, "focal_px": None}


def _numbers_of_still(shape: PanelShape) -> dict[str, Any] | None:
    placed = placed_numbers(shape)
    return {"panel": shape.panel_id, **placed} if placed else None


def _notes_as_input(seat: Seat, revision: Revision, panel: Panel | None) -> list[dict[str, Any]]:
    """Those that wait for somebody and stand on this picture. A held note is its writer's alone, and is on no file."""
    notes = visible_notes(seat).filter(page=revision.page, state__in=(OPEN, ANSWERED))
    places = {place.note_id: place for place in NotePlace.objects.filter(revision=revision, note__in=notes)}
    rows = []
    for note in notes.filter(panel=panel) if panel else notes:
        stands = note if note.revision_id == revision.pk else places.get(note.pk)
        if stands and stands.region:
            kind = "measured" if note.is_measured else "person"
            rows.append({"region": stands.region, "lines": stands.lines, "body": note.body, "kind": kind})
    return rows


@transaction.atomic
def record_underlay(*, underlay: Underlay, files: dict[str, str], not_drawn: dict[str, str]) -> None:
    underlay.state, underlay.reason, underlay.files, underlay.not_drawn = READY, "", files, not_drawn
    underlay.save(update_fields=["state", "reason", "files", "not_drawn"])
    _tell(underlay, "underlay-ready")


@transaction.atomic
def fail_underlay(*, underlay: Underlay, reason: str) -> None:
    underlay.state, underlay.reason = FAILED, reason[:500]
    underlay.save(update_fields=["state", "reason"])
    _tell(underlay, "underlay-failed")


def _tell(underlay: Underlay, kind: str) -> None:
    write_event(board=underlay.board, kind=kind, page=underlay.revision.page, underlay=underlay.pk)
