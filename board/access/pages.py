"""A page, its panels and its figures."""

from django.contrib.auth.models import AbstractBaseUser
from django.db.models import Q

from board.access.boards import access_by_board
from board.access.measured import numbers_are_shown
from board.access.seats import Need, Seat, require, shown_or_missing
from board.models import Figure, FigureProposal, Page, Panel, Revision
from board.models.page import PageQuerySet
from board.models.revision import ready_revision
from board.read_once import read_once


def own_or_opened(seat: Seat, prefix: str = "") -> Q:
    return Q(**{f"{prefix}drawn_by_id": seat.user.pk}) | Q(**{f"{prefix}is_open_to_students": True})


def visible_pages(seat: Seat) -> PageQuerySet:
    """Those in the comic."""
    return _kept_pages(seat).in_comic()


def laid_aside_pages(seat: Seat) -> PageQuerySet:
    return _kept_pages(seat).filter(laid_aside_at__isnull=False)


def _kept_pages(seat: Seat) -> PageQuerySet:
    pages = Page.objects.filter(board=seat.board)
    return pages.filter(own_or_opened(seat)) if seat.sees_only_own_pages else pages


@read_once
def _page(pk: int) -> Page | None:
    return Page.objects.select_related("board").filter(pk=pk).first()


def access_page(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Page]:
    page = _page(pk)
    seat = access_by_board(user, page.board if page else None)
    page = shown_or_missing(_kept_pages(seat).filter(pk=pk).first() if seat.sees_only_own_pages else page)
    require(seat, need is None or need(seat))
    return seat, page


def access_page_to_draw(user: AbstractBaseUser, pk: int) -> tuple[Seat, Page]:
    seat, page = access_page(user, pk)
    require(seat, seat.draws(page))
    return seat, page


def access_panel(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Panel]:
    panel = Panel.objects.select_related("page").filter(pk=pk).first()
    seat, page = access_page(user, panel.page_id if panel else 0, need)
    shown = shown_or_missing(panel)
    shown.page = page
    return seat, shown


def access_figure(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Figure]:
    """Who sees the page sees the figures that were marked on it."""
    figure = Figure.objects.select_related("character").filter(pk=pk).first()
    seat, page = access_page(user, figure.page_id if figure else 0, need)
    shown = shown_or_missing(figure)
    shown.page = page
    return seat, shown


def access_figure_proposal(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, FigureProposal]:
    """For who sees both pages: the one it stands on, and the one it was marked on."""
    rows = FigureProposal.objects.select_related("panel", "source__page", "source__panel", "source__character")
    proposal = rows.select_related("revision__picture").filter(pk=pk).first()
    seat, page = access_page(user, proposal.revision.page_id if proposal else 0, need)
    shown = shown_or_missing(proposal)
    shown_or_missing(_kept_pages(seat).filter(pk=shown.source.page_id).first())
    shown.revision.page = page
    return seat, shown


def may_draw_on(seat: Seat, page: Page) -> bool:
    return seat.draws(page)


def may_work_on(seat: Seat, row: Page | Panel | Revision | Figure | FigureProposal) -> bool:
    """Its words, panels, stills, alternates and revisions: those who answer for the comic, and a student on their own page."""
    about = row.revision if isinstance(row, FigureProposal) else row
    return seat.may_run_board or seat.draws(about if isinstance(about, Page) else about.page)


def may_leave_alone(seat: Seat, panel: Panel) -> bool:
    """That a distortion is meant is said of what one reads: not by a student whom an assignment does not show what was measured."""
    shown = ready_revision(panel.page)
    return may_work_on(seat, panel) and (not seat.measured_notes_wait or (shown is not None and numbers_are_shown(seat, shown)))
