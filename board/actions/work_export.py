"""What one student's board for an assignment holds, to take along: pictures as they were uploaded, words, cast, and all that was
said of them. Regions, polygons, lines and marks are in fractions of the picture that they were made on."""

from collections.abc import Iterator
from typing import Any

from board.access import seat_on, visible_notes
from board.actions.comic_files import format_facts
from board.actions.scripts import script_text
from board.models import Character, Figure, HandIn, Note, Page, Panel, Picture, Reference, Revision, Sheet, Work
from board.models.same_as import DECLARED
from board.picture_files import ENDINGS
from board.zipped_files import ZipEntry


def work_files(folder: str, work: Work) -> Iterator[ZipEntry]:
    """Of references those that the student brought: what was given for all is not theirs to take along."""
    if seat := seat_on(work.enrolment.user, work.board):
        yield ZipEntry(f"{folder}/script.txt", script_text(seat).encode())
    for revision in _revisions(work):
        yield ZipEntry(f"{folder}/{_name_of(revision)}", kept=revision.picture.file_name, at=revision.uploaded_at)
        if revision.photo:
            yield ZipEntry(f"{folder}/{_name_of(revision, 'photograph')}", kept=revision.photo.file_name, at=revision.uploaded_at)
    for name, sheet in _sheets(work).items():
        yield ZipEntry(f"{folder}/{name}", kept=sheet.picture.file_name, at=sheet.uploaded_at)
    for name, reference in _own_references(work).items():
        yield ZipEntry(f"{folder}/{name}", kept=reference.picture.file_name, at=reference.uploaded_at)


def work_facts(work: Work) -> dict[str, Any]:
    revisions = _revisions(work)
    file_of = {one.pk: _name_of(one) for one in revisions}
    pages = list(Page.objects.filter(board=work.board_id).order_by("number", "pk"))
    return {
        "assignment": work.assignment.title, "brief": work.assignment.brief, **format_facts(work.board),
        "extensions": list(work.extensions.values("stage", "due_at")),
        "hand_ins": [_hand_in(one, file_of) for one in work.hand_ins.all()],
        "marks": [{"criterion": one.criterion.title, "level": one.word, "comment": one.comment}
                  for one in work.marks.select_related("criterion")],
        "pages": [_page(one) for one in pages],
        "pictures": [_picture(one) for one in revisions],
        "sheets": [_sheet(name, one, pages) for name, one in _sheets(work).items()],
        "references": [{"file": name, "kind": one.kind, "title": one.title, "camera": one.camera, **_upload(one)}
                       for name, one in _own_references(work).items()],
        "characters": list(_characters(work)),
        "figures": list(_figures(work, file_of)),
        "notes": list(_notes(work, file_of)),
    }


# --- drawn -----------------------------------------------------------------------------------------------------------------------


def _revisions(work: Work) -> list[Revision]:
    revisions = Revision.objects.filter(page__board=work.board_id).select_related("page", "panel", "picture", "photo")
    return list(revisions.prefetch_related("shapes").order_by("page__number", "page", "number"))


def _name_of(revision: Revision, what: str = "") -> str:
    """`what`: "photograph" for what it was laid flat from."""
    picture = revision.photo if what and revision.photo else revision.picture
    page = f"page-{revision.page.number}" if revision.page.laid_aside_at is None else f"laid-aside-{revision.page.pk}"
    return f"{page}-revision-{revision.number}-{what or revision.stage}.{_ending(picture)}"


def _ending(picture: Picture) -> str:
    return ENDINGS.get(picture.media_type, "bin")


def _upload(one: Revision | Sheet | Reference) -> dict[str, Any]:
    return {"uploaded_at": one.uploaded_at, "sha256": one.picture.sha256}


def _picture(one: Revision) -> dict[str, Any]:
    shapes = [{"panel": shape.order, "polygon": shape.polygon, "by_hand": shape.is_by_hand} for shape in one.shapes.all()]
    return {
        "page": one.page.number, "file": _name_of(one), "photograph": _name_of(one, "photograph") if one.photo else None,
        "stage": one.stage, "alternate": one.alternate, "try_at_panel": one.panel.order if one.panel else None,
        "file_name": one.file_name, "minutes_spent": one.minutes_spent, "withdrawn_at": one.withdrawn_at, "panels": shapes,
        **_upload(one),
    }


def _sheets(work: Work) -> dict[str, Sheet]:
    sheets = Sheet.objects.filter(board=work.board_id).select_related("picture").order_by("pk")
    return {f"sheet-{place}.{_ending(one.picture)}": one for place, one in enumerate(sheets, 1)}


def _sheet(name: str, sheet: Sheet, pages: list[Page]) -> dict[str, Any]:
    number_of = {page.pk: page.number for page in pages}
    cuts = [{"page": number_of.get(cut["page"]), "polygon": cut["polygon"]} for cut in sheet.cuts]
    return {"file": name, "file_name": sheet.file_name, "cuts": cuts, **_upload(sheet)}


def _own_references(work: Work) -> dict[str, Reference]:
    references = Reference.objects.filter(board=work.board_id, uploaded_by=work.enrolment.user_id)
    numbered = enumerate(references.select_related("picture").order_by("pk"), 1)
    return {f"reference-{place}.{_ending(one.picture)}": one for place, one in numbered}


# --- written and marked ----------------------------------------------------------------------------------------------------------


def _page(page: Page) -> dict[str, Any]:
    """Those that were laid aside too; in the script they are not."""
    panels = page.panels.select_related("still").prefetch_related("same_as_rows__model__page")
    return {
        "numbers": page.numbers, "stage": page.stage, "is_laid_aside": page.laid_aside_at is not None,
        "happens": page.happens, "said": page.said, "panels": [_panel(one) for one in panels],
    }


def _panel(panel: Panel) -> dict[str, Any]:
    model = next((row.model for row in panel.same_as_rows.all() if row.state == DECLARED), None)
    return {
        "panel": panel.order, "is_gone": panel.is_gone, "happens": panel.happens, "said": panel.said,
        "still": panel.still.title if panel.still else None, "still_place": panel.still_place,
        "given_perspective": panel.given_perspective, "figure_posts": panel.figure_posts,
        "same_as": {"page": model.page.number, "panel": model.order} if model else None,
    }


def _characters(work: Work) -> Iterator[dict[str, Any]]:
    """The cast, own or given: figures and posts name it."""
    name_of = {one.pk: name for name, one in _own_references(work).items()}
    for one in Character.objects.filter(board=work.board_id).prefetch_related("sheets__reference"):
        sheets = [{"view": sheet.view, "from_page": sheet.from_page, "title": sheet.reference.title,
                   "height_m": sheet.height_m,
                   "file": name_of.get(sheet.reference_id), "landmarks": sheet.landmarks} for sheet in one.sheets.all()]
        yield {"id": one.pk, "name": one.name, "height_m": one.height_m, "age_band": one.age_band, "preset": one.preset,
               "model_sheets": sheets}


def _figures(work: Work, file_of: dict[int, str]) -> Iterator[dict[str, Any]]:
    figures = Figure.objects.filter(page__board=work.board_id).select_related("page", "panel", "character")
    for one in figures.prefetch_related("places"):
        yield {
            "character": one.character.name, "page": one.page.number, "panel": one.panel.order if one.panel else None,
            "pose": one.pose, "view": one.view, "ground_offset_m": one.ground_offset_m,
            "places": [{"picture": file_of.get(place.revision_id), "marks": place.marks, "by": place.placed_by}
                       for place in one.places.all()],
        }


# --- handed in and told ----------------------------------------------------------------------------------------------------------


def _hand_in(one: HandIn, file_of: dict[int, str]) -> dict[str, Any]:
    """With all that its digest is worked out from."""
    files = [{"page": file["page"], "sha256": file["sha256"], "file": file_of.get(file["revision"])} for file in one.files]
    return {"receipt": one.receipt, "stage": one.stage, "handed_in_at": one.handed_in_at, "minutes_late": one.minutes_late,
            "digest": one.digest, "digest_is": "SHA-256 over a line “page sha256” for each of the files", "files": files}


def _notes(work: Work, file_of: dict[int, str]) -> Iterator[dict[str, Any]]:
    """What stands on the board, where, and with replies; of other people only whether it was they."""
    own = work.enrolment.user_id
    seat = seat_on(work.enrolment.user, work.board)
    notes = visible_notes(seat) if seat else Note.objects.none()
    for note in notes.select_related("page", "panel").prefetch_related("replies"):
        yield {
            "page": note.page.number if note.page else None, "panel": note.panel.order if note.panel else None,
            "picture": file_of.get(note.revision_id or 0), "region": note.region, "lines": note.lines,
            "tone": note.tone, "state": note.state, "body": note.body,
            "by": note.check_id or ("you" if note.author_id == own else note.pen_name or "an instructor"),
            "replies": [{"by": "you" if one.author_id == own else "somebody else", "body": one.body} for one in note.replies.all()],
        }
