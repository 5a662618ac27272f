"""Which checks run on a board."""

from collections.abc import Iterable, Sequence

from django.db.models import F
from django.utils import timezone

from board.actions.measuring import measure_board_again
from board.check_registry import CHECKS, with_what_they_build_on
from board.models import Board, Note
from board.models.note import ANSWERED, GONE, OPEN


def checks_off(checks: Iterable[str] | None) -> list[str]:
    """The ids of those that do not run where these do, with all that they build on; None: all run."""
    return [] if checks is None else sorted(set(CHECKS) - with_what_they_build_on(checks))


def follow_checks(*, board: Board, off_before: Sequence[str]) -> None:
    """What a check said that does not run any more is gone; what runs again is measured anew, whether it was once or not."""
    silenced = set(board.checks_off) - set(off_before)
    said = Note.objects.filter(board=board, check_id__in=silenced, state__in=(OPEN, ANSWERED))
    said.update(state_before_left_alone=F("state"), state=GONE, closed_at=timezone.now(), not_measured="", version=F("version") + 1)
    measure_board_again(board=board, afresh=bool(set(off_before) - set(board.checks_off)))
