"""Measured notes that name another panel: called by the number that its page has now, since pages are moved and put in between."""

from django.db import transaction

from board.models import Board, Finding, Page, Panel
from board.slip_words import called_anew, panel_called


@transaction.atomic
def name_panels_anew(*, board: Board, page: Page | None = None) -> None:
    """In all measured words of a board, or of a page."""
    there = Finding.objects.filter(note__board=board, geometry__has_key="other").select_related("note__page")
    findings = list(there.filter(note__page=page) if page else there)
    panels = Panel.objects.select_related("page").in_bulk({finding.geometry["other"]["panel"] for finding in findings})
    for finding in findings:
        if panel := panels.get(finding.geometry["other"]["panel"]):
            _name_anew(finding, panel)


def _name_anew(finding: Finding, panel: Panel) -> None:
    before, note = finding.geometry["other"], finding.note
    page = panel.page
    called = panel_called(panel.order, None if page.pk == note.page_id else page.number, page.is_spread)
    now = {"panel": panel.pk, "page": page.pk, "called": called}
    is_later = note.page is not None and page.number > note.page.number
    told = called_anew(finding.text, before["called"], called, is_later)
    if now == before and told == finding.text:
        return
    if note.body == finding.text != told:
        note.body, note.version = told, note.version + 1
        note.save(update_fields=["body", "version"])
    marks = [{**one, "label": called} if one.get("label") == before["called"] else one for one in finding.geometry["marks"]]
    finding.text, finding.geometry = told, {**finding.geometry, "marks": marks, "other": now}
    finding.save(update_fields=["text", "geometry"])
