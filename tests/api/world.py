"""A board with one of everything on it, for tests that go over all routes."""

from dataclasses import dataclass
from datetime import timedelta
from io import BytesIO

from django.utils import timezone

from board.access import Seat
from board.actions.cast import add_character
from board.actions.figures import mark_figure
from board.actions.intake import mark_ready, mark_revision_ready, record_picture_size, record_renditions
from board.actions.model_sheets import add_model_sheet
from board.actions.notes import pin_note
from board.actions.panels import record_panels
from board.actions.references import add_reference
from board.actions.review_sheets import record_review_sheet, request_review_sheet
from board.actions.revisions import receive_revision
from board.actions.seat_invitations import invite_to_seat
from board.actions.sheets import receive_sheet
from board.actions.underlays import record_underlay, request_underlay
from board.models import (
    Character,
    Figure,
    Job,
    ModelSheet,
    Note,
    Page,
    Panel,
    Picture,
    Reference,
    ReviewSheet,
    Revision,
    SeatInvitation,
    Sheet,
    Underlay,
)
from board.picture_files import keep_file
from tests.conftest import Cast
from tests.kept_rows import KeptRows
from tests.pictures import picture, png

SQUARE = [[0.1, 0.1], [0.9, 0.1], [0.9, 0.9], [0.1, 0.9]]
MARKS = {"crown": [0.4, 0.3], "chin": [0.4, 0.4], "sole": [0.4, 0.8]}


@dataclass(frozen=True)
class PageWithAll:
    page: Page
    revision: Revision
    panel: Panel
    note: Note  # open, by the editor, on the panel
    held: Note  # held, by the editor
    job: Job  # failed
    underlay: Underlay  # ready
    figure: Figure


@dataclass(frozen=True)
class World:
    cast: Cast
    artists: PageWithAll
    students: PageWithAll
    sheet: Sheet
    reference: Reference
    character: Character
    model_sheet: ModelSheet
    board_note: Note
    review_sheet: ReviewSheet  # the editor's, ready
    seat_invitation: SeatInvitation


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


def page_with_all(cast: Cast, page: Page, drawer: str, shade: int, character: Character) -> PageWithAll:
    revision = ready_revision(cast, page, drawer, shade=shade)
    panel = record_panels(revision=revision, found=[{"polygon": SQUARE, "framed": True}])[0].panel
    Job.objects.filter(revision=revision).update(state="done")
    job = Job.objects.get(revision=revision, kind="renditions")
    Job.objects.filter(pk=job.pk).update(state="failed", reason="The worker stopped in the middle of this job.")
    editor = cast.seat("editor")
    region = {"point": [0.5, 0.5]}
    note = pin_note(seat=editor, page=page, body="The hand floats.", tone="try", region=region)
    held = pin_note(seat=editor, page=page, body="Not sent yet.", tone="ask", region=region, is_held=True)
    revision.refresh_from_db()
    figure = mark_figure(seat=cast.seat(drawer), revision=revision, character=character.pk, marks=MARKS)
    underlay = ready_underlay(editor, revision)
    return PageWithAll(page, revision, panel, note, held, Job.objects.get(pk=job.pk), underlay, figure)


def ready_underlay(seat: Seat, revision: Revision) -> Underlay:
    revision.refresh_from_db()
    underlay = request_underlay(seat=seat, revision=revision)
    files = {kind: f"underlays/{underlay.pk}.{kind}" for kind in ("svg", "png", "ora")}
    for name in files.values():
        keep_file(name, BytesIO(b"<svg xmlns='http://www.w3.org/2000/svg'/>"))
    record_underlay(underlay=underlay, files=files, not_drawn={})
    return underlay


def make_world(cast: Cast) -> World:
    character = add_character(seat=cast.seat("artist"), name="Ines", height_m=1.7)
    artists = page_with_all(cast, cast.page, "artist", 201, character)
    students = page_with_all(cast, cast.own_page, "student", 202, character)
    sheet = receive_sheet(seat=cast.seat("artist"), file=BytesIO(png(shade=203)), file_name="thumbs.png")
    mark_ready(uploaded=sheet, found=[{"polygon": SQUARE}])
    keep_renditions(sheet.picture)
    reference = add_reference(seat=cast.seat("artist"), file=BytesIO(png(shade=204)), title="The wheel house")
    mark_ready(uploaded=reference)
    keep_renditions(reference.picture)
    reference.refresh_from_db()
    model_sheet = add_model_sheet(seat=cast.seat("artist"), character=character, reference=reference.pk, landmarks=MARKS)
    board_note = pin_note(seat=cast.seat("editor"), body="Keep the flood rising.", tone="keep")
    review_sheet = ready_review_sheet(cast.seat("editor"))
    seat_invitation = invite_to_seat(seat=cast.seat("editor"), roles=["artist"], expires_at=timezone.now() + timedelta(days=7))
    return World(cast, artists, students, sheet, reference, character, model_sheet, board_note, review_sheet, seat_invitation)


WORLD = KeptRows(make_world)


def ready_review_sheet(seat: Seat) -> ReviewSheet:
    review_sheet = request_review_sheet(seat=seat)
    keep_file("review-sheets/1.pdf", BytesIO(b"%PDF-1.4"))
    record_review_sheet(sheet=review_sheet, file_name="review-sheets/1.pdf")
    return review_sheet
