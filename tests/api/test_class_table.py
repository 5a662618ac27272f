"""The instructor's table: what it counts, how it is saved, and that it opens for a large class at once."""

import csv
from io import StringIO

import pytest
from django.utils import timezone
from rest_framework.test import APIClient

from board.actions.rubric_marks import mark_work
from board.models import Enrolment, Note
from tests.api.big_class import make_big_class
from tests.api.class_world import AUTHOR, CRITIC
from tests.api.lasting import lasting

API = "/api/v1"
MOST_QUERIES = 12


def note_on(world, name: str, **fields) -> Note:
    board = world.works[name].board
    return Note.objects.create(board=board, page=board.pages.get(), scope="page", body="x", **fields)


@pytest.fixture
def rows(in_class):
    for name, kinds in ((AUTHOR, ("stray-edge", "stray-edge", "upright-lean")), (CRITIC, ("stray-edge",))):
        for kind in kinds:
            note_on(in_class, name, check_id="perspective", finding_kind=kind)
    note_on(in_class, AUTHOR)
    note_on(in_class, AUTHOR, state="settled")
    note_on(in_class, AUTHOR, tone="keep")  # praise, and nothing to do
    note_on(in_class, AUTHOR, check_id="reuse", finding_kind="reuse-found", tone="keep")  # good to know, and no fault
    criterion = in_class.assignment.criteria.get().pk
    mark_work(seat=in_class.seat("hollis"), work=in_class.works[AUTHOR], marks=[{"criterion": criterion, "level": 2}])
    return in_class.client("hollis").get(f"{API}/assignments/{in_class.assignment.pk}/table").json()


def test_the_table_counts_what_is_open(in_class, rows):
    author, critic, third = rows["rows"]
    assert author["findings"] == {"stray-edge": 2, "upright-lean": 1} and author["open_notes"] == 1
    assert (critic["findings"], third["findings"]) == ({"stray-edge": 1}, {})
    assert author["marks"] == {str(in_class.assignment.criteria.get().pk): 2} and author["minutes_spent"] == 45
    assert author["stages"][0]["is_extended"] and author["stages"][0]["hand_in"] == in_class.hand_in.pk


def test_common_faults_count_students_not_notes(rows):
    told = [(one["kind"], one["students"], one["findings"]) for one in rows["common_faults"]]
    assert told == [("stray-edge", 2, 3), ("upright-lean", 1, 1)]
    assert rows["common_faults"][0]["principle"].endswith("principles/stray-edge.svg")


def test_the_file_says_the_same_and_runs_nothing(in_class, rows):
    Enrolment.objects.filter(pk=in_class.enrolment(AUTHOR).pk).update(alias='=HYPERLINK("//x")')
    answer = in_class.client("hollis").get(f"{API}/assignments/{in_class.assignment.pk}/table-file")
    day = timezone.localdate()
    assert answer["Content-Disposition"] == f'attachment; filename="drawing-the-page-a-door-opens-{day}.csv"'
    head, author, *others = csv.reader(StringIO(answer.content.decode("utf-8-sig"), newline=""))
    assert author[0] == '\'=HYPERLINK("//x")'
    told = dict(zip(head, author, strict=True))
    assert (told["Edge off its vanishing point"], told["Perspective"], told["minutes spent"]) == ("2", "there", "45")
    assert (told["findings"], told["open notes"]) == ("3", "1")


def test_a_word_on_a_criterion_stands_in_the_table_the_progress_and_the_file_also_without_a_level(in_class):
    pk = in_class.assignment.criteria.get().pk
    mark_work(seat=in_class.seat("hollis"), work=in_class.works[AUTHOR], marks=[{"criterion": pk, "comment": "=See me"}])
    teacher, table = in_class.client("hollis"), f"{API}/assignments/{in_class.assignment.pk}/table"
    progress = f"{API}/enrolments/{in_class.enrolment(AUTHOR).pk}/progress"
    told = [teacher.get(address).json()["rows"][0] for address in (table, progress)]
    assert [(row["marks"], row["comments"]) for row in told] == [({}, {str(pk): "=See me"})] * 2
    file = teacher.get(f"{table}-file?by=criterion-{pk}&down=true").content.decode("utf-8-sig")
    rows = {row["student"]: row for row in csv.DictReader(StringIO(file, newline=""))}
    assert [rows["quillon-alias"][name] for name in ("Perspective", "Perspective: a word")] == ["", "'=See me"]


def test_the_files_rows_stand_by_name_and_a_time_that_nobody_told_is_left_empty(in_class):
    Enrolment.objects.filter(pk=in_class.enrolment(CRITIC).pk).update(alias="Zander")
    Enrolment.objects.filter(pk=in_class.enrolment("tamsin").pk).update(alias="brindle")
    in_class.works[CRITIC].board.pages.get().revisions.update(minutes_spent=None)
    answer = in_class.client("hollis").get(f"{API}/assignments/{in_class.assignment.pk}/table-file")
    rows = list(csv.DictReader(StringIO(answer.content.decode("utf-8-sig"), newline="")))
    told = [(row["student"], row["minutes spent"], row["findings"]) for row in rows]
    assert told == [("brindle", "45", "0"), ("quillon-alias", "45", "0"), ("Zander", "", "0")]


def test_the_files_rows_stand_by_the_column_that_the_screen_stands_by(in_class, rows):
    criterion = in_class.assignment.criteria.get().pk
    in_class.works[CRITIC].hand_ins.all().delete()

    def order(asked: str) -> list[str]:
        answer = in_class.client("hollis").get(f"{API}/assignments/{in_class.assignment.pk}/table-file?{asked}")
        assert answer.status_code == 200
        return [line[0] for line in list(csv.reader(StringIO(answer.content.decode("utf-8-sig"), newline="")))[1:]]

    author, critic, third = (f"{name}-alias" for name in (AUTHOR, CRITIC, "tamsin"))
    assert order("down=true") == [third, author, critic]
    assert order("by=findings&down=true") == [author, critic, third]
    assert order("by=minutes") == [critic, author, third]  # the same for all: by name
    assert order(f"by=criterion-{criterion}") == [critic, third, author]
    assert order("by=stage-thumbnail") == [author, third, critic]  # who has not handed in comes last
    refused = in_class.client("hollis").get(f"{API}/assignments/{in_class.assignment.pk}/table-file?by=criterion-0")
    assert refused.status_code == 400 and "is not one of student, findings" in refused.json()["errors"]["by"][0]


@pytest.fixture(scope="module")
def big_class(django_db_setup, django_db_blocker, tmp_path_factory):
    folder = tmp_path_factory.mktemp("files")
    with lasting(lambda: make_big_class(students=200, assignments=5, pages=4), django_db_blocker, folder) as made:
        yield made


def test_a_class_of_200_opens_its_table_in_few_queries(big_class, db, django_assert_max_num_queries):
    instructor, one_class = big_class
    client = APIClient()
    client.force_login(instructor)
    assignment, student = one_class.assignments.last(), one_class.enrolments.last()
    for address, count in ((f"assignments/{assignment.pk}/table", 200), (f"enrolments/{student.pk}/progress", 5)):
        with django_assert_max_num_queries(MOST_QUERIES):
            rows = client.get(f"{API}/{address}").json()["rows"]
        assert len(rows) == count
        assert all(sum(row["findings"].values()) == 4 and row["minutes_spent"] == 120 and row["marks"] for row in rows)
    with django_assert_max_num_queries(MOST_QUERIES):
        assert client.get(f"{API}/assignments/{assignment.pk}/table-file").content.count(b"\r\n") == 201
    with django_assert_max_num_queries(MOST_QUERIES):
        assert client.get(f"/classes/{one_class.pk}").status_code == 200
