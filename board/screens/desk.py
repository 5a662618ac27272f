"""One page on the table, its first picture already on its way while the script loads."""

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from board.access import Seat, access_page, signed_in, visible_pages
from board.errors import BoardError
from board.models import Page, Revision
from board.models.revision import READY, current_revision
from board.screens.shell import name_of, shell_of

FIRST_LOOK_PX = 1200


@login_required
def desk(request: HttpRequest, page_id: int) -> HttpResponse:
    try:
        seat, page = access_page(signed_in(request), page_id)
    except BoardError as error:
        raise Http404(error.message) from error
    before, after = neighbours(seat, page)
    shell = shell_of(seat) | {"page": page.pk, "draws": seat.draws(page)}
    return render(
        request, "board/desk.html",
        {
            "board": seat.board, "page": page, "before": before, "after": after, "shell": shell, "may": shell["may"],
            "picture": first_picture(current_revision(page)), "name": name_of(signed_in(request)),
        },
    )


def neighbours(seat: Seat, page: Page) -> tuple[Page | None, Page | None]:
    pages = visible_pages(seat)
    return pages.filter(number__lt=page.number).order_by("-number").first(), pages.filter(number__gt=page.number).first()


def first_picture(revision: Revision | None) -> dict | None:
    """The middle rendition, or the nearest there is; None until one was made."""
    if revision is None or revision.state != READY:
        return None
    renditions = list(revision.picture.renditions.all())
    if not renditions:
        return None
    chosen = min(renditions, key=lambda one: abs(one.nominal_px - FIRST_LOOK_PX))
    return {
        "src": f"/api/v1/revisions/{revision.pk}/renditions/{chosen.nominal_px}",
        "width_px": chosen.width_px, "height_px": chosen.height_px, "revision": revision,
    }
