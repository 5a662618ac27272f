"""A board on paper: what its member may see, in reading order, whatever the length of its notes."""

from datetime import date
from io import BytesIO
from types import SimpleNamespace

import pypdfium2
import pytest
from django.utils import timezone
from pypdfium2.raw import FPDF_PAGEOBJ_IMAGE, FPDF_PAGEOBJ_PATH

from board.actions.alternates import choose_alternate
from board.actions.classes import create_class
from board.actions.jobs import claim_job
from board.actions.members import add_member
from board.actions.note_states import set_note_state
from board.actions.notes import pin_note, reply_to_note
from board.actions.pages import add_page, change_page
from board.actions.review_sheets import request_review_sheet
from board.models import Assignment, Criterion, Enrolment, Finding, Job, Note, Page, Panel, ReviewSheet, RubricMark, Work
from board.picture_files import drop_file, file_is_kept, keep_file, open_file
from board.worker.review_sheet.document import set_review_sheet
from board.worker.review_sheet.marks import free_spot
from board.worker.review_sheet.spreads import spreads_of
from board.worker.review_sheet.told import gather, letter
from board.worker.review_sheet.typefaces import NO_LETTER, register, rich
from board.worker.run_job import run_job
from tests.api.world import WORLD, World, ready_revision
from tests.conftest import make_person
from tests.pictures import picture

SQUARE = {"polygon": [[0.1, 0.1], [0.5, 0.1], [0.5, 0.4], [0.1, 0.4]]}


@pytest.fixture
def world(cast) -> World:
    return WORLD.stand(cast)


def sheets_of(world: World, who: str, shown: str = "open") -> list[str]:
    """The words of each sheet."""
    return [page.get_textpage().get_text_range() for page in document_of(world, who, shown)]


def document_of(world: World, who: str, shown: str = "open") -> pypdfium2.PdfDocument:
    file = BytesIO()
    set_review_sheet(gather(world.cast.seat(who), shown, timezone.now()), file)
    return pypdfium2.PdfDocument(file.getvalue())


def sheet_of(world: World, number: int) -> pypdfium2.PdfPage:
    return document_of(world, "editor")[number]


def strokes_on(sheet: pypdfium2.PdfPage) -> int:
    return len(list(sheet.get_objects(filter=[FPDF_PAGEOBJ_PATH])))


def test_it_tells_title_stages_open_notes_and_each_page(world):
    reply_to_note(seat=world.cast.seat("artist"), note=world.artists.note, body="Lowered it.")
    front, first, second = sheets_of(world, "editor")
    assert all(told in front for told in ("The tide mill", "2 thumbnail", "as Editor sees it", "Keep the flood rising."))
    assert first.startswith("Page 1") and "The hand floats." in first and "Lowered it." in first
    assert second.startswith("Page 2")


def test_what_one_may_not_see_is_not_on_it(world):
    editors, artists, students = ("".join(sheets_of(world, who, "all")) for who in ("editor", "artist", "student"))
    assert "Not sent yet." in editors and "Not sent yet." not in artists
    assert "Page 1" in artists and "Page 1" not in students and "Page 2" in students


def test_a_classmates_note_names_nobody(world):
    Note.objects.filter(pk=world.students.note.pk).update(author=None, pen_name="a classmate")
    words = sheets_of(world, "student")[-1]
    assert "a classmate" in words and "Editor" not in words


def test_a_note_on_two_facing_pages_says_so(world):
    assert "On the whole spread." not in "".join(sheets_of(world, "editor"))
    pin_note(seat=world.cast.seat("editor"), page=world.artists.page, body="Too even.", tone="ask", scope="spread")
    assert "On the whole spread." in sheets_of(world, "editor")[1]


def test_closed_notes_are_on_it_if_all_are_asked_for(world):
    set_note_state(seat=world.cast.seat("editor"), note=world.artists.note, state="settled", expected_version=None)
    assert "The hand floats." not in sheets_of(world, "editor")[1]
    assert "settled" in sheets_of(world, "editor", "all")[1]


def test_what_a_note_draws_is_drawn_over_its_page(world):
    on = world.artists
    arrow = {"kind": "arrow", "points": [[0.2, 0.2], [0.4, 0.3]]}
    Note.objects.filter(pk=on.note.pk).update(region=SQUARE, revision=on.revision, lines=[])
    held = strokes_on(sheet_of(world, 1))
    Note.objects.filter(pk=on.note.pk).update(lines=[arrow])
    assert strokes_on(sheet_of(world, 1)) - held == 4  # the arrow and its barbs, each on a rim of paper


def test_a_note_on_another_try_says_so_where_the_chosen_one_is_drawn(world):
    other = ready_revision(world.cast, world.artists.page, shade=90, alternate="B")
    pin_note(seat=world.cast.seat("editor"), page=world.artists.page, body="Here.", tone="must", region=SQUARE, revision=other)
    sheet = sheets_of(world, "editor")[1]
    assert f"On alternate B, revision {other.number}." in sheet and sheet.count("On alternate") == 1


def test_a_try_that_is_chosen_at_a_panel_is_told(world):
    on = world.artists
    ready_revision(world.cast, on.page, shade=90, panel=on.panel, alternate="B")
    assert "chosen" not in sheets_of(world, "editor")[1]
    choose_alternate(seat=world.cast.seat("artist"), subject=on.panel, alternate="B", expected_version=None)
    assert f"try B chosen at panel {on.panel.order}" in sheets_of(world, "editor")[1]


def test_a_panel_that_is_sent_back_is_marked_in_words_and_on_the_picture(world):
    assert "sent back" not in sheets_of(world, "editor")[1]
    Panel.objects.filter(pk=world.artists.panel.pk).update(sent_back_to="thumbnail")
    words = sheets_of(world, "editor")[1]
    assert "1 of its panels sent back" in words and "Panel 1 sent back" in words
    assert words.count("sent back") == 3 and "sent back" not in sheets_of(world, "editor")[2]


def test_measured_notes_bring_their_figures_and_evidence(world):
    on, text = world.artists, "This edge misses its point."
    note = Note.objects.create(board=world.cast.board, page=on.page, panel=on.panel, revision=on.revision, region=SQUARE, body=text,
                               tone="ask", check_id="perspective", finding_kind="stray-edge", not_measured="4 segments found.")
    marks = [{"kind": "edge", "points": [[0.2, 0.2], [0.6, 0.3]], "label": "6.2°"},
             {"kind": "meeting-point", "points": [[0.5, 0.5]]},
             {"kind": "outline", "points": [[0.1, 0.1], [0.5, 0.1], [0.3, 0.4]], "label": "too far"}]
    job = Job.objects.filter(revision=on.revision).first()
    Finding.objects.create(note=note, job=job, revision=on.revision, kind="stray-edge", measured=6.2, expected=0, tolerance=4,
                           unit="°", confidence=0.93, text=text, geometry={"marks": marks})
    words = sheets_of(world, "editor")[1]
    for told in ("Edge off its vanishing point: 6.2°", "expected 0° give or take 4°; very sure, 0.93", "1 measured", "too far",
                 "Not measured on the page as it stands. 4 segments found."):
        assert told in words


def test_a_label_at_the_edge_of_the_picture_stands_inside_it_and_over_no_other():
    register()
    box, taken = (100.0, 100.0, 300.0, 400.0), []
    spots = [free_spot("panel 1 of page 8", x, y, box, taken) for x, y in [(290, 398), (280, 396), (150, 200), (152, 202)]]
    assert all(box[0] <= left and right <= box[2] and box[1] <= bottom and top <= box[3] for left, bottom, right, top in taken)
    assert spots[2] == (150, 200) and spots[3][1] > spots[2][1] + 6.5  # one where there is room stays, the next goes above it
    assert spots[1][1] < spots[0][1] - 6.5  # and below it under the edge


def test_a_strip_for_scrolling_stands_in_pieces_with_each_note_where_it_is(world):
    on = world.artists
    copy = on.revision.picture.renditions.get()
    on.revision.picture.renditions.update(width_px=40, height_px=600)
    keep_file(f"{copy.file_name}-strip", BytesIO(picture("WEBP", size=(40, 600), mode="RGB")))
    drop_file(copy.file_name)
    with open_file(f"{copy.file_name}-strip") as strip:
        keep_file(copy.file_name, strip)
    Note.objects.filter(pk=on.note.pk).update(region={"polygon": [[0.1, 0.8], [0.9, 0.8], [0.9, 0.9], [0.1, 0.9]]})
    sheet = sheet_of(world, 1)
    pictures = [one.get_bounds() for one in sheet.get_objects(filter=[FPDF_PAGEOBJ_IMAGE])]
    assert len(pictures) == 4 and len({round(left) for left, *_ in pictures}) == 4
    words = sheet.get_textpage()  # the held note is "a"
    boxes = [words.get_charbox(at) for at in range(words.count_chars()) if words.get_text_range(at, 1) == "b"]
    assert any(pictures[3][0] < left < pictures[3][2] and bottom > pictures[3][1] for left, bottom, _, _ in boxes)


def test_many_notes_and_long_ones_go_on_to_further_sheets(world):
    editor = world.cast.seat("editor")
    for number in range(30):
        pin_note(seat=editor, page=world.artists.page, body=f"No. {number}: " + "more rain here. " * 8, tone="must", region=SQUARE)
    pin_note(seat=editor, page=world.artists.page, body="Endless. " * 3000, tone="try", region=SQUARE)
    pin_note(seat=editor, page=world.artists.page, body="x" * 3000, tone="try", region=SQUARE)
    sheets = sheets_of(world, "editor")
    words = "".join(sheets)
    assert sum("continued" in sheet for sheet in sheets) >= 3
    assert all(f"No. {number}:" in words for number in range(30)) and words.count("Endless.") == 3000 and words.count("x") >= 3000


def test_a_board_without_pages_or_pictures_is_a_sheet_too(world):
    add_page(seat=world.cast.seat("owner"), number=3)
    assert "No picture is read here yet." in sheets_of(world, "editor")[-1]
    world.cast.board.pages.all().delete()
    assert "The tide mill" in sheets_of(world, "editor")[0]


@pytest.mark.parametrize(("reading", "is_bound", "sides"), [
    ("ltr", True, [(None, 1), (2, 3), (None, None), (6, None)]), ("rtl", True, [(1, None), (3, 2), (None, None), (None, 6)]),
    ("ltr", False, [(1, 2), (3, None), (None, None), (6, None)]), ("rtl", False, [(2, 1), (None, 3), (None, None), (None, 6)]),
])
def test_spreads_lie_as_the_comic_is_read(reading, is_bound, sides):
    pages = [SimpleNamespace(page=Page(number=number, is_spread=number == 4)) for number in (1, 2, 3, 4, 6)]

    def number(told):
        return told and told.page.number

    assert [(number(one.left), number(one.right)) for one in spreads_of(pages, reading, is_bound=is_bound)] == sides


def test_a_board_read_from_the_right_says_so(world):
    world.cast.board.reading = "rtl"
    world.cast.board.save(update_fields=["reading"])
    file = BytesIO()
    set_review_sheet(gather(world.cast.seat("editor"), "open", timezone.now()), file)
    assert b"/Direction /R2L" in file.getvalue()


def test_letters_and_other_scripts():
    register()
    assert [letter(place) for place in (0, 25, 26, 51, 52, 701, 702)] == ["a", "z", "aa", "az", "ba", "zz", "aaa"]
    assert rich("a < b\n& c") == "a &lt; b<br/>&amp; c"
    assert rich("the 水車 turns") == 'the <font name="HeiseiKakuGo-W5">水車</font> turns'
    assert rich("물레방아") == '<font name="HYGothic-Medium">물레방아</font>'
    assert rich("\U0001f98a") == '<font name="Figures">\u25ca</font>'
    family, waving, flower = "\U0001f468\u200d\U0001f469\u200d\U0001f467", "\U0001f44b\U0001f3fd", "\u2740\ufe0f"
    assert [rich(one).count("\u25ca") for one in (family, waving, flower, family + waving, "\u0915\u094d\u0937")] == [1, 1, 1, 2, 2]
    assert rich("e\u0301") == "e\u0301"


def test_the_front_says_where_letters_are_lacking(world):
    front = sheets_of(world, "editor")[0]
    assert "read in full on the board" not in front
    Note.objects.filter(pk=world.artists.note.pk).update(body="\u05e9\u05dc\u05d5\u05dd")
    front, page, _ = sheets_of(world, "editor")
    assert "read in full on the board" in front and 4 * NO_LETTER in page


def test_it_is_a_job_and_asked_for_again_it_is_the_one_that_is_there(world):
    ReviewSheet.objects.all().delete()
    sheet = request_review_sheet(seat=world.cast.seat("editor"))
    run_job(Job.objects.get(review_sheet=sheet).pk)
    sheet.refresh_from_db()
    assert (sheet.state, open_file(sheet.file_name).read(5)) == ("ready", b"%PDF-")
    assert request_review_sheet(seat=world.cast.seat("editor")) == sheet
    assert request_review_sheet(seat=world.cast.seat("artist")) != sheet
    pin_note(seat=world.cast.seat("artist"), page=world.artists.page, body="New.", tone="ask", scope="page")
    assert request_review_sheet(seat=world.cast.seat("editor")) != sheet


def test_a_page_that_was_closed_again_is_on_no_sheet_that_is_asked_for_then(world):
    sheets = []
    for is_open in (True, False):
        change_page(seat=world.cast.seat("instructor"), page=world.artists.page, expected_version=None, is_open_to_students=is_open)
        world.artists.page.refresh_from_db()
        sheets.append(request_review_sheet(seat=world.cast.seat("student")))
        assert ("Page 1" in "".join(sheets_of(world, "student"))) == is_open
    assert sheets[0] != sheets[1]


def test_measured_notes_that_wait_are_not_on_a_students(world):
    on, board = world.students, world.cast.board
    Note.objects.create(board=board, page=on.page, revision=on.revision, body="Off by 6°.", tone="ask", check_id="perspective",
                        finding_kind="stray-edge")
    assert "Off by 6°." in sheets_of(world, "student")[-1]
    board.measured_shown = "to-instructor"
    board.save(update_fields=["measured_shown"])
    assert "Off by 6°." not in sheets_of(world, "student")[-1] and "Off by 6°." in sheets_of(world, "instructor")[-1]


def test_the_rubric_of_an_assignment_and_the_marks_are_told_to_its_student_and_who_instructs(world):
    teacher, board = make_person("hollis"), world.cast.board
    school_class = create_class(user=teacher, title="Saturday", ends_on=date(2099, 1, 1))
    assignment = Assignment.objects.create(school_class=school_class, title="One door")
    criterion = Criterion.objects.create(assignment=assignment, order=1, title="Clear staging", asks="Who stands where?")
    enrolment = Enrolment.objects.create(school_class=school_class, user=world.cast.student, place="student", alias="Heron")
    work = Work.objects.create(assignment=assignment, enrolment=enrolment, board=board)
    RubricMark.objects.create(work=work, criterion=criterion, level=2, comment="The door is read at once.")
    Note.objects.filter(pk=world.students.note.pk).update(criterion=criterion)
    for who in ("student", "instructor", "reader"):
        front, *pages = sheets_of(world, who)
        assert "Rubric" in front and "Clear staging" in front and "Who stands where?" in front
        assert ("there" in front and "The door is read at once." in front) is (who != "reader")
        assert "Of the rubric: Clear staging" in pages[-1]
        assert "Drawn by Heron." in front and ("as Heron sees it" in front) is (who == "student")
    reply_to_note(seat=world.cast.seat("student"), note=world.students.note, body="Mine.")
    assert "Mine." in (pages := "".join(sheets_of(world, "instructor"))) and "Heron" in pages and "Student" not in pages
    seat = world.cast.seat("student")
    first = request_review_sheet(seat=seat)
    assert request_review_sheet(seat=seat) == first
    RubricMark.objects.update(comment="Look at the hinge.")
    assert request_review_sheet(seat=seat) != first


def test_old_ones_go(world, django_capture_on_commit_callbacks):
    with django_capture_on_commit_callbacks(execute=True):
        for number in range(4):
            pin_note(seat=world.cast.seat("artist"), page=world.artists.page, body=str(number), tone="ask", scope="page")
            request_review_sheet(seat=world.cast.seat("editor"))
    assert ReviewSheet.objects.count() == 3 and not file_is_kept(world.review_sheet.file_name)


def test_who_lost_their_seat_gets_none(world):
    sheet = request_review_sheet(seat=world.cast.seat("reader"))
    world.cast.board.members.get(user=world.cast.reader).delete()
    job = Job.objects.get(review_sheet=sheet)
    run_job(job.pk)
    sheet.refresh_from_db()
    assert sheet.state == "failed" and sheet.reason and claim_job(job_id=job.pk) is None
    add_member(seat=world.cast.seat("owner"), username="reader", roles=["reader"])
    assert request_review_sheet(seat=world.cast.seat("reader")) != sheet
