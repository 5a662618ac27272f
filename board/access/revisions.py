from django.contrib.auth.models import AbstractBaseUser
from django.db.models import Q, QuerySet

from board.access.boards import access_by_board
from board.access.measured import numbers_are_shown
from board.access.pages import own_or_opened
from board.access.seats import Need, Seat, require, shown_or_missing
from board.errors import NotFound
from board.models import Job, Revision, Underlay


def visible_revisions(seat: Seat) -> QuerySet[Revision]:
    """A withdrawn revision is kept, and shown only to those who may bring it back."""
    revisions = Revision.objects.filter(page__board=seat.board)
    if seat.sees_only_own_pages:
        revisions = revisions.filter(own_or_opened(seat, "page__"))
    if not seat.may_run_board:
        revisions = revisions.filter(Q(withdrawn_at__isnull=True) | Q(page__drawn_by_id=seat.user.pk))
    return revisions


def access_revision(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Revision]:
    revision = Revision.objects.select_related("page__board").filter(pk=pk).first()
    seat = access_by_board(user, revision.page.board if revision else None)
    revision = shown_or_missing(visible_revisions(seat).select_related("page", "picture", "uploaded_by").filter(pk=pk).first())
    require(seat, need is None or need(seat))
    return seat, revision


def access_underlay(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Underlay]:
    """Who sees the revision sees what was made to draw on it; where it tells what was measured, only who is shown that."""
    underlay = Underlay.objects.select_related("requested_by").filter(pk=pk).first()
    seat, revision = access_revision(user, underlay.revision_id if underlay else 0, need)
    shown = shown_or_missing(underlay)
    if _tells_what_was_measured(shown) and not numbers_are_shown(seat, revision):
        raise NotFound
    return seat, shown


def _tells_what_was_measured(underlay: Underlay) -> bool:
    inputs = Job.objects.filter(underlay=underlay).values_list("inputs", flat=True).first() or {}
    is_noted = any(note["kind"] == "measured" for note in inputs.get("notes", ()))
    return is_noted or any(panel.get("is_from_check") for panel in inputs.get("panels", ()))
