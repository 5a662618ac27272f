"""When a student reads what was measured on their work: at once, after the hand-in, or never, as the assignment says."""

from django.db.models import Exists, OuterRef, Q

from board.access.seats import Seat
from board.models import HandIn, Revision
from board.models.assignment import AFTER_HAND_IN


def measured_is_shown() -> Q:
    """On notes of a board that does not show them at once: people's, and those on a stage that was handed in since."""
    handed_in = HandIn.objects.filter(work__board=OuterRef("board"), stage=OuterRef("revision__stage"))
    return Q(check_id="") | Q(Exists(handed_in), board__measured_shown=AFTER_HAND_IN)


def numbers_are_shown(seat: Seat, revision: Revision) -> bool:
    """Whether this person reads what the checks measured on this picture."""
    if not seat.measured_notes_wait:
        return True
    handed_in = HandIn.objects.filter(work__board=seat.board, stage=revision.stage)
    return seat.board.measured_shown == AFTER_HAND_IN and handed_in.exists()
