"""What the check of panels against their stills works from: where each still lies, what its camera shows, what the lines show."""

from typing import Any

from board.actions.figure_inputs import perspective_rows
from board.actions.given_places import moved_onto
from board.actions.placed_still import placed_numbers
from board.models import PanelShape, Revision


def has_placed_still(revision: Revision) -> bool:
    return _placed_on(revision).exists()


def still_inputs(revision: Revision) -> dict[str, Any]:
    """"stills": panel id -> its still; "perspective": what was measured of these panels alone."""
    stills = {str(shape.panel_id): _still(shape) for shape in _placed_on(revision)}
    rows = [row for row in perspective_rows(revision) if str(row["panel"]) in stills]
    return {"stills": stills, "perspective": {"panels": rows}}


def _placed_on(revision: Revision) -> Any:
    shapes = PanelShape.objects.filter(revision=revision, panel__still__isnull=False, panel__still_place__isnull=False)
    return shapes.select_related("panel__still__picture", "revision__picture")


def _still(shape: PanelShape) -> dict[str, Any]:
    still, place = shape.panel.still, shape.panel.still_place
    assert still is not None and place is not None
    return {
        "reference": still.pk, "sha256": still.picture.sha256, "title": still.title, "in_still": place["in_still"],
        "on_page": moved_onto(shape, place["bounds"], place["on_page"]), "numbers": placed_numbers(shape) or {},
    }
