import pytest

from board.actions.measuring import queue_ready_checks
from board.check_registry import CHECKS
from board.models import Board, Job, Note

ALL = "/api/v1/boards"


def test_ones_boards_are_listed_with_what_one_may_do_there(cast, client_of):
    (row,) = client_of("artist").get(ALL).json()["results"]
    assert (row["title"], row["roles"]) == ("The tide mill", ["artist"])
    assert row["may"]["draw"] and not row["may"]["review"]


def test_an_outsider_sees_no_board(cast, client_of):
    assert client_of("outsider").get(ALL).json()["results"] == []
    assert client_of("outsider").get(f"{ALL}/{cast.board.pk}").status_code == 404


def test_who_makes_a_board_is_its_artist_and_editor(cast, client_of):
    answer = client_of("outsider").post(ALL, {"title": "Salt road", "reading": "rtl"})
    assert answer.status_code == 201
    assert sorted(answer.json()["roles"]) == ["artist", "editor"]
    assert Board.objects.get(title="Salt road").reading == "rtl"


def test_the_format_is_changed_by_those_who_run_the_board(cast, client_of):
    url = f"{ALL}/{cast.board.pk}"
    assert client_of("editor").patch(url, {"trim_width_mm": 182, "trim_height_mm": 257}).json()["trim_width_mm"] == 182
    assert client_of("editor").patch(url, {"is_bound": False}).json()["is_bound"] is False
    assert client_of("reader").patch(url, {"trim_width_mm": 100}).status_code == 403


@pytest.mark.parametrize("fields", [{"trim_width_mm": 0}, {"safe_mm": 90}, {"reading": "up"}, {"title": ""}])
def test_a_format_that_cannot_be_printed_is_refused(cast, client_of, fields):
    answer = client_of("owner").patch(f"{ALL}/{cast.board.pk}", fields)
    assert answer.status_code == 400
    assert answer["Content-Type"] == "application/problem+json"


def test_a_tolerance_of_ones_own_queues_the_check_that_uses_it(world, client_of):
    queue_ready_checks(revision=world.artists.revision)
    before = Job.objects.get(revision=world.artists.revision, check_id="perspective").digest
    tolerances = {"perspective": {"stray_edge_deg": 7.5}}
    assert client_of("owner").patch(f"{ALL}/{world.cast.board.pk}", {"own_tolerances": tolerances}).status_code == 200
    assert Job.objects.get(revision=world.artists.revision, check_id="perspective").digest != before


@pytest.mark.parametrize("tolerances", [{"astrology": {"stray_edge_deg": 1}}, {"perspective": {"unknown": 1}}, {"perspective": 3}])
def test_a_tolerance_that_no_check_has_is_refused(cast, client_of, tolerances):
    assert client_of("owner").patch(f"{ALL}/{cast.board.pk}", {"own_tolerances": tolerances}).status_code == 400


def measured_note(world, state: str) -> Note:
    kind = {"check_id": "print-size", "finding_kind": "resolution-low"}
    return Note.objects.create(board=world.cast.board, page=world.artists.page, tone="try", state=state, **kind)


def test_what_a_check_said_that_is_turned_off_is_gone_and_what_people_said_of_it_stays(world, client_of):
    told, stet = measured_note(world, "open"), measured_note(world, "stet")
    answer = client_of("editor").patch(f"{ALL}/{world.cast.board.pk}", {"checks": ["heights"]})
    assert set(answer.json()["checks"]) == {"panels", "perspective", "heights"}  # heights build on the other two
    assert [Note.objects.get(pk=one.pk).state for one in (told, stet, world.artists.note)] == ["gone", "stet", "open"]


def test_a_check_that_is_turned_on_again_measures_though_nothing_else_changed(world, client_of):
    url, client = f"{ALL}/{world.cast.board.pk}", client_of("editor")
    queue_ready_checks(revision=world.artists.revision)
    jobs = Job.objects.filter(revision=world.artists.revision, kind="check")
    jobs.update(state="done")
    assert client.patch(url, {"checks": ["panels"]}).status_code == 200
    assert set(jobs.values_list("state", flat=True)) == {"done"}
    assert client.patch(url, {"checks": None}).json()["checks"] == list(CHECKS)
    assert jobs.get(check_id="perspective").state == "queued"


def test_a_board_that_is_put_away_stands_behind_the_others_and_is_as_it_was(cast, client_of):
    url, client = f"{ALL}/{cast.board.pk}", client_of("editor")
    assert client.patch(url, {"put_away": True}).json()["put_away_at"]
    page = client.get("/boards").content.decode()
    assert "Put away: 1 board" in page and "board-row" not in page and "The tide mill" in page
    assert client.get(f"/boards/{cast.board.pk}").status_code == 200
    assert client.patch(url, {"put_away": False}).json()["put_away_at"] is None
    assert "Put away" not in client.get("/boards").content.decode()


def test_a_board_of_an_assignment_has_all_that_from_there(cast, client_of):
    Board.objects.update(is_assigned=True)
    assert client_of("editor").patch(f"{ALL}/{cast.board.pk}", {"title": "Another"}).status_code == 403
