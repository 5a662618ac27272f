"""A comic to be taken along: each page's own picture as it was uploaded, in order, its script, and what the pages are."""

import json
from typing import Any

from board.access import Seat, visible_pages
from board.actions.scripts import script_text
from board.models import Page, Revision
from board.models.revision import current_revisions
from board.picture_files import ENDINGS
from board.zipped_files import ZipEntry


def comic_files(seat: Seat) -> list[ZipEntry]:
    """What this person sees of it."""
    pages = list(visible_pages(seat).order_by("number").prefetch_related("panels"))
    current = current_revisions(pages)
    facts = {
        "title": seat.board.title, "reading": seat.board.reading, "trim_mm": [seat.board.trim_width_mm, seat.board.trim_height_mm],
        "bleed_mm": seat.board.bleed_mm, "pages": [_facts_of(page, current.get(page.pk)) for page in pages],
    }
    drawn = [(page, current[page.pk]) for page in pages if page.pk in current]
    return [
        ZipEntry("comic.json", json.dumps(facts, ensure_ascii=False, indent=1, default=str).encode()),
        ZipEntry("script.txt", script_text(seat).encode()),
        *(ZipEntry(_name_of(page, revision), kept=revision.picture.file_name) for page, revision in drawn),
    ]


def _facts_of(page: Page, revision: Revision | None) -> dict[str, Any]:
    panels = sorted((panel for panel in page.panels.all() if not panel.is_gone or panel.happens or panel.said),
                    key=lambda panel: panel.is_gone)
    return {
        "numbers": page.numbers, "stage": page.stage, "finished_at": page.finished_at, "happens": page.happens, "said": page.said,
        "file": _name_of(page, revision) if revision else None, "uploaded_as": revision.file_name if revision else None,
        "sha256": revision.picture.sha256 if revision else None,
        "panels": [{name: getattr(panel, name) for name in ("order", "happens", "said", "is_gone")} for panel in panels],
    }


def _name_of(page: Page, revision: Revision) -> str:
    """Names that stand in the order of the pages."""
    numbers = "-".join(f"{number:03d}" for number in page.numbers)
    return f"page-{numbers}-{revision.stage}.{ENDINGS.get(revision.picture.media_type, 'bin')}"
