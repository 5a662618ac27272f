"""One page on the table, its first picture already on its way while the script loads."""

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest
from django.http.response import HttpResponseBase
from django.shortcuts import render

from board.access import Seat, access_page, signed_in, visible_pages
from board.errors import BoardError
from board.models import Criterion, Page, Revision, Work
from board.models.assignment import AFTER_HAND_IN, TO_INSTRUCTOR
from board.models.revision import READY, current_revision
from board.screens.first_answers import with_first_answers
from board.screens.next_deadline import next_deadlines, next_stage
from board.screens.shell import name_of, shell_of

FIRST_LOOK_PX = 1200
WAITS = {
    AFTER_HAND_IN: " What was measured is shown after your hand-in.",
    TO_INSTRUCTOR: " What was measured is shown to your instructor.",
}


@login_required
def desk(request: HttpRequest, page_id: int) -> HttpResponseBase:
    try:
        seat, page = access_page(signed_in(request), page_id)
    except BoardError as error:
        raise Http404(error.message) from error
    before, after = neighbours(seat, page)
    shell = shell_of(seat) | {"page": page.pk, "draws": seat.draws(page), **of_assignment(seat)}
    current = current_revision(page)
    picture = first_picture(current)
    screen = render(
        request, "board/desk.html",
        {
            "board": seat.board, "page": page, "before": before, "after": after, "shell": shell, "may": shell["may"],
            "picture": picture, "current": current, "name": name_of(signed_in(request)),
        },
    )
    return with_first_answers(request, screen, first_asked(page, picture))


def of_assignment(seat: Seat) -> dict:
    """On a student's board for an assignment: which, and what stage is handed in next; the rubric that notes may name, and whether
    what is measured waits."""
    if not seat.board.is_assigned:
        return {}
    rubric = Criterion.objects.filter(assignment__works__board=seat.board)
    assignment = Work.objects.values_list("assignment", flat=True).filter(board=seat.board).first()
    waits = WAITS.get(seat.board.measured_shown, "") if seat.measured_notes_wait else ""
    return {"assignment": assignment, "next_stage": next_stage(next_deadlines([seat.board.pk]).get(seat.board.pk)),
            "rubric": list(rubric.values("id", "title")), "measured_waits": waits}


def neighbours(seat: Seat, page: Page) -> tuple[Page | None, Page | None]:
    pages = visible_pages(seat)
    return pages.filter(number__lt=page.number).order_by("-number").first(), pages.filter(number__gt=page.number).first()


def first_asked(page: Page, picture: dict | None) -> list[str]:
    """What the script asks first, in the very words of `static/js/screens/desk_load.js`."""
    of_page = f"/api/v1/pages/{page.pk}"
    lists = [f"{of_page}/{name}?limit=500" for name in ("panels", "revisions-in-brief", "notes")]
    return [of_page, *lists, *([f"/api/v1/revisions/{picture['revision'].pk}"] if picture else [])]


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
