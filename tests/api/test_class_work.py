"""A student's way through an assignment: the board that it gives, the hand-in with its receipt, marks, and what is shown when."""

from collections import Counter
from datetime import date, timedelta
from hashlib import sha256
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from board.access import access_opened_picture
from board.actions.assignments import change_assignment
from board.actions.enrolments import enrol_person
from board.actions.intake import mark_refused, mark_revision_ready
from board.actions.members import add_member
from board.actions.panels import record_panels
from board.actions.revisions import receive_revision
from board.actions.work_export import work_facts
from board.models import Assignment, AssignmentStage, Board, CritiqueRound, HandIn, Job, Note, Page, Revision, SchoolClass, Work
from board.stages.deadlines import today_at_the_latest
from tests.api.class_world import AUTHOR, CRITIC, POINTS, hand_in
from tests.api.world import SQUARE, make_world, ready_review_sheet
from tests.conftest import make_cast, make_person
from tests.pictures import png

API = "/api/v1"
YESTERDAY = today_at_the_latest(timezone.now()) - timedelta(days=1)  # everywhere


def measured(board: Board, kind: str = "stray-edge", check: str = "perspective") -> Note:
    page = board.pages.get()
    return Note.objects.create(
        board=board, page=page, revision=page.revisions.last(), scope="region", region={"point": [0.4, 0.4]}, tone="try",
        body="This edge misses its point by 6.2°.", check_id=check, finding_kind=kind,
    )


def upload(world, name, shade, stage="thumbnail", is_read=True):
    seat, page = world.board_seat(name), world.works[name].board.pages.get()
    revision = receive_revision(seat=seat, page=page, file=BytesIO(png(shade=shade)), stage=stage)
    if is_read:
        mark_revision_ready(revision=revision)
    return revision


def test_the_receipt_says_when_and_of_which_files(in_class):
    client = in_class.client(AUTHOR)
    first = client.get(f"{API}/hand-ins/{in_class.hand_in.pk}").json()
    (file,) = first["files"]
    assert first["digest"] == sha256(f"1 {file['sha256']}\n".encode()).hexdigest()
    assert first["receipt"].endswith(first["digest"][:8]) and first["minutes_late"] == 0
    again = client.post(f"{API}/works/{first['work']}/hand-ins", {"stage": "thumbnail"})
    assert (again.status_code, again.json()["code"]) == (409, "already-handed-in")
    upload(in_class, AUTHOR, 11)
    second = client.post(f"{API}/works/{first['work']}/hand-ins", {"stage": "thumbnail"}).json()
    assert (first["number_in_stage"], second["number_in_stage"], second["number"]) == (1, 2, 2)
    assert second["digest"] != first["digest"]


def test_a_stage_is_handed_in_once_its_pictures_are_read_and_never_an_earlier_one_for_one_that_cannot_be(in_class):
    revision, url = upload(in_class, AUTHOR, 12, is_read=False), f"{API}/works/{in_class.hand_in.work_id}/hand-ins"
    answer = in_class.client(AUTHOR).post(url, {"stage": "thumbnail"})
    assert (answer.status_code, answer.json()["code"]) == (409, "being-read")
    assert answer.json()["detail"] == "The picture of page 1 is still being read. Wait a moment and try again."
    mark_refused(uploaded=revision, reason="The file is cut off.")
    answer = in_class.client(AUTHOR).post(url, {"stage": "thumbnail"})
    assert (answer.status_code, answer.json()["code"]) == (409, "not-opened")
    again = upload(in_class, AUTHOR, 13, is_read=False)
    assert in_class.client(AUTHOR).post(url, {"stage": "thumbnail"}).json()["code"] == "being-read"
    mark_revision_ready(revision=again)
    assert in_class.client(AUTHOR).post(url, {"stage": "thumbnail"}).status_code == 201


@pytest.mark.parametrize(("read_ago_s", "late"), [(60, 0), (600, 30)])
def test_nobody_is_late_by_waiting_until_a_picture_was_read(in_class, read_ago_s, late):
    """Uploaded one minute before the deadline, which was half an hour ago; handed in a minute after it was read, or ten."""
    now, work = timezone.now(), in_class.works[AUTHOR]
    revision = upload(in_class, AUTHOR, 14)
    Revision.objects.filter(pk=revision.pk).update(uploaded_at=now - timedelta(minutes=31))
    work.extensions.all().delete()
    work.assignment.stages.filter(stage="thumbnail").update(due_at=now - timedelta(minutes=30))
    Assignment.objects.filter(pk=work.assignment_id).update(grace_minutes=0, late_days=None)
    Job.objects.filter(kind="intake", revision=revision).update(state="done", finished_at=now - timedelta(seconds=read_ago_s))
    receipt = in_class.client(AUTHOR).post(f"{API}/works/{work.pk}/hand-ins", {"stage": "thumbnail"}).json()
    assert receipt["minutes_late"] == pytest.approx(late, abs=1)


def test_the_number_of_an_assigned_page_is_not_its_students_to_say(in_class):
    client, page = in_class.client(AUTHOR), f"{API}/pages/{in_class.works[AUTHOR].board.pages.get().pk}"
    assert client.patch(page, {"number": 4}, headers={"If-Match": "*"}).status_code == 403
    assert client.patch(page, {"happens": "A door."}, headers={"If-Match": "*"}).json()["number"] == 1


def test_an_extension_is_one_students_and_late_work_is_told(in_class):
    AssignmentStage.objects.update(due_at=timezone.now() - timedelta(minutes=90))
    rows = {}
    for name in (AUTHOR, CRITIC):
        upload(in_class, name, 12)
        rows[name] = in_class.client(name).post(f"{API}/works/{in_class.works[name].pk}/hand-ins", {"stage": "thumbnail"}).json()
    assert rows[AUTHOR]["minutes_late"] == 0  # has an extension
    assert 90 <= rows[CRITIC]["minutes_late"] <= 92


def test_late_work_can_be_given_its_time_afterwards(in_class):
    AssignmentStage.objects.update(due_at=timezone.now() - timedelta(minutes=90))
    upload(in_class, CRITIC, 12)
    work, teacher = in_class.works[CRITIC].pk, in_class.client("hollis")
    late = in_class.client(CRITIC).post(f"{API}/works/{work}/hand-ins", {"stage": "thumbnail"}).json()
    more = {"stage": "thumbnail", "due_at": timezone.now() + timedelta(hours=1)}
    given = teacher.post(f"{API}/works/{work}/extensions", more).json()
    told = in_class.client(CRITIC).get(f"{API}/hand-ins/{late['id']}").json()
    assert late["minutes_late"] >= 90 and told["minutes_late"] == 0
    assert (told["receipt"], told["handed_in_at"]) == (late["receipt"], late["handed_in_at"])
    table = teacher.get(f"{API}/assignments/{in_class.assignment.pk}/table").json()["rows"]
    (cell,) = next(row for row in table if row["work"] == work)["stages"]
    assert (cell["minutes_late"], cell["is_extended"]) == (0, True)
    teacher.delete(f"{API}/extensions/{given['id']}")
    again = teacher.get(f"{API}/hand-ins/{late['id']}").json()
    assert (again["minutes_late"], again["due_at"]) == (late["minutes_late"], late["due_at"])


def test_a_mark_is_a_level_and_a_word_and_what_is_not_named_stays(in_class):
    work, teacher = f"{API}/works/{in_class.works[AUTHOR].pk}", in_class.client("hollis")
    criterion = in_class.assignment.criteria.get().pk
    told = []
    for named in ({"level": None, "comment": "See me."}, {"level": 2}, {"comment": "Good."}, {"level": None}, {"comment": ""}):
        marks = teacher.put(f"{work}/marks", {"marks": [{"criterion": criterion, **named}]}).json()["marks"]
        told.append([(mark["level"], mark["word"], mark["comment"]) for mark in marks])
    assert told == [[(None, "", "See me.")], [(2, "there", "See me.")], [(2, "there", "Good.")], [(None, "", "Good.")], []]


def test_who_marked_from_an_older_reading_is_told_so_where_they_say_which(in_class):
    work, teacher = f"{API}/works/{in_class.works[AUTHOR].pk}", in_class.client("hollis")
    marks = {"marks": [{"criterion": in_class.assignment.criteria.get().pk, "level": 1}]}
    tag = {"If-Match": teacher.get(work)["ETag"]}
    first, second = (teacher.put(f"{work}/marks", marks, headers=tag) for _ in range(2))
    assert (first.status_code, second.status_code) == (200, 412)
    assert teacher.put(f"{work}/marks", marks, headers={"If-Match": first["ETag"]}).status_code == 200


def test_a_deadline_that_is_put_right_makes_in_time_what_was_late_and_takes_no_time_back(in_class):
    due_at = timezone.now() - timedelta(minutes=90)
    AssignmentStage.objects.update(due_at=due_at)
    for shade, name in enumerate((AUTHOR, CRITIC), 12):
        upload(in_class, name, shade)
        in_class.client(name).post(f"{API}/works/{in_class.works[name].pk}/hand-ins", {"stage": "thumbnail"})
    last = {name: in_class.works[name].hand_ins.last() for name in (AUTHOR, CRITIC)}
    extended_to = last[AUTHOR].due_at

    def told(**change) -> list[tuple]:
        answer = teacher.patch(assignment, change, headers={"If-Match": "*"})
        assert answer.status_code == 200
        for one in last.values():
            one.refresh_from_db()
        return [(last[name].minutes_late > 0, last[name].due_at) for name in (AUTHOR, CRITIC)]

    def stages(moment) -> list[dict]:
        return [{"stage": "thumbnail", "due_at": moment}]

    teacher, assignment = in_class.client("hollis"), f"{API}/assignments/{in_class.assignment.pk}"
    assert told(grace_minutes=5) == [(False, extended_to), (True, due_at)]
    assert told(grace_minutes=120) == [(False, extended_to), (False, due_at)]
    assert told(grace_minutes=0) == [(False, extended_to), (False, due_at)]
    later = due_at + timedelta(hours=3)
    assert told(stages=stages(later)) == [(False, extended_to), (False, later)]
    assert told(stages=stages(due_at)) == [(False, extended_to), (False, later)]


def test_of_a_late_hand_in_the_one_before_that_was_in_time_is_told_too(in_class):
    AssignmentStage.objects.update(due_at=timezone.now() - timedelta(minutes=90))
    for shade, name in enumerate((AUTHOR, CRITIC), 12):
        upload(in_class, name, shade)
        in_class.client(name).post(f"{API}/works/{in_class.works[name].pk}/hand-ins", {"stage": "thumbnail"})
    rows = in_class.client("hollis").get(f"{API}/assignments/{in_class.assignment.pk}/table").json()["rows"]
    told = {row["work"]: row["stages"][0]["before_in_time"] for row in rows}
    before = in_class.works[CRITIC].hand_ins.first()
    assert [told[in_class.works[name].pk] for name in (AUTHOR, CRITIC, "tamsin")] == [None, before.pk, None]


def test_a_stage_that_was_handed_in_is_not_taken_out(in_class):
    teacher, assignment = in_class.client("hollis"), f"{API}/assignments/{in_class.assignment.pk}"
    pencils = {"stages": [{"stage": "pencil", "due_at": "2030-01-01T00:00:00Z"}]}
    refused = teacher.patch(assignment, pencils, headers={"If-Match": "*"})
    assert refused.status_code == 409 and "3 students have handed in the thumbnail stage" in refused.json()["detail"]
    HandIn.objects.all().delete()
    assert teacher.patch(assignment, pencils, headers={"If-Match": "*"}).status_code == 200


def test_marks_go_with_a_line_of_the_rubric_only_where_that_is_said(in_class):
    teacher, assignment = in_class.client("hollis"), f"{API}/assignments/{in_class.assignment.pk}"
    pk = in_class.assignment.criteria.get().pk
    teacher.put(f"{API}/works/{in_class.works[AUTHOR].pk}/marks", {"marks": [{"criterion": pk, "comment": "See me."}]})
    critique = f"{API}/critiques/{in_class.critique.pk}"
    in_class.client(CRITIC).delete(f"{critique}/sending")
    in_class.client(CRITIC).put(f"{critique}/points", {"points": [{**one, "criterion": pk} for one in POINTS]})
    in_class.client(CRITIC).put(f"{critique}/sending")
    anew = {"rubric": [{"title": "Perspective"}]}
    refused = teacher.patch(assignment, anew, headers={"If-Match": "*"})
    assert (refused.status_code, refused.json()["type"]) == (409, "/problems/marks-would-go")
    assert "“Perspective”: 1 work is marked by it" in refused.json()["detail"] and in_class.works[AUTHOR].marks.count() == 1
    assert teacher.patch(assignment, {"rubric": [{"id": pk, "title": "Space"}]}, headers={"If-Match": "*"}).status_code == 200
    assert teacher.patch(assignment, {**anew, "drops_marks": True}, headers={"If-Match": "*"}).status_code == 200
    assert in_class.works[AUTHOR].marks.count() == 0
    teacher.put(f"{API}/critique-rounds/{in_class.round.pk}/delivery")
    delivered = Note.objects.filter(critique=in_class.critique.pk)
    assert [note.criterion_id for note in delivered] == [None, None]
    Note.objects.filter(pk=delivered[0].pk).update(criterion=in_class.assignment.criteria.get())
    told = teacher.patch(assignment, {"rubric": []}, headers={"If-Match": "*"}).json()["detail"]
    assert told == "Without “Perspective”: 1 note names it and stays without it."


def test_what_is_too_late_is_refused_with_words_to_act_on(in_class):
    AssignmentStage.objects.update(due_at=timezone.now() - timedelta(days=3))
    change_assignment(seat=in_class.seat("hollis"), assignment=in_class.assignment, expected_version=None, late_days=2)
    upload(in_class, CRITIC, 13)
    answer = in_class.client(CRITIC).post(f"{API}/works/{in_class.works[CRITIC].pk}/hand-ins", {"stage": "thumbnail"})
    assert (answer.status_code, answer.json()["code"]) == (409, "too-late") and "extension" in answer.json()["detail"]


def test_who_drew_anew_after_the_hand_in_is_told_that_it_is_not_in_and_why(in_class):
    work, student = f"{API}/works/{in_class.works[CRITIC].pk}", in_class.client(CRITIC)

    def told() -> list[tuple]:
        return [(one["has_newer_pictures"], one["refusal"]["code"]) for one in student.get(work).json()["stages"]]

    AssignmentStage.objects.update(due_at=timezone.now() - timedelta(days=3))
    change_assignment(seat=in_class.seat("hollis"), assignment=in_class.assignment, expected_version=None, late_days=2)
    assert told() == [(False, "already-handed-in")]
    upload(in_class, CRITIC, 13)
    assert told() == [(True, "too-late")]
    SchoolClass.objects.update(ends_on=YESTERDAY)
    assert told() == [(True, "class-over")]


def test_a_class_that_is_over_takes_nothing_more(in_class):
    board, student = in_class.works[CRITIC].board, in_class.client(CRITIC)
    upload(in_class, CRITIC, 13)
    SchoolClass.objects.update(ends_on=YESTERDAY)
    refusals = [student.post(f"{API}/works/{in_class.works[CRITIC].pk}/hand-ins", {"stage": "thumbnail"})]
    for address in f"pages/{board.pages.get().pk}/revisions", f"boards/{board.pk}/sheets", f"boards/{board.pk}/references":
        file = SimpleUploadedFile("door.png", png(shade=14), "image/png")
        fields = {"revisions": {"stage": "thumbnail"}, "sheets": {}, "references": {"title": "Door"}}[address.rpartition("/")[2]]
        refusals.append(student.post(f"{API}/{address}", {"image": file, **fields}, format="multipart"))
    assert [answer.status_code for answer in refusals] == [409] * 4
    assert all("This class is over; its last day was" in answer.json()["detail"] for answer in refusals)
    assert refusals[0].json()["code"] == "class-over"
    enrolments, teacher = f"{API}/classes/{in_class.school_class.pk}/enrolments", in_class.client("hollis")
    assert teacher.post(enrolments, {"username": "nobody"}).status_code == 409
    assert teacher.post(enrolments, {"username": "nobody", "place": "instructor"}).status_code == 201


def test_more_time_after_the_last_day_is_for_what_is_handed_in(in_class):
    AssignmentStage.objects.update(due_at=timezone.now() - timedelta(minutes=90))
    upload(in_class, CRITIC, 12)
    late = in_class.client(CRITIC).post(f"{API}/works/{in_class.works[CRITIC].pk}/hand-ins", {"stage": "thumbnail"}).json()
    in_class.works[AUTHOR].hand_ins.all().delete()
    SchoolClass.objects.update(ends_on=YESTERDAY)
    teacher, more = in_class.client("hollis"), {"stage": "thumbnail", "due_at": timezone.now() + timedelta(hours=1)}
    given, refused = (teacher.post(f"{API}/works/{in_class.works[name].pk}/extensions", more) for name in (CRITIC, AUTHOR))
    assert given.status_code == 201 and late["minutes_late"] >= 90 and HandIn.objects.get(pk=late["id"]).minutes_late == 0
    assert refused.status_code == 409 and "This class is over" in refused.json()["detail"]


def test_the_next_stage_is_handed_in_without_a_sign_off(in_class):
    AssignmentStage.objects.create(assignment=in_class.assignment, stage="pencil", due_at=timezone.now() + timedelta(days=9))
    work = f"{API}/works/{in_class.works[AUTHOR].pk}"
    refused = in_class.client(AUTHOR).post(f"{work}/hand-ins", {"stage": "pencil"})
    assert refused.json()["code"] == "pages-missing"
    upload(in_class, AUTHOR, 14, stage="pencil")
    receipt = in_class.client(AUTHOR).post(f"{work}/hand-ins", {"stage": "pencil"})
    assert receipt.status_code == 201 and (receipt.json()["number"], receipt.json()["number_in_stage"]) == (2, 1)
    page = Page.objects.get(board=in_class.works[AUTHOR].board)
    assert page.stage == "pencil" and page.handed_in_at is not None
    stages = {one["stage"]: one for one in in_class.client(AUTHOR).get(work).json()["stages"]}
    assert stages["thumbnail"]["refusal"]["code"] == "further-on" and stages["thumbnail"]["handed_in"]


@pytest.mark.parametrize(("shown", "seen"), [("at-once", 1), ("after-hand-in", 1), ("to-instructor", 0)])
def test_measured_notes_are_shown_when_the_assignment_says(in_class, shown, seen):
    board = in_class.works[AUTHOR].board
    note = measured(board)
    change_assignment(seat=in_class.seat("hollis"), assignment=in_class.assignment, expected_version=None, measured_shown=shown)
    student, instructor = in_class.client(AUTHOR), in_class.client("hollis")
    assert counts(student, board, note) == (seen,) * 5
    assert counts(instructor, board, note) == (1,) * 5
    in_class.works[AUTHOR].hand_ins.all().delete()
    before = 1 if shown == "at-once" else 0
    assert counts(student, board, note) == (before,) * 5


@pytest.mark.parametrize(("shown", "status", "state"), [("at-once", 200, "stet"), ("to-instructor", 403, "open")])
def test_who_is_not_shown_what_was_measured_does_not_have_it_left_alone(in_class, shown, status, state):
    change_assignment(seat=in_class.seat("hollis"), assignment=in_class.assignment, expected_version=None, measured_shown=shown)
    note = measured(in_class.works[AUTHOR].board)
    (shape,) = record_panels(revision=note.revision, found=[{"polygon": SQUARE, "framed": True}])
    Note.objects.filter(pk=note.pk).update(panel=shape.panel)
    alone = f"{API}/panels/{shape.panel_id}/left-alone/perspective"
    assert in_class.client(AUTHOR).put(alone, headers={"If-Match": "*"}).status_code == status
    note.refresh_from_db()
    assert note.state == state


def test_an_underlay_shows_no_measured_note_before_its_time(in_class):
    board = in_class.works[AUTHOR].board
    measured(board)
    change_assignment(
        seat=in_class.seat("hollis"), assignment=in_class.assignment, expected_version=None, measured_shown="to-instructor"
    )
    revisions = f"{API}/revisions/{board.pages.get().revisions.get().pk}"
    made = {name: in_class.client(name).post(f"{revisions}/underlays", {"includes": ["notes"]}).json()["id"]
            for name in ("hollis", AUTHOR)}
    assert made["hollis"] != made[AUTHOR]
    seen = [in_class.client(AUTHOR).get(f"{API}/underlays/{pk}").status_code for pk in made.values()]
    assert seen == [404, 200]


def counts(client, board, note) -> tuple[int, ...]:
    """The note as it is told in the list, alone, on its page, on the board and in the progress."""
    page = client.get(f"{API}/pages/{note.page_id}").json()
    progress = client.get(f"{API}/enrolments/{board.work.enrolment_id}/progress").json()["rows"][0]
    return (
        len(client.get(f"{API}/boards/{board.pk}/notes").json()["results"]),
        int(client.get(f"{API}/notes/{note.pk}").status_code == 200),
        page["open_notes"]["measured"],
        client.get(f"{API}/boards/{board.pk}").json()["open_notes_count"],
        progress["findings"].get("stray-edge", 0),
    )


def test_only_the_checks_that_were_chosen_run_with_what_they_build_on(in_class):
    change_assignment(
        seat=in_class.seat("hollis"), assignment=in_class.assignment, expected_version=None, checks=["perspective"],
        own_tolerances={"perspective": {"stray_edge_deg": 6.0}},
    )
    board = Board.objects.get(pk=in_class.works[AUTHOR].board_id)
    assert board.own_tolerances == {"perspective": {"stray_edge_deg": 6.0}}
    assert {"heights", "proportions", "print-size"} <= set(board.checks_off)
    revision = in_class.client(AUTHOR).get(f"{API}/revisions/{board.pages.get().revisions.last().pk}").json()
    assert [check["check"] for check in revision["checks"]] == ["panels", "perspective"]


def test_cast_and_set_that_are_given_come_to_every_board_and_stay(in_class):
    """From a comic of the instructor's with a cast."""
    cast = make_cast()
    make_world(cast)
    add_member(seat=cast.seat("owner"), username="hollis", roles=["editor"])
    body = {"title": "With a cast", "page_count": 2, "model_board": cast.board.pk, "cast_is_given": True, "set_is_given": True,
            "stages": [{"stage": "pencil", "due_at": "2030-01-01T00:00:00Z"}]}
    made = in_class.client("hollis").post(f"{API}/classes/{in_class.school_class.pk}/assignments", body)
    assert made.status_code == 201
    student = in_class.client(AUTHOR)
    work = student.get(f"{API}/assignments/{made.json()['id']}").json()["own_work"]
    board = f"{API}/boards/{student.get(f'{API}/works/{work}').json()['board']}"
    assert len(student.get(f"{board}/pages").json()["results"]) == 2
    (character,) = student.get(f"{board}/characters").json()["results"]
    assert character["name"] == "Ines"
    assert [one["title"] for one in student.get(f"{board}/references").json()["results"]] == ["The wheel house"]
    assert student.post(f"{board}/characters", {"name": "Mine", "height_m": 1.0}).status_code == 403
    assert student.patch(f"{API}/characters/{character['id']}", {"height_m": 3}, headers={"If-Match": "*"}).status_code == 403


def test_one_note_goes_to_all_who_have_the_finding_once(in_class):
    for name in (AUTHOR, CRITIC):
        measured(in_class.works[name].board)
    criterion = in_class.assignment.criteria.get().pk
    note = {"kind": "stray-edge", "body": "Carry the edge on to the eye level.", "criterion": criterion}
    address = f"{API}/assignments/{in_class.assignment.pk}/shared-notes"
    given = in_class.client("hollis").post(address, note).json()["given"]
    notes = Note.objects.filter(pk__in=given)
    assert {one.board_id for one in notes} == {in_class.works[name].board_id for name in (AUTHOR, CRITIC)}
    assert {(one.criterion_id, str(one.region)) for one in notes} == {(criterion, "{'point': [0.4, 0.4]}")}
    enrol_person(school_class=in_class.school_class, user=in_class.people["nobody"], place="instructor")
    for again in ("hollis", "nobody"):
        assert in_class.client(again).post(address, note).json()["given"] == []


def test_a_page_that_is_opened_is_shown_to_the_class_without_a_name(in_class):
    page = in_class.works[AUTHOR].board.pages.get()
    opening = {"is_open_to_students": True}
    assert in_class.client(AUTHOR).patch(f"{API}/pages/{page.pk}", opening, headers={"If-Match": "*"}).status_code == 403
    assert in_class.client("hollis").patch(f"{API}/pages/{page.pk}", opening, headers={"If-Match": "*"}).status_code == 200
    opened = f"{API}/assignments/{in_class.assignment.pk}/opened-pages"
    (seen,), (known,) = in_class.client(CRITIC).get(opened).json(), in_class.client("hollis").get(opened).json()
    assert (seen["page"], seen["student"], known["page"]) == (None, None, page.pk)
    picture = seen["picture"].replace("1200", "400")
    assert in_class.client(CRITIC).get(picture).status_code == 200
    assert in_class.client(CRITIC).get(f"{API}/pages/{page.pk}").status_code == 404
    handed_in = access_opened_picture(in_class.people[CRITIC], in_class.assignment.pk, 1)[1]
    later = upload(in_class, AUTHOR, 15)
    mark_revision_ready(revision=later)
    assert access_opened_picture(in_class.people[CRITIC], in_class.assignment.pk, 1)[1] == handed_in != later
    in_class.client(AUTHOR).post(f"{API}/works/{in_class.works[AUTHOR].pk}/hand-ins", {"stage": "thumbnail"})
    assert access_opened_picture(in_class.people[CRITIC], in_class.assignment.pk, 1)[1] == later
    in_class.client(AUTHOR).put(f"{API}/revisions/{later.pk}/withdrawal")
    assert access_opened_picture(in_class.people[CRITIC], in_class.assignment.pk, 1)[1] == handed_in


def test_a_critique_is_sent_once_it_helps(in_class):
    critique = f"{API}/critiques/{in_class.critique.pk}"
    critic = in_class.client(CRITIC)
    assert critic.delete(f"{critique}/sending").json()["is_sent"] is False
    change = {"kind": "change", "body": "The hand floats."}
    works = {"kind": "works", "body": "The light."}
    for points, lacks in ([change], "works"), ([works], "to change"), ([works, change], "why"):
        written = critic.put(f"{critique}/points", {"points": points}).json()
        assert lacks in written["lacks"]
        assert critic.put(f"{critique}/sending").status_code == 409
    asks = {"kind": "ask", "body": "Is it night?", "page": 1}
    assert critic.put(f"{critique}/points", {"points": [works, asks]}).json()["lacks"] == ""
    assert critic.put(f"{critique}/sending").json()["is_sent"] is True
    assert critic.put(f"{critique}/sending").json()["is_sent"] is True  # the answer to the first may be lost on its way
    in_class.client("hollis").put(f"{API}/critique-rounds/{in_class.round.pk}/delivery")
    tones = Note.objects.filter(board=in_class.works[AUTHOR].board).values_list("tone", "body", "pen_name")
    assert sorted(tones) == [("ask", "Is it night?", "a classmate"), ("keep", "The light.", "a classmate")]
    assert critic.put(f"{critique}/points", {"points": [works]}).status_code == 409


def test_a_review_sheet_that_is_saved_says_by_alias_whose_it_is(in_class):
    sheet = ready_review_sheet(in_class.board_seat(AUTHOR))
    saved = in_class.client(AUTHOR).get(f"{API}/review-sheets/{sheet.pk}/file")["Content-Disposition"]
    assert f"a-door-opens-{AUTHOR}-alias-review-" in saved


def test_a_critic_is_told_under_what_name_it_is_sent(in_class):
    def told():
        one = in_class.client(CRITIC).get(f"{API}/critiques/{in_class.critique.pk}").json()
        return one["is_anonymous"], one["signed_as"], one["written_by"]

    assert told() == (True, "a classmate", "you")
    CritiqueRound.objects.update(is_anonymous=False)
    assert told() == (False, "marrowby-alias", "you")


def test_an_assignment_is_deleted_with_its_boards_until_somebody_draws_for_it(in_class):
    client = in_class.client("hollis")
    drawn = f"{API}/assignments/{in_class.assignment.pk}"
    assert client.delete(drawn).status_code == 428
    refused = client.delete(drawn, HTTP_IF_MATCH=client.get(drawn)["ETag"])
    assert refused.status_code == 409 and "uploaded drawings" in refused.json()["detail"]
    stages = [{"stage": "thumbnail", "due_at": "2030-01-31T18:00:00Z"}]
    pk = client.post(f"{API}/classes/{in_class.school_class.pk}/assignments", {"title": "Rain", "stages": stages}).json()["id"]
    boards = Board.objects.count()
    empty = f"{API}/assignments/{pk}"
    assert client.delete(empty, HTTP_IF_MATCH=client.get(empty)["ETag"]).status_code == 204
    assert client.get(empty).status_code == 404
    assert Board.objects.count() == boards - len(in_class.works)


def test_pages_that_follow_one_another_can_be_asked_for(in_class):
    hollis, url = in_class.client("hollis"), f"{API}/classes/{in_class.school_class.pk}/assignments"
    fields = {"title": "One long scroll", "is_bound": False, "stages": [{"stage": "pencil", "due_at": "2030-01-01T10:00:00Z"}]}
    made = hollis.post(url, fields, format="json")
    assert made.status_code == 201 and made.json()["is_bound"] is False

    def board():
        return Board.objects.get(work__assignment=made.json()["id"], work__enrolment=in_class.enrolment(AUTHOR))

    assert not board().is_bound
    bound = {"If-Match": f'"{made.json()["version"]}"'}
    answer = hollis.patch(f"{API}/assignments/{made.json()['id']}", {"is_bound": True}, format="json", headers=bound)
    assert answer.status_code == 200 and board().is_bound
    (work,) = Work.objects.filter(board=board())
    assert work_facts(work)["is_bound"] is True and work_facts(work)["trim_mm"] == [148.0, 210.0]


def test_an_assignment_without_a_deadline_is_refused_in_plain_words(in_class):
    address = f"{API}/classes/{in_class.school_class.pk}/assignments"
    answer = in_class.client("hollis").post(address, {"title": "Rain", "stages": []})
    assert answer.status_code == 400 and answer.json()["errors"] == {"stages": ["Give one stage or more its deadline."]}


@pytest.mark.parametrize("year", ["0001", "9999"])
def test_a_date_that_nothing_can_be_added_to_is_refused(in_class, year):
    client, school_class = in_class.client("hollis"), f"{API}/classes/{in_class.school_class.pk}"
    due_at, told = f"{year}-12-31T23:59:00Z", ["The year has to lie between 1900 and 2999."]
    refused = [
        client.post(f"{API}/classes", {"title": "Ink", "ends_on": due_at[:10]}),
        client.patch(school_class, {"ends_on": due_at[:10]}),
        client.post(f"{school_class}/assignments", {"title": "Rain", "stages": [{"stage": "pencil", "due_at": due_at}]}),
        client.post(f"{API}/works/{in_class.works[AUTHOR].pk}/extensions", {"stage": "pencil", "due_at": due_at}),
        client.post(f"{API}/assignments/{in_class.assignment.pk}/critique-rounds",
                    {"stage": "pencil", "each_reads": 1, "due_at": due_at}),
        client.patch(f"{API}/critique-rounds/{in_class.round.pk}", {"due_at": due_at}),
    ]
    assert [answer.status_code for answer in refused] == [400] * 6
    assert all(told in answer.json()["errors"].values() for answer in refused)


def test_a_class_without_an_end_in_sight_is_read_all_the_same(in_class):
    SchoolClass.objects.filter(pk=in_class.school_class.pk).update(ends_on=date.max)
    assert in_class.client("hollis").get(f"{API}/classes").json()["results"][0]["kept_until"] == "9999-12-31"
    in_class.school_class.refresh_from_db()
    assert in_class.school_class.listed_from == date.max


def test_the_end_of_a_round_can_be_moved_until_it_is_delivered(in_class):
    client, url = in_class.client("hollis"), f"{API}/critique-rounds/{in_class.round.pk}"
    moved = client.patch(url, {"due_at": "2030-03-01T18:00:00Z"})
    assert moved.status_code == 200 and client.get(url).json()["due_at"] == "2030-03-01T18:00:00Z"
    client.put(f"{url}/delivery")
    assert client.patch(url, {"due_at": "2030-04-01T18:00:00Z"}).status_code == 409


def test_who_hands_in_after_a_round_was_drawn_is_let_into_it(in_class):
    assignment, round_ = f"{API}/assignments/{in_class.assignment.pk}", f"{API}/critique-rounds/{in_class.round.pk}"
    juniper, teacher = make_person("juniper"), in_class.client("hollis")
    enrol_person(school_class=in_class.school_class, user=juniper, alias="Juniper")
    work = Work.objects.get(enrolment__user=juniper)
    refused = teacher.post(f"{round_}/newcomers", {"work": work.pk})
    assert refused.status_code == 400 and "Nobody handed this stage in" in refused.json()["detail"]
    hand_in(juniper, work, in_class.school_class, 70)
    (waiting,) = teacher.get(round_).json()["left_out"]
    assert waiting == {"work": work.pk, "student": "Juniper"}
    told = teacher.post(f"{round_}/newcomers", {"work": work.pk}).json()
    assert (told["critiques"], told["left_out"]) == (10, [])
    assert teacher.post(f"{round_}/newcomers", {"work": work.pk}).status_code == 409
    critiques = teacher.get(f"{assignment}/critiques").json()["results"]
    assert Counter(one["written_by"] for one in critiques)["Juniper"] == Counter(one["about"] for one in critiques)["Juniper"] == 2
    labels = [(one["written_by"], one["label"]) for one in critiques]
    assert len(set(labels)) == 10 and all(one["pages"][0]["picture"] for one in critiques)
    teacher.put(f"{round_}/delivery")
    late = make_person("late")
    enrol_person(school_class=in_class.school_class, user=late, alias="Late")
    hand_in(late, Work.objects.get(enrolment__user=late), in_class.school_class, 71)
    assert teacher.get(round_).json()["left_out"] == []
    assert teacher.post(f"{round_}/newcomers", {"work": Work.objects.get(enrolment__user=late).pk}).status_code == 409


def test_a_round_that_nobody_wrote_in_can_be_removed(in_class):
    teacher, round_ = in_class.client("hollis"), f"{API}/critique-rounds/{in_class.round.pk}"
    refused = teacher.delete(round_)
    assert refused.status_code == 409 and "1 critique is begun already" in refused.json()["detail"]
    body = {"stage": "thumbnail", "each_reads": 1, "due_at": "2030-01-01T00:00:00Z"}
    second = teacher.post(f"{API}/assignments/{in_class.assignment.pk}/critique-rounds", body).json()
    mine = in_class.client(CRITIC).get(f"{API}/assignments/{in_class.assignment.pk}/critiques").json()["results"]
    assert sorted(one["label"] for one in mine) == ["Work 1", "Work 2", "Work 3"]
    assert teacher.delete(f"{API}/critique-rounds/{second['id']}").status_code == 204
    assert teacher.get(f"{API}/critique-rounds/{second['id']}").status_code == 404
    assert len(in_class.client(CRITIC).get(f"{API}/assignments/{in_class.assignment.pk}/critiques").json()["results"]) == 2


def test_a_critic_no_longer_sees_a_picture_that_was_taken_back(in_class):
    url = f"{API}/critiques/{in_class.critique.pk}"
    critic, instructor = in_class.client(CRITIC), in_class.client("hollis")
    picture = critic.get(url).json()["pages"][0]["picture"].replace("1200", "400")
    assert critic.get(picture).status_code == 200
    revision = in_class.works[AUTHOR].board.pages.get().revisions.last()
    in_class.client(AUTHOR).put(f"{API}/revisions/{revision.pk}/withdrawal")
    (as_critic,), (as_instructor,) = (client.get(url).json()["pages"] for client in (critic, instructor))
    assert as_critic["is_withdrawn"] and as_critic["picture"] is None
    assert as_instructor["is_withdrawn"] and as_instructor["picture"].replace("1200", "400") == picture
    assert [client.get(picture).status_code for client in (critic, instructor)] == [404, 200]


def test_a_grid_tells_no_measured_eye_level_before_its_time(in_class):
    """The instructor's underlay holds what was measured, and is theirs alone; the student's says that it is shown later."""
    board = in_class.works[AUTHOR].board
    revision = board.pages.get().revisions.get()
    (shape,) = record_panels(revision=revision, found=[{"polygon": SQUARE, "framed": True}])
    numbers = {"panels": [{"panel": shape.panel_id, "eye_level": [[0, 0.4], [1, 0.4]], "vanishing_points": [], "focal_px": None}]}
    Job.objects.update_or_create(
        revision=revision, kind="check", check_id="perspective",
        defaults={"board": board, "key": "perspective", "state": "done", "numbers": numbers, "queued_at": timezone.now()},
    )
    change_assignment(
        seat=in_class.seat("hollis"), assignment=in_class.assignment, expected_version=None, measured_shown="to-instructor"
    )
    told, seen = {}, []
    for name in ("hollis", AUTHOR):
        pk = in_class.client(name).post(f"{API}/revisions/{revision.pk}/underlays", {"includes": ["grid"]}).json()["id"]
        told[name] = Job.objects.get(underlay=pk).inputs["panels"][0]
        seen.append(in_class.client(AUTHOR).get(f"{API}/underlays/{pk}").status_code)
    assert seen == [404, 200]
    assert told["hollis"]["numbers"]["eye_level"] == [[0, 0.4], [1, 0.4]]
    assert told[AUTHOR]["numbers"] is None and "not shown to you yet" in told[AUTHOR]["reason"]
