"""Hand-in, sign-off and send-back, of a page or of one panel. Whether it may be done is decided by `board.stages.move_rules`."""

from django.db import transaction
from django.db.models import Q, QuerySet
from django.utils import timezone

from board.access import Seat
from board.actions.events import write_event
from board.actions.notes import pin_note
from board.actions.shown_shape import shape_shown
from board.actions.standing_panels import page_is_shown_anew
from board.actions.versions import lock_version, save_next_version
from board.errors import MoveRefused, NotAllowed
from board.models import Event, Job, Note, Page, Panel, Revision
from board.models.job import UNFINISHED
from board.models.note import OPEN
from board.models.revision import READY, RECEIVED, current_revision, ready_revision, shown_revisions
from board.stages.move_rules import MoveFacts, refusal_of, stage_that_moves
from board.stages.order import stage_after, stage_by_pictures, stage_on_its_own

# Refusals that no waiting mends: the move is not this person's to make.
ABOUT_ROLES = {"not-an-artist", "not-a-reviewer"}


def facts_of_page(seat: Seat, page: Page, to_stage: str | None = None, revision: int | None = None) -> MoveFacts:
    """`revision`: the id of the picture that whoever moves the page looked at."""
    drawn, current = _drawn(page), current_revision(page)
    moves = drawn.get(stage_by_pictures(page.stage, drawn))
    return MoveFacts(
        stage=page.stage,
        roles=seat.roles,
        draws_this_page=seat.draws(page),
        is_handed_in=page.handed_in_at is not None,
        is_finished=page.finished_at is not None,
        drawn_stages=frozenset(drawn),
        open_must_notes=_open_musts(page).count(),
        running_checks=_running(moves),
        panels_sent_back=page.panels.exclude(sent_back_to="").filter(is_gone=False).count(),
        to_stage=to_stage,
        is_laid_aside=page.laid_aside_at is not None,
        is_assigned=page.board.is_assigned,
        revision_number=current.number if current else None,
        is_of_another_picture=_is_another(current, revision),
        is_being_read=moves is not None and moves.state == RECEIVED,
    )


def facts_of_panel(seat: Seat, panel: Panel, to_stage: str | None = None, revision: int | None = None) -> MoveFacts:
    page, current = panel.page, current_revision(panel.page)
    return MoveFacts(
        stage=panel.sent_back_to or page.stage,
        roles=seat.roles,
        draws_this_page=seat.draws(page),
        is_handed_in=panel.handed_in_at is not None,
        drawn_since=frozenset(_drawn_since_sent_back(panel)),
        open_must_notes=_open_musts(page).filter(panel=panel).count(),
        running_checks=_running(current),
        is_panel=True,
        is_laid_aside=page.laid_aside_at is not None,
        panel_is_sent_back=bool(panel.sent_back_to),
        to_stage=to_stage,
        revision_number=current.number if current else None,
        is_of_another_picture=_is_another(current, revision),
    )


def _is_another(current: Revision | None, named: int | None) -> bool:
    return named is not None and (current is None or current.pk != named)


def _drawn(page: Page) -> dict[str, Revision]:
    """Stage -> the newest picture of the chosen alternate there."""
    newest_last = reversed(shown_revisions([page.pk]).filter(alternate=page.chosen_alternate))
    return {revision.stage: revision for revision in newest_last}


def _drawn_since_sent_back(panel: Panel) -> QuerySet[Revision, str]:
    """The stages of pictures that came since then, by the log, as clocks are set back: of the page, in its chosen alternate, and of
    tries at this panel."""
    page = panel.page
    of_it = Q(panel=panel) | Q(panel__isnull=True, alternate=page.chosen_alternate)
    drawn = Revision.objects.filter(of_it, page=page, state=READY, withdrawn_at__isnull=True)
    sent_back = Event.objects.filter(page=page, kind="panel-send-back", data__panel=panel.pk).order_by("-number").first()
    if sent_back:
        came = Event.objects.filter(page=page, kind="revision-received", number__gt=sent_back.number)
        drawn = drawn.filter(pk__in=list(came.values_list("data__revision", flat=True)))
    return drawn.values_list("stage", flat=True)


def _open_musts(page: Page) -> QuerySet[Note]:
    """A measured note never blocks by itself."""
    return Note.objects.filter(page=page, tone="must", state=OPEN, check_id="")


def _running(revision: Revision | None) -> int:
    if revision is None:
        return 0
    return Job.objects.filter(revision=revision, kind__in=("intake", "check"), state__in=UNFINISHED).count()


@transaction.atomic
def move_page(
    *, seat: Seat, page: Page, move: str, expected_version: int | None, to_stage: str | None = None, why: str = "",
    revision: int | None = None,
) -> Page:
    """`move`: hand-in, sign-off or send-back; `why` becomes a note on the page. Raises MoveRefused with the reason.

    `revision`: the id of the picture that it is about; where that is not the page's own any more, the page does not move.
    """
    page = lock_version(page, expected_version)
    facts = facts_of_page(seat, page, to_stage, revision)
    _refuse(move, facts)
    left, shown_before = page.stage, ready_revision(page)
    if move != "send-back":
        page.stage = stage_that_moves(facts)
    {"hand-in": _hand_in, "sign-off": _sign_off, "send-back": _send_back}[move](page, to_stage)
    save_next_version(page, "stage", "handed_in_at", "finished_at")
    write_event(board=seat.board, kind=f"page-{move}", actor=seat.user, page=page, left=left, stage=page.stage)
    if ready_revision(page) != shown_before:
        # A picture that had come ahead of its stage is now the page's: what was found on it counts from here on.
        page_is_shown_anew(page=page)
    if why.strip():
        pin_note(seat=seat, page=page, body=why.strip(), tone="must" if move == "send-back" else "keep")
    return page


def _hand_in(page: Page, to_stage: str | None) -> None:
    page.handed_in_at = timezone.now()


def _sign_off(page: Page, to_stage: str | None) -> None:
    page.handed_in_at = None
    following = stage_after(page.stage)
    if following is None:
        page.finished_at = timezone.now()
    else:
        page.stage = following


@transaction.atomic
def take_back_hand_in_of_nothing(*, page: Page) -> None:
    """Where nothing that can be opened is left of what was handed in, the artist has the page again."""
    page = Page.objects.select_for_update(no_key=True).get(pk=page.pk)
    if page.handed_in_at is None or page.finished_at or page.stage in _drawn(page):
        return
    page.handed_in_at = None
    save_next_version(page, "handed_in_at")
    write_event(board=page.board, kind="page-hand-in-taken-back", page=page)


def _send_back(page: Page, to_stage: str | None) -> None:
    page.handed_in_at = page.finished_at = None
    page.stage = to_stage or page.stage


@transaction.atomic
def move_panel(
    *, seat: Seat, panel: Panel, move: str, expected_version: int | None, to_stage: str | None = None, why: str = "",
    revision: int | None = None,
) -> Panel:
    """One panel sent back alone: the page stays where it is, and cannot be signed off until the panel is.

    Signed off below its page's stage, it goes on to the next one on its own, until it is where its page is.
    """
    panel = lock_version(panel, expected_version)
    facts = facts_of_panel(seat, panel, to_stage, revision)
    _refuse(move, facts)
    if move == "send-back":
        panel.sent_back_to, panel.handed_in_at = to_stage or panel.page.stage, None
    elif move == "hand-in":
        panel.handed_in_at = timezone.now()
    else:
        panel.sent_back_to, panel.handed_in_at = _stage_after_sign_off(facts, panel.page.stage), None
    save_next_version(panel, "sent_back_to", "handed_in_at")
    write_event(board=seat.board, kind=f"panel-{move}", actor=seat.user, page=panel.page, panel=panel.pk, stage=facts.stage)
    if why.strip():
        _pin_on_panel(seat, panel, why.strip(), "must" if move == "send-back" else "keep")
    return panel


def _stage_after_sign_off(facts: MoveFacts, page_stage: str) -> str:
    """With nothing drawn since it was sent back, that is taken back: the panel is with its page again."""
    return stage_on_its_own(stage_that_moves(facts), page_stage) if facts.drawn_since else ""


def _pin_on_panel(seat: Seat, panel: Panel, body: str, tone: str) -> None:
    shape = shape_shown(panel)
    region = {"polygon": shape.polygon} if shape else None
    note = pin_note(seat=seat, page=panel.page, body=body, tone=tone, region=region, revision=shape.revision if shape else None)
    Note.objects.filter(pk=note.pk).update(panel=panel)


def _refuse(move: str, facts: MoveFacts) -> None:
    if refusal := refusal_of(move, facts):
        error = NotAllowed if refusal.code in ABOUT_ROLES else MoveRefused
        raise error(refusal.reason, code=refusal.code)
