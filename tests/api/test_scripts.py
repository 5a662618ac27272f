"""A script taken over: pages with their panels before anything is drawn, and words for those that are there."""

import pytest

from board.actions.panels import record_panels
from board.models import Event, Page, Panel
from tests.api.world import SQUARE, ready_revision

SCRIPT = """Page 1
Night at the quay.
Panel 1
Rain.
PIM: Mind the edge!
Panel 2
The mill.
Pages 3-4
One picture.
"""


@pytest.fixture
def take(cast, client_of):
    def take(text: str = SCRIPT, person: str = "editor", **fields):
        return client_of(person).post(f"/api/v1/boards/{cast.board.pk}/scripts", {"text": text, **fields})

    return take


@pytest.fixture
def look(cast, client_of):
    return lambda text: client_of("editor").post(f"/api/v1/boards/{cast.board.pk}/script-previews", {"text": text})


def words_on(page: Page) -> list[tuple[int, str, str]]:
    return list(Panel.objects.filter(page=page, is_gone=False).values_list("order", "happens", "said"))


def test_a_look_says_what_would_become_of_each_page_and_writes_nothing(cast, look):
    Page.objects.filter(pk=cast.own_page.pk).update(happens="Written.")
    preview = look("A title\n" + SCRIPT.replace("Pages 3-4", "Page 2\nPages 3-4")).json()
    assert [(page["numbers"], page["does"], len(page["panels"])) for page in preview["pages"]] == [
        ([1], "write", 2), ([2], "written", 0), ([3, 4], "add", 0)]
    assert (preview["before"], preview["faults"]) == (["A title"], 0)
    assert Page.objects.count() == 2 and not Panel.objects.exists()


def test_pages_that_are_not_here_are_made_with_their_panels(cast, take):
    assert take().json() == {"added": 1, "written": 1}
    spread = Page.objects.get(number=3)
    assert (spread.is_spread, spread.happens) == (True, "One picture.")
    page = Page.objects.get(number=1)
    assert (page.happens, page.said) == ("Night at the quay.", "")
    assert words_on(page) == [(1, "Rain.", "PIM: Mind the edge!"), (2, "The mill.", "")]
    assert Event.objects.filter(kind="script-taken-over").count() == 1


def test_the_first_picture_claims_the_panels_in_order(cast, take):
    take()
    page = Page.objects.get(number=1)
    revision = ready_revision(cast, page)
    below = [[x, y / 2 + 0.5] for x, y in SQUARE]
    above = [[x, y / 2] for x, y in SQUARE]
    record_panels(revision=revision, found=[{"polygon": above}, {"polygon": below}])
    assert words_on(page) == [(1, "Rain.", "PIM: Mind the edge!"), (2, "The mill.", "")]


def test_words_that_are_there_stay_unless_they_are_to_give_way(cast, take):
    Page.objects.filter(pk=cast.page.pk).update(happens="My own.")
    assert take().json() == {"added": 1, "written": 0}
    assert Page.objects.get(number=1).happens == "My own."
    assert take(replaces=True).json() == {"added": 0, "written": 2}
    assert Page.objects.get(number=1).happens == "Night at the quay."


def test_what_a_drawn_page_has_no_panel_for_stands_with_the_words_of_the_page(cast, take):
    record_panels(revision=ready_revision(cast, cast.page), found=[{"polygon": SQUARE}])
    take()
    page = Page.objects.get(number=1)
    assert words_on(page) == [(1, "Rain.", "PIM: Mind the edge!")]
    assert page.happens == "Night at the quay.\nPanel 2: The mill."


@pytest.mark.parametrize(("text", "words"), [
    ("No pages.", "No line begins a page"), ("Page 1\nPage 1", "line 2 already"), ("Pages 2-3", "page 2 instead"),
])
def test_what_cannot_be_taken_over_is_not_taken_in_part(cast, take, text, words):
    answer = take(f"Page 9\n{text}" if text.startswith("Page") else text)
    assert answer.status_code == 400 and words in answer.content.decode()
    assert Page.objects.count() == 2


def test_a_page_that_was_written_tells_who_read_it_before(cast, client_of, take):
    version = client_of("editor").get(f"/api/v1/pages/{cast.page.pk}").json()["version"]
    take()
    stale = client_of("editor").patch(f"/api/v1/pages/{cast.page.pk}", {"happens": "Late."}, headers={"If-Match": f'"{version}"'})
    assert stale.status_code == 412
