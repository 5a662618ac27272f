"""A photographed page: the photograph is kept, and the page laid flat by a worker becomes the revision's picture."""

from typing import BinaryIO

from board.actions.jobs import queue_job
from board.actions.measuring import queue_intake
from board.actions.pictures import kept_picture
from board.errors import NotValid
from board.models import Job, Revision
from board.page_space import is_convex_clockwise


def check_corners(corners: list) -> None:
    if len(corners) != 4 or not is_convex_clockwise(corners):
        raise NotValid("The four corners go round the page once: upper left, upper right, lower right, lower left.")


def queue_straightening(*, revision: Revision) -> Job:
    inputs = {"sha256": revision.picture.sha256, "corners": revision.photo_corners}
    return queue_job(
        board=revision.page.board, kind="straighten", key=f"straighten/revision/{revision.pk}", revision=revision, inputs=inputs
    )


def record_straightened(*, revision: Revision, file: BinaryIO) -> None:
    """From here on it goes the way of every upload."""
    with kept_picture(file=file) as picture:
        revision.picture = picture
        revision.save(update_fields=["picture"])
        queue_intake(revision=revision)
