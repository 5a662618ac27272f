"""What a page shows beyond its own row, gathered for many pages at once: the number of queries does not grow with the pages."""

from collections.abc import Sequence

from django.db.models import Count, Q, QuerySet

from board.access import NEWS, Seat, news_of, visible_notes
from board.models import Note, Page, Panel, Revision
from board.models.note import ANSWERED, HELD, OPEN, TONES
from board.models.revision import REFUSED, current_revisions, refused_uploads
from board.stages.order import STAGES

COUNTED = (*TONES, "measured")


class PageFacts:
    def __init__(self, pages: Sequence[Page], seat: Seat) -> None:
        """`seat`: the reader's."""
        ids = [page.pk for page in pages]
        self.current = current_revisions(pages)
        self.refused = refused_uploads(page for page in pages if seat.draws(page))
        self.open, self.answered, self.held = _notes(ids, visible_notes(seat))
        self._sent_back = _panels_sent_back(ids)
        self._pictures = _pictures(ids)
        self._news = news_of(seat, ids)

    def open_notes_of(self, page: Page) -> dict[str, int]:
        return {name: self.open.get((page.pk, name), 0) for name in COUNTED}

    def new_of(self, page: Page) -> dict[str, int]:
        return {name: self._news.get((page.pk, name), 0) for name in NEWS}

    def panels_sent_back_of(self, page: Page) -> int:
        return self._sent_back.get(page.pk, (0, 0))[0]

    def panels_handed_in_of(self, page: Page) -> int:
        return self._sent_back.get(page.pk, (0, 0))[1]

    def alternates_of(self, page: Page) -> list[str]:
        return sorted({alternate for alternate, _, _ in self._pictures.get(page.pk, ())} or {page.chosen_alternate})

    def kept_ahead_of(self, page: Page) -> list[str]:
        current = self.current.get(page.pk)
        kept = {stage for alternate, stage, state in self._pictures.get(page.pk, ())
                if alternate == page.chosen_alternate and state != REFUSED}
        shown = {current.stage} if current else set()
        return [stage for stage in STAGES[STAGES.index(page.stage) + 1:] if stage in kept - shown]


def _notes(ids: list[int], notes: QuerySet[Note]) -> tuple[dict[tuple[int, str], int], dict[int, int], dict[int, int]]:
    """Open ones by page and tone (or "measured"), answered ones by page, and those that the reader holds by page."""
    opened: dict[tuple[int, str], int] = {}
    by_state: dict[str, dict[int, int]] = {ANSWERED: {}, HELD: {}}
    rows = notes.filter(page__in=ids, state__in=(OPEN, *by_state)).order_by().values("page", "state", "tone")
    for row in rows.annotate(by_people=Count("pk", filter=Q(check_id="")), measured=Count("pk", filter=~Q(check_id=""))):
        page = row["page"]
        if row["state"] in by_state:
            of_state = by_state[row["state"]]
            of_state[page] = of_state.get(page, 0) + row["by_people"] + row["measured"]
            continue
        opened[page, row["tone"]] = row["by_people"]
        opened[page, "measured"] = opened.get((page, "measured"), 0) + row["measured"]
    return opened, by_state[ANSWERED], by_state[HELD]


def _panels_sent_back(ids: list[int]) -> dict[int, tuple[int, int]]:
    """By page: all that are sent back, and how many of those are handed in."""
    panels = Panel.objects.filter(page__in=ids, is_gone=False).exclude(sent_back_to="").order_by()
    counted = panels.values("page").annotate(every=Count("pk"), handed_in=Count("handed_in_at"))
    return {row["page"]: (row["every"], row["handed_in"]) for row in counted}


def _pictures(ids: list[int]) -> dict[int, set[tuple[str, str, str]]]:
    """By page: alternate, stage and state of what is kept of it."""
    tries = Revision.objects.filter(page__in=ids, panel__isnull=True, withdrawn_at__isnull=True).order_by()
    pictures: dict[int, set[tuple[str, str, str]]] = {}
    for page, alternate, stage, state in tries.values_list("page", "alternate", "stage", "state").distinct():
        pictures.setdefault(page, set()).add((alternate, stage, state))
    return pictures
