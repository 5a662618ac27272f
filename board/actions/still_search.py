"""Looking for where a panel's still lies under its drawing: asked for by a person, done by a worker, confirmed by a person."""

from typing import Any

from django.db import transaction

from board.access import Seat
from board.actions.jobs import digest_of, queue_job
from board.actions.shown_shape import shape_shown
from board.errors import NotPossibleNow
from board.models import Job, Panel, PanelShape, Revision
from board.models.job import FAILED

VERSION = 1  # raise it when the answers change: it is then looked for again


@transaction.atomic
def search_still(*, seat: Seat, panel: Panel, revision: Revision | None = None) -> Job:
    """On the picture named, else on the page as it stands. Asked for again with nothing changed meanwhile, it is the answer that is
    there."""
    shape = shape_shown(panel, revision)
    if panel.still is None or shape is None or not shape.revision.picture.width_px or not panel.still.picture.width_px:
        raise NotPossibleNow("A still is looked for in a panel that is drawn and has one, once both pictures are read.")
    inputs = _inputs(shape)
    gave_up = Job.objects.filter(key=_key(shape), digest=digest_of(inputs), state=FAILED).exists()
    return queue_job(board=seat.board, kind="still-search", key=_key(shape), revision=shape.revision, inputs=inputs, force=gave_up)


def still_search_of(panel: Panel, revision: Revision | None = None) -> Job | None:
    """The answer for the pictures as they are now; None where nobody asked."""
    shape = shape_shown(panel, revision)
    if panel.still is None or shape is None:
        return None
    return Job.objects.filter(key=_key(shape), digest=digest_of(_inputs(shape))).first()


def was_found(shape: PanelShape, points: dict[str, Any]) -> bool:
    job = still_search_of(shape.panel, shape.revision)
    return bool(job and job.numbers and all(job.numbers.get(name) == points[name] for name in ("in_still", "on_page")))


def _key(shape: PanelShape) -> str:
    return f"still-search/panel/{shape.panel_id}/revision/{shape.revision_id}"


def _inputs(shape: PanelShape) -> dict[str, Any]:
    still = shape.panel.still
    assert still is not None
    return {"version": VERSION, "sha256": shape.revision.picture.sha256, "polygon": shape.polygon, "still": still.pk,
            "still_sha256": still.picture.sha256}
