"""Screens of a class open for those who may see what is on them, and for nobody else."""

import re
from datetime import date, timedelta

import pytest
from django.utils import timezone

from board.actions.critiques import deliver_round
from board.actions.invitations import secret_of
from board.models import SchoolClass
from tests.api.class_world import AUTHOR, CRITIC

ALL_OF_CLASS = {AUTHOR: 200, CRITIC: 200, "hollis": 200, "elsewhere": 404, "nobody": 404}
OWN = {AUTHOR: 200, CRITIC: 404, "hollis": 200, "elsewhere": 404, "nobody": 404}


@pytest.mark.parametrize(
    ("noun", "expected"),
    [("classes", ALL_OF_CLASS), ("assignments", ALL_OF_CLASS), ("hand-ins", OWN), ("progress", OWN),
     ("critiques", {**OWN, AUTHOR: 404, CRITIC: 200})],
)
def test_a_screen_opens_for_whom_it_is(in_class, noun, expected):
    path = {
        "classes": f"/classes/{in_class.school_class.pk}", "assignments": f"/assignments/{in_class.assignment.pk}",
        "hand-ins": f"/hand-ins/{in_class.hand_in.pk}", "critiques": f"/critiques/{in_class.critique.pk}",
        "progress": f"/enrolments/{in_class.enrolment(AUTHOR).pk}/progress",
    }[noun]
    assert {name: in_class.client(name).get(path).status_code for name in expected} == expected
    assert in_class.client("anonymous").get(path).status_code == 302


def test_a_critique_opens_for_whose_work_it_is_about_once_it_is_delivered(in_class):
    deliver_round(opened=in_class.round)
    answer = in_class.client(AUTHOR).get(f"/critiques/{in_class.critique.pk}")
    assert answer.status_code == 200 and b"Critique of your work" in answer.content


def test_whoever_has_a_link_sees_where_it_leads(in_class):
    assert b"Choose a password" in in_class.client("anonymous").get("/join").content
    assert b"signed in as" in in_class.client("nobody").get("/join").content


def test_a_board_leads_back_to_its_assignment(in_class):
    board = in_class.works[AUTHOR].board
    for path in (f"/boards/{board.pk}", f"/pages/{board.pages.get().pk}"):
        assert f"/assignments/{in_class.assignment.pk}".encode() in in_class.client(AUTHOR).get(path).content


def test_a_student_is_offered_no_page_more_than_was_set(in_class):
    wall = f"/boards/{in_class.works[AUTHOR].board_id}"
    offered = {name: b'"add_pages": true' in in_class.client(name).get(wall).content for name in (AUTHOR, "hollis")}
    assert offered == {AUTHOR: False, "hollis": True}


def test_the_list_of_classes_counts_all_students(in_class):
    words = words_of(in_class.client("hollis").get("/classes"))
    assert "3 students" in words and "1 assignment " in words


def test_a_student_reads_the_next_deadline_on_their_boards_and_finds_the_way_to_the_assignment(in_class):
    client, board = in_class.client(AUTHOR), in_class.works[AUTHOR].board
    screens = ("/boards", f"/boards/{board.pk}")
    assert not any("for the assignment" in words_of(client.get(screen)) for screen in screens)  # all is handed in
    later = timezone.now() + timedelta(days=5)
    in_class.assignment.stages.create(stage="pencil", due_at=later - timedelta(days=2))
    in_class.works[AUTHOR].extensions.create(stage="pencil", due_at=later)
    for screen in screens:
        answer = client.get(screen)
        assert f"Pencil due {later:%-d %b %Y, %H:%M} for the assignment A door opens" in words_of(answer)
        assert f'href="/assignments/{in_class.assignment.pk}"'.encode() in answer.content
    desk = client.get(f"/pages/{board.pages.get().pk}").content
    assert f'"assignment": {in_class.assignment.pk}'.encode() in desk
    wall = client.get(f"/boards/{board.pk}").content
    assert all(b'"next_stage": "pencil"' in screen for screen in (desk, wall))  # for which a picture is uploaded next
    SchoolClass.objects.update(ends_on=date(2026, 1, 20))
    assert not any("for the assignment" in words_of(client.get(screen)) for screen in screens)  # nothing is waited for any more


def test_a_class_whose_last_day_is_past_says_so_and_takes_nothing_new(in_class):
    teacher, number = in_class.client("hollis"), in_class.school_class.pk
    screens = ("/classes", f"/classes/{number}")
    assert not any("Over since" in words_of(teacher.get(screen)) for screen in screens)
    SchoolClass.objects.filter(pk=number).update(ends_on=date(2026, 1, 20), kept_days=0)
    for screen in screens:
        told = "Over since 20 Jan 2026; what its students made is listed for deletion since 21 Jan 2026."
        assert told in words_of(teacher.get(screen))
    stages = [{"stage": "thumbnail", "due_at": timezone.now() + timedelta(days=9)}]
    for path, body in (("invitations", {"uses": 3}), ("assignments", {"title": "More", "stages": stages})):
        answer = teacher.post(f"/api/v1/classes/{number}/{path}", body, format="json")
        assert answer.status_code == 409 and "20 January 2026" in answer.json()["detail"]
    late = in_class.client("nobody").post("/api/v1/invitation-acceptances", {"secret": secret_of(in_class.invitation)})
    assert late.status_code == 409


def words_of(answer) -> str:
    """What is read on the screen."""
    return " ".join(re.sub(r"<[^>]+>", " ", answer.content.decode()).split())
