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
    assert take(replaces=True).json() == {"added": 0, "written": 1}  # the spread has the script's words already
    assert Page.objects.get(number=1).happens == "Night at the quay."


def test_a_script_that_is_brought_back_tells_which_pages_were_written_on_meanwhile(cast, client_of, take, look):
    take()
    text = client_of("editor").get(f"/api/v1/boards/{cast.board.pk}/script").content.decode()
    assert {page["does"] for page in look(text).json()["pages"]} == {"same"}
    Panel.objects.filter(page=cast.page, order=2).update(said="ODDA: Written since.")
    assert {page["numbers"][0]: page["does"] for page in look(text).json()["pages"]} == {1: "written", 2: "same", 3: "same"}


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


FIVE = "Page 1\nThe quay.\n" + "".join(f"Panel {number}\nWords {number}.\nPIM: {number}!\n" for number in range(1, 6))


def told_of(preview) -> list[tuple[str, list[str]]]:
    return [(page["does"], page["told"]) for page in preview.json()["pages"]]


def test_a_panel_alone_gets_its_words_and_all_others_stay(cast, take, look):
    take(FIVE)
    alone = "Page 1\nPanel 3\nThe window only."
    assert told_of(look(alone)) == [("written", ["Panel 3 gets these words.", "Panels 1, 2, 4 and 5 stay as they are."])]
    assert take(alone).json() == {"added": 0, "written": 0}
    assert take(alone, replaces=True).json() == {"added": 0, "written": 1}
    assert words_on(cast.page) == [(number, *(("The window only.", "") if number == 3 else (f"Words {number}.", f"PIM: {number}!")))
                                   for number in range(1, 6)]
    cast.page.refresh_from_db()
    assert cast.page.happens == "The quay."
    assert told_of(look(alone))[0][0] == "same"
    take("Page 1\nPanel 1\nOnly this.", replaces=True)
    cast.page.refresh_from_db()
    assert (cast.page.happens, words_on(cast.page)[0]) == ("The quay.", (1, "Only this.", ""))


def test_words_for_a_panel_that_has_none_replace_nothing(cast, take, look):
    take("Page 1\nPanel 1\nA\nPanel 2\nPanel 3\nC")
    assert told_of(look("Page 1\nPanel 2\nB"))[0][0] == "write"
    take("Page 1\nPanel 2\nB")
    assert words_on(cast.page) == [(1, "A", ""), (2, "B", ""), (3, "C", "")]


def test_panels_out_of_order_go_by_their_numbers(cast, take, look):
    text = "Page 1\nPanel 2\nSecond.\nPanel 1\nFirst."
    assert told_of(look(text)) == [("write", ["The panels stand in the order 2 and 1; each goes by its number."])]
    take(text)
    assert words_on(cast.page) == [(1, "First.", ""), (2, "Second.", "")]


def test_a_panel_that_is_left_out_of_a_new_page_is_made_without_words(take, look):
    text = "Page 9\nPanel 1\nA\nPanel 3\nC"
    assert told_of(look(text)) == [("add", ["Panel 2 is made without words."])]
    take(text)
    assert words_on(Page.objects.get(number=9)) == [(1, "A", ""), (2, "", ""), (3, "C", "")]


def test_what_stands_beside_a_drawing_is_named_by_its_number_too(cast, client_of, take, look):
    record_panels(revision=ready_revision(cast, cast.page), found=[{"polygon": SQUARE}])
    take("Page 1\nNight.\nPanel 1\nA\nPanel 2\nB\nPanel 3\nC")
    assert told_of(look("Page 1\nPanel 3\nPIM: New!")) == [
        ("written", ["Panel 1 stays as it is.", "The picture has no panel 3; the words stand with those of the page."])]
    take("Page 1\nPanel 3\nPIM: New!", replaces=True)
    cast.page.refresh_from_db()
    assert cast.page.happens == "Night.\nPanel 2: B\nPanel 3: PIM: New!"
    text = client_of("editor").get(f"/api/v1/boards/{cast.board.pk}/script").content.decode()
    assert {does for does, _ in told_of(look(text))} <= {"same", "written"}
    take(text, replaces=True)
    assert words_on(cast.page) == [(1, "A", "")]


def test_panels_that_are_counted_on_from_page_to_page_go_to_their_own_page(take, look):
    text = "Page 11\nPanel 1\nA\nPanel 2\nB\nPage 12\nPanel 3\nC\nPanel 4\nD"
    assert told_of(look(text))[1] == (
        "add", ["The script counts its panels on from page to page: its panel 3 is the first of this page."])
    take(text)
    assert words_on(Page.objects.get(number=12)) == [(1, "C", ""), (2, "D", "")]
    assert [does for does, _ in told_of(look(text))] == ["same", "same"]
    take("Page 13\nPanel 1\nE\nPanel 2\nF\nPanel 3\nG")
    some = "Page 12\nPanel 1\nOther.\nPanel 2\nOther.\nPage 13\nPanel 3\nThe third."
    assert told_of(look(some))[1] == ("written", ["Panel 3 gets these words.", "Panels 1 and 2 stay as they are."])


def test_a_page_that_was_written_tells_who_read_it_before(cast, client_of, take):
    version = client_of("editor").get(f"/api/v1/pages/{cast.page.pk}").json()["version"]
    take()
    stale = client_of("editor").patch(f"/api/v1/pages/{cast.page.pk}", {"happens": "Late."}, headers={"If-Match": f'"{version}"'})
    assert stale.status_code == 412


def test_the_script_is_saved_as_text_and_taken_over_again_by_another_board(cast, client_of, take):
    take()
    saved = client_of("reader").get(f"/api/v1/boards/{cast.board.pk}/script")
    assert saved["Content-Type"] == "text/plain; charset=utf-8"
    assert 'filename="the-tide-mill-script.txt"' in saved["Content-Disposition"]
    text = saved.content.decode()
    assert text.startswith("The tide mill\n\nPAGE 1\nNight at the quay.\n\nPANEL 1\nRain.\n\nPIM: Mind the edge!\n")
    again = client_of("editor").post(f"/api/v1/boards/{cast.board.pk}/script-previews", {"text": text}).json()
    assert [page["numbers"] for page in again["pages"]] == [[1], [2], [3, 4]]


def test_words_of_panels_that_the_newest_picture_has_not_are_saved_too(cast, client_of):
    for order, said, is_gone in ((1, "PIM: Gone.", True), (1, "PIM: Here.", False), (2, "", True)):
        Panel.objects.create(page=cast.page, order=order, said=said, is_gone=is_gone)
    text = client_of("reader").get(f"/api/v1/boards/{cast.board.pk}/script").content.decode()
    assert "PANEL 1\nPIM: Here.\n\nPANEL 2 (not on the newest picture)\nPIM: Gone.\n" in text and "PANEL 3" not in text


def test_a_student_saves_the_words_of_their_own_pages_only(cast, client_of, take):
    take()
    Page.objects.filter(pk=cast.own_page.pk).update(happens="Mine.")
    assert client_of("student").get(f"/api/v1/boards/{cast.board.pk}/script").content.decode() == "The tide mill\n\nPAGE 2\nMine.\n"
    rows = client_of("student").get(f"/api/v1/boards/{cast.board.pk}/panels").json()["results"]
    assert rows == []


def test_all_panels_are_listed_page_by_page(cast, client_of, take):
    take("Page 2\nPanel 1\nC\nPage 1\nPanel 1\nA\nPanel 2\nB\nPage 7\nPanel 1\nD")
    editor, path = client_of("editor"), f"/api/v1/boards/{cast.board.pk}/panels"
    rows, next_page = [], f"{path}?limit=2"
    while next_page:
        answer = editor.get(next_page).json()
        rows += answer["results"]
        next_page = answer["next"]
    assert [panel["happens"] for panel in rows] == ["A", "B", "C", "D"]
    cast.page.laid_aside_at = "2026-01-01T00:00Z"
    cast.page.save(update_fields=["laid_aside_at"])
    assert [panel["happens"] for panel in editor.get(path).json()["results"]] == ["C", "D"]


def test_many_pages_cost_as_many_queries_as_two(cast, client_of, take, django_assert_max_num_queries):
    editor, path = client_of("editor"), f"/api/v1/boards/{cast.board.pk}/panels"

    def queries() -> int:
        with django_assert_max_num_queries(30) as counted:
            editor.get(path)
        return len(counted)

    take("Page 1\nPanel 1\nA\nPage 2\nPanel 1\nB")
    few = queries()
    take("\n".join(f"Page {number}\nPanel 1\nA\nPanel 2\nB" for number in range(3, 30)))
    assert queries() == few
