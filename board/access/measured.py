"""When a student reads what was measured on their work: at once, after the hand-in, or never, as the assignment says."""

from django.db.models import Exists, OuterRef, Q

from board.access.seats import Seat
from board.models import HandIn, Revision
from board.models.assignment import AFTER_HAND_IN
from board.stages.order import STAGES


def measured_is_shown() -> Q:
    """On notes of a board that does not show them at once: people's, and those on a stage that was handed in since."""
    handed_in = HandIn.objects.filter(work__board=OuterRef("board"), stage=OuterRef("revision__stage"))
    return Q(check_id="") | Q(Exists(handed_in), board__measured_shown=AFTER_HAND_IN)


def numbers_are_shown(seat: Seat, revision: Revision) -> bool:
    """Whether this person reads what the checks measured on this picture."""
    return revision.stage in stages_with_numbers(seat)


def stages_with_numbers(seat: Seat) -> frozenset[str]:
    """The stages of whose pictures this person reads what the checks measured."""
    if not seat.measured_notes_wait:
        return frozenset(STAGES)
    if seat.board.measured_shown != AFTER_HAND_IN:
        return frozenset()
    return frozenset(HandIn.objects.filter(work__board=seat.board).values_list("stage", flat=True))
