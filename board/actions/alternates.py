from django.db import transaction

from board.access import Seat
from board.actions.events import write_event
from board.actions.standing_panels import page_is_shown_anew
from board.actions.versions import lock_version, save_next_version
from board.errors import NotValid
from board.models import Page, Panel, Revision
from board.models.panel import OWN_DRAWING


@transaction.atomic
def choose_alternate(*, seat: Seat, subject: Page | Panel, alternate: str, expected_version: int | None) -> Page | Panel:
    """One of several tries becomes the page's (or the panel's); the others are kept."""
    tries = Revision.objects.filter(page=subject, panel__isnull=True) if isinstance(subject, Page) else subject.tries.all()
    goes_back = isinstance(subject, Panel) and alternate == OWN_DRAWING
    if not goes_back and not tries.filter(alternate=alternate).exists():
        raise NotValid(f"There is no alternate {alternate} to choose.")
    subject = lock_version(subject, expected_version)
    subject.chosen_alternate = alternate
    save_next_version(subject, "chosen_alternate")
    page = subject if isinstance(subject, Page) else subject.page
    panel_id = None if isinstance(subject, Page) else subject.pk
    write_event(board=seat.board, kind="alternate-chosen", actor=seat.user, page=page, panel=panel_id, alternate=alternate)
    page_is_shown_anew(page=page)
    return subject
