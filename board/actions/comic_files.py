"""A comic to be taken along: each page's own picture and its panels' chosen tries as they were uploaded, in order, its script,
and what the pages are."""

import json
from collections.abc import Mapping
from typing import Any

from board.access import Seat, visible_pages
from board.actions.scripts import script_text
from board.models import Board, Page, Panel, Revision
from board.models.revision import chosen_tries, current_revisions
from board.picture_files import ENDINGS
from board.zipped_files import ZipEntry

FILE_FACTS = ("file", "uploaded_as", "sha256")


def comic_files(seat: Seat) -> list[ZipEntry]:
    """What this person sees of it."""
    pages = list(visible_pages(seat).order_by("number").prefetch_related("panels"))
    current, tries = current_revisions(pages), chosen_tries([page.pk for page in pages])
    facts = {
        "title": seat.board.title, **format_facts(seat.board),
        "pages": [_facts_of(page, current.get(page.pk), tries) for page in pages],
    }
    drawn = [(_name_of(page, revision), revision) for page in pages for revision in _pictures_of(page, current, tries)]
    return [
        ZipEntry("comic.json", json.dumps(facts, ensure_ascii=False, indent=1, default=str).encode()),
        ZipEntry("script.txt", script_text(seat).encode()),
        *(ZipEntry(name, kept=revision.picture.file_name, at=revision.uploaded_at) for name, revision in drawn),
    ]


def format_facts(board: Board) -> dict[str, Any]:
    """How the comic is read and printed. `live_area_mm`: how far the live area lies within the trim."""
    return {"reading": board.reading, "is_bound": board.is_bound, "trim_mm": [board.trim_width_mm, board.trim_height_mm],
            "bleed_mm": board.bleed_mm, "live_area_mm": board.safe_mm}


def _pictures_of(page: Page, current: Mapping[int, Revision], tries: Mapping[int, Revision]) -> list[Revision]:
    """The page's own, then those of its panels."""
    of_panels = [tries[panel.pk] for panel in page.panels.all() if panel.pk in tries]
    return [*([current[page.pk]] if page.pk in current else []), *of_panels]


def _facts_of(page: Page, revision: Revision | None, tries: Mapping[int, Revision]) -> dict[str, Any]:
    panels = sorted((panel for panel in page.panels.all() if not panel.is_gone or panel.happens or panel.said),
                    key=lambda panel: panel.is_gone)
    return {
        "numbers": page.numbers, "stage": page.stage, "finished_at": page.finished_at, "happens": page.happens, "said": page.said,
        **(_file_of(page, revision) if revision else dict.fromkeys(FILE_FACTS)),
        "panels": [_facts_of_panel(page, panel, tries.get(panel.pk)) for panel in panels],
    }


def _facts_of_panel(page: Page, panel: Panel, chosen: Revision | None) -> dict[str, Any]:
    written = {name: getattr(panel, name) for name in ("order", "happens", "said", "is_gone")}
    return written | {"chosen": {"alternate": chosen.alternate, **_file_of(page, chosen)} if chosen else None}


def _file_of(page: Page, revision: Revision) -> dict[str, str]:
    return dict(zip(FILE_FACTS, (_name_of(page, revision), revision.file_name, revision.picture.sha256), strict=True))


def _name_of(page: Page, revision: Revision) -> str:
    """Names that stand in the order of the pages."""
    numbers = "-".join(f"{number:03d}" for number in page.numbers)
    panel = f"-panel-{revision.panel.order}-{revision.alternate.lower()}" if revision.panel else ""
    return f"page-{numbers}{panel}-{revision.stage}.{ENDINGS.get(revision.picture.media_type, 'bin')}"
