"""A comic's pace: by REST and on its screen, as one may see it."""

import pytest

from board.actions.page_order import lay_aside
from board.actions.pages import add_page
from board.actions.panels import record_panels
from board.models import Board, Job, Panel, PanelShape, Revision
from board.models.job import DONE
from tests.api.class_world import AUTHOR
from tests.api.world import SQUARE, ready_revision

LEVEL = [[0.1, 0.3], [0.9, 0.3]]


@pytest.fixture
def pace_for(world, client_of):
    """`pace_for("editor")`: what the board's pace is for that person."""

    def read(who: str) -> dict:
        answer = client_of(who).get(f"/api/v1/boards/{world.cast.board.pk}/pace")
        assert answer.status_code == 200
        return answer.json()

    return read


@pytest.fixture
def screen_for(world, client_of):
    def read(who: str) -> str:
        answer = client_of(who).get(f"/boards/{world.cast.board.pk}/pace")
        assert answer.status_code == 200
        return answer.content.decode()

    return read


def measure_level(revision: Revision) -> None:
    """The check of perspective told the eye level of all panels."""
    rows = [{"panel": shape.panel_id, "eye_level": LEVEL} for shape in revision.shapes.all()]
    Job.objects.update_or_create(key=f"check/perspective/revision/{revision.pk}", defaults={
        "board": revision.page.board, "kind": "check", "check_id": "perspective", "revision": revision, "state": DONE,
        "numbers": {"panels": rows}, "digest": "", "queued_at": revision.uploaded_at})


def levels(pace: dict) -> list:
    return [panel["eye_level"] for page in pace["pages"] for panel in page["panels"]]


def test_it_opens_for_members_alone(world, client_of):
    for path, anonymous in ((f"/boards/{world.cast.board.pk}/pace", 302), (f"/api/v1/boards/{world.cast.board.pk}/pace", 401)):
        people = ("owner", "editor", "reader", "student", "instructor", "outsider", "anonymous")
        assert [client_of(name).get(path).status_code for name in people] == [200] * 5 + [404, anonymous]


def test_numbers_of_pages_panels_and_turns(world, pace_for):
    Panel.objects.filter(pk=world.artists.panel.pk).update(said="INES: Shut the sluice!\nOLD WENNA: It's stuck.")
    pace = pace_for("editor")
    first, second = pace["pages"]
    assert (first["numbers"], first["words"], first["is_drawn"]) == ([1], 5, True)
    panel = first["panels"][0]
    assert (panel["id"], panel["lines"]) == (world.artists.panel.pk, [3, 2])
    # The square is 0.8 wide and high; the figure in it was marked from 0.3 to 0.8.
    assert panel["share"] == pytest.approx(0.64) and panel["figure"] == pytest.approx(0.625)
    assert (pace["page_count"], pace["panel_count"], pace["words"], pace["median_words"]) == (2, 2, 5, 5)
    assert pace["reading_time"]["fiction_seconds"] == pytest.approx(60 * 5 / 260)
    assert pace["openings"][1] == {"gap": None, "leaves": [{"number": 2, "page": second["id"]}, {"number": None, "page": None}]}
    assert pace["turns"] == [{"before": {"page": first["id"], "panel": panel["id"]},
                              "after": {"page": second["id"], "panel": world.students.panel.pk}}]


def test_the_screen_tells_the_same(world, screen_for):
    Panel.objects.filter(pk=world.artists.panel.pk).update(said=" ".join(["tide"] * 51))
    words = screen_for("reader")
    assert "2 pages, 2 panels, 51 words" in words and "less than a minute" in words
    assert f'href="/pages/{world.artists.page.pk}"' in words and 'points="10,' in words
    assert "Panel 1 of page 1 has 51 words; a rule of thumb is 50 at most in a panel." in words
    assert 'dir="ltr"' in words and " style=" not in words


def test_eye_levels_are_told_where_they_were_measured(world, pace_for):
    assert levels(pace_for("editor")) == [None, None]
    measure_level(world.artists.revision)
    assert levels(pace_for("editor")) == [pytest.approx(0.25), None]
    Job.objects.filter(check_id="perspective").update(state="queued")  # it is being measured anew
    assert levels(pace_for("editor")) == [None, None]


def test_an_eye_level_set_by_hand_is_told_without_the_check(world, pace_for):
    given = {"eye_level": [[0.1, 0.5], [0.9, 0.5]], "bounds": [0.1, 0.1, 0.9, 0.9]}
    Panel.objects.filter(pk=world.artists.panel.pk).update(given_perspective=given)
    assert levels(pace_for("editor")) == [pytest.approx(0.5), None]


@pytest.mark.parametrize(("shown", "handed_in", "before"), [("at-once", 1, 1), ("after-hand-in", 1, 0), ("to-instructor", 0, 0)])
def test_a_student_reads_what_was_measured_when_the_assignment_says(in_class, shown, handed_in, before):
    board = in_class.works[AUTHOR].board
    revision = board.pages.get().revisions.get()
    record_panels(revision=revision, found=[{"polygon": SQUARE, "framed": True}])
    measure_level(revision)
    Board.objects.filter(pk=board.pk).update(measured_shown=shown)

    def seen_by(name: str) -> int:
        return sum(level is not None for level in levels(in_class.client(name).get(f"/api/v1/boards/{board.pk}/pace").json()))

    assert (seen_by(AUTHOR), seen_by("hollis")) == (handed_in, 1)
    in_class.works[AUTHOR].hand_ins.all().delete()
    assert (seen_by(AUTHOR), seen_by("hollis")) == (before, 1)


def test_students_see_their_own_pages_and_what_was_opened(world, pace_for, screen_for):
    assert [page["numbers"] for page in pace_for("student")["pages"]] == [[2]]
    assert "Page 2<" in screen_for("student") and "Page 1<" not in screen_for("student")


def test_a_page_laid_aside_is_out(world, pace_for):
    lay_aside(seat=world.cast.seat("editor"), page=world.artists.page, expected_version=None)
    assert [page["numbers"] for page in pace_for("editor")["pages"]] == [[1]]


def test_right_to_left_the_row_runs_the_other_way_and_the_order_stays(world, pace_for, screen_for):
    before = pace_for("editor")
    Board.objects.update(reading="rtl")
    assert pace_for("editor") == {**before, "reading": "rtl"}
    assert '<ol class="pace-row" dir="rtl">' in screen_for("editor")


def test_unbound_nothing_faces_and_no_page_turns(pace_for, screen_for):
    assert "The page turns" in screen_for("editor")
    Board.objects.update(is_bound=False)
    pace = pace_for("editor")
    assert [len(opening["leaves"]) for opening in pace["openings"]] == [1] * len(pace["pages"]) and pace["turns"] == []
    assert "page turns" not in screen_for("editor")


def test_panels_are_counted_before_they_are_drawn(world, pace_for, screen_for):
    page = add_page(seat=world.cast.seat("editor"), number=4, is_spread=True)
    Panel.objects.bulk_create(Panel(page=page, order=order, said="Hold!") for order in (1, 2, 3))
    spread = pace_for("editor")["pages"][-1]
    assert (spread["is_drawn"], spread["words"], spread["largest_share"]) == (False, 3, None)
    assert [panel["share"] for panel in spread["panels"]] == [None] * 3
    words = screen_for("editor")
    assert ">3 panels</text>" in words and "Page 4-5<" in words and "Page 3 is not here" in words


def test_a_panel_that_the_picture_no_longer_has_is_left_out(world, pace_for):
    revision = ready_revision(world.cast, world.artists.page, "artist", shade=77)
    record_panels(revision=revision, found=[{"polygon": SQUARE, "framed": True}])
    Panel.objects.create(page=world.artists.page, order=5, is_gone=True)
    Panel.objects.create(page=world.artists.page, order=6, said="Written, not drawn.")
    panels = pace_for("editor")["pages"][0]["panels"]
    assert [(panel["share"] is None, panel["words"]) for panel in panels] == [(False, 0), (True, 3)]


def test_a_board_without_pages_says_so(cast, client_of):
    cast.board.pages.all().delete()
    client = client_of("reader")
    assert client.get(f"/api/v1/boards/{cast.board.pk}/pace").json()["pages"] == []
    told = {who: client_of(who).get(f"/boards/{cast.board.pk}/pace").content.decode() for who in ("reader", "owner")}
    assert all("No pages yet" in words for words in told.values())
    # Nobody is told to do what they may not do.
    assert "Nobody has added a page yet" in told["reader"] and "Bring in a" not in told["reader"]
    assert "Bring in a" in told["owner"]


def test_thirty_pages_cost_as_many_queries_as_three(world, client_of, django_assert_num_queries):
    client, path = client_of("owner"), f"/api/v1/boards/{world.cast.board.pk}/pace"
    drawn_page(world, 3)
    with django_assert_num_queries(12):
        client.get(path)
    for number in range(4, 31):
        drawn_page(world, number)
    with django_assert_num_queries(12):
        assert client.get(path).json()["panel_count"] == 30


def drawn_page(world, number: int) -> None:
    page = add_page(seat=world.cast.seat("editor"), number=number)
    revision = page.revisions.create(number=1, stage=page.stage, state="ready", picture=world.artists.revision.picture)
    PanelShape.objects.create(panel=page.panels.create(order=1), revision=revision, order=1, polygon=SQUARE)
