"""A board with one of everything on it, for tests that go over all routes."""

from dataclasses import dataclass
from io import BytesIO

from board.actions.intake import mark_ready, mark_revision_ready, record_picture_size, record_renditions
from board.actions.notes import pin_note
from board.actions.panels import record_panels
from board.actions.references import add_reference
from board.actions.revisions import receive_revision
from board.actions.sheets import receive_sheet
from board.actions.underlays import record_underlay, request_underlay
from board.models import Job, Note, Page, Panel, Picture, Reference, Revision, Sheet, Underlay
from board.picture_files import keep_file
from tests.conftest import Cast
from tests.pictures import picture, png

SQUARE = [[0.1, 0.1], [0.9, 0.1], [0.9, 0.9], [0.1, 0.9]]


@dataclass(frozen=True)
class PageWithAll:
    page: Page
    revision: Revision
    panel: Panel
    note: Note  # open, by the editor, on the panel
    held: Note  # held, by the editor
    job: Job  # failed
    underlay: Underlay  # ready


@dataclass(frozen=True)
class World:
    cast: Cast
    artists: PageWithAll
    students: PageWithAll
    sheet: Sheet
    reference: Reference
    board_note: Note


def keep_renditions(picture_row: Picture) -> None:
    record_picture_size(picture=picture_row, width_px=40, height_px=60, dpi=None)
    record_renditions(picture=picture_row, sizes={400: (40, 60)})
    keep_file(picture_row.renditions.get().file_name, BytesIO(picture("WEBP", mode="RGB")))


def ready_revision(cast: Cast, page: Page, drawer: str = "owner", stage: str = "thumbnail", shade: int = 200, **more) -> Revision:
    revision = receive_revision(
        seat=cast.seat(drawer), page=page, file=BytesIO(png(shade=shade)), stage=stage, file_name="page.png", **more
    )
    keep_renditions(revision.picture)
    mark_revision_ready(revision=revision)
    return revision


def page_with_all(cast: Cast, page: Page, drawer: str, shade: int) -> PageWithAll:
    revision = ready_revision(cast, page, drawer, shade=shade)
    panel = record_panels(revision=revision, found=[{"polygon": SQUARE, "framed": True}])[0].panel
    Job.objects.filter(revision=revision).update(state="done")
    job = Job.objects.get(revision=revision, kind="renditions")
    Job.objects.filter(pk=job.pk).update(state="failed", reason="The worker stopped in the middle of this job.")
    editor = cast.seat("editor")
    region = {"point": [0.5, 0.5]}
    note = pin_note(seat=editor, page=page, body="The hand floats.", tone="try", region=region)
    held = pin_note(seat=editor, page=page, body="Not sent yet.", tone="ask", region=region, is_held=True)
    return PageWithAll(page, revision, panel, note, held, Job.objects.get(pk=job.pk), ready_underlay(cast, revision))


def ready_underlay(cast: Cast, revision: Revision) -> Underlay:
    revision.refresh_from_db()
    underlay = request_underlay(seat=cast.seat("editor"), revision=revision)
    files = {kind: f"underlays/{underlay.pk}.{kind}" for kind in ("svg", "png", "ora")}
    for name in files.values():
        keep_file(name, BytesIO(b"<svg xmlns='http://www.w3.org/2000/svg'/>"))
    record_underlay(underlay=underlay, files=files, not_drawn={})
    return underlay


def make_world(cast: Cast) -> World:
    artists = page_with_all(cast, cast.page, "artist", 201)
    students = page_with_all(cast, cast.own_page, "student", 202)
    sheet = receive_sheet(seat=cast.seat("artist"), file=BytesIO(png(shade=203)), file_name="thumbs.png")
    mark_ready(uploaded=sheet, found=[{"polygon": SQUARE}])
    keep_renditions(sheet.picture)
    reference = add_reference(seat=cast.seat("artist"), file=BytesIO(png(shade=204)), title="The wheel house")
    mark_ready(uploaded=reference)
    keep_renditions(reference.picture)
    board_note = pin_note(seat=cast.seat("editor"), body="Keep the flood rising.", tone="keep")
    return World(cast, artists, students, sheet, reference, board_note)
