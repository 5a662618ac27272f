"""What changed since the revision before: on a revision, of one panel through all of them, and at the spot of a note."""

import pytest

from board.actions.jobs import claim_job, finish_job
from board.actions.notes import pin_note
from board.actions.panels import record_panels
from board.actions.revisions import withdraw_revision
from board.models import Job, Revision
from tests.api.world import SQUARE, ready_revision

MAP = {
    "size_before": [40, 60], "size_after": [40, 60], "H_before_to_after": [[1, 0, 2], [0, 1, 0], [0, 0, 1]],
    "local_shifts": [[[0, 0]] * 4] * 4, "quality": 0.8,
}


@pytest.fixture
def next_revision(world, monkeypatch):
    """Another picture of the page that came out like this beside the one before."""
    monkeypatch.setattr("board.actions.jobs.send_job", lambda **_: True)

    def add(word: str | None, gone: bool = False, shade: int = 100) -> Revision:
        revision = ready_revision(world.cast, world.cast.page, shade=shade)
        record_panels(revision=revision, found=[] if gone else [{"polygon": SQUARE}])
        if word:
            _worked_out(Job.objects.get(revision=revision, kind="carry-notes"), world.artists.panel.pk, word, gone)
        return revision

    return add


def _worked_out(job: Job, panel: int, word: str, gone: bool) -> None:
    row = {"panel": panel, "word": word, "match": "kept", "kept_before": 0.5, "kept_after": 0.4, "from": [panel]}
    numbers = {"before": job.inputs["before"], "map": MAP, "panels": [] if gone else [row], "gone": [panel] if gone else []}
    assert finish_job(job=claim_job(job_id=job.pk), numbers=numbers)


def changes_of(client, revision: Revision) -> dict | None:
    return client.get(f"/api/v1/revisions/{revision.pk}").json()["changes"]


def history(client, world) -> list[tuple]:
    rows = client.get(f"/api/v1/panels/{world.artists.panel.pk}/history").json()["results"]
    return [(row["number"], row["word"], row["polygon"]) for row in rows]


def test_the_first_revision_was_compared_with_nothing(world, client_of):
    assert changes_of(client_of("reader"), world.artists.revision) is None
    assert history(client_of("reader"), world) == [(1, None, SQUARE)]


def test_a_revision_tells_what_changed_once_it_is_worked_out(world, client_of, next_revision):
    waiting, revision = next_revision(None), next_revision("touched")
    assert changes_of(client_of("reader"), waiting) is None
    changes = changes_of(client_of("reader"), revision)
    assert (changes["before"], changes["gone"]) == (waiting.pk, [])
    (row,) = changes["panels"]
    assert (row["panel"], row["word"], row["kept_before"]) == (world.artists.panel.pk, "touched", 0.5)


def test_the_history_of_a_panel_is_read_oldest_first_and_ends_where_it_is_gone(world, client_of, next_revision):
    for word, gone in (("same", False), ("redrawn", False), ("gone", True)):
        next_revision(word, gone)
    rows = history(client_of("reader"), world)
    assert rows == [(1, None, SQUARE), (2, "same", SQUARE), (3, "redrawn", SQUARE), (4, "gone", None)]


def test_a_withdrawn_revision_is_left_out_of_the_history_for_those_who_do_not_see_it(world, client_of, next_revision):
    withdraw_revision(seat=world.cast.seat("artist"), revision=next_revision("same"))
    assert [row[0] for row in history(client_of("reader"), world)] == [1]
    assert [row[0] for row in history(client_of("artist"), world)] == [1, 2]


@pytest.mark.parametrize(
    ("words", "spot"),
    [([], None), (["same"], "unchanged"), (["moved"], "unchanged"), (["touched"], "changed"), (["redrawn"], "changed"),
     (["new"], "changed"), (["redrawn", "same"], "changed"), (["same", None], None), ([None, "touched"], None)],
)
def test_a_note_tells_whether_its_spot_changed_since_it_was_pinned(world, client_of, next_revision, words, spot):
    for word in words:
        next_revision(word)
    assert client_of("artist").get(f"/api/v1/notes/{world.artists.note.pk}").json()["spot"] == spot


def test_what_changed_before_a_note_was_pinned_does_not_count(world, client_of, next_revision):
    second = next_revision("redrawn")
    note = pin_note(seat=world.cast.seat("editor"), page=world.cast.page, body="Here.", tone="try", region={"point": [0.5, 0.5]})
    assert note.revision == second
    assert client_of("artist").get(f"/api/v1/notes/{note.pk}").json()["spot"] is None
    next_revision("same")
    assert client_of("artist").get(f"/api/v1/notes/{note.pk}").json()["spot"] == "unchanged"


def test_an_older_drawing_that_is_shown_again_answers_no_newer_note(world, client_of, next_revision):
    next_revision("redrawn")
    third = next_revision("redrawn", shade=101)
    note = pin_note(seat=world.cast.seat("editor"), page=world.cast.page, body="Here.", tone="try", region={"point": [0.5, 0.5]})
    assert note.revision == third
    withdraw_revision(seat=world.cast.seat("artist"), revision=third)
    assert client_of("editor").get(f"/api/v1/notes/{note.pk}").json()["spot"] is None


def test_a_note_on_no_panel_has_no_spot_that_could_change(world, client_of, next_revision):
    editor = world.cast.seat("editor")
    outside = pin_note(seat=editor, page=world.cast.page, body="Here.", tone="try", region={"point": [0.99, 0.99]})
    next_revision("redrawn")
    assert client_of("artist").get(f"/api/v1/notes/{outside.pk}").json()["spot"] is None


def test_maps_lead_over_several_revisions(world, client_of, next_revision):
    first, second, third = world.artists.revision, next_revision("same"), next_revision("touched")
    url = f"/api/v1/revisions/{third.pk}/registration"
    answer = client_of("reader").get(url, {"before": first.pk}).json()
    assert [(step["before"], step["after"]) for step in answer["steps"]] == [(first.pk, second.pk), (second.pk, third.pk)]
    assert answer["steps"][0]["H_before_to_after"][0] == [1, 0, 2]
    assert client_of("reader").get(url).json()["before"] == second.pk


def test_where_no_map_leads_there_are_no_steps(world, client_of, next_revision):
    third = [next_revision(None), next_revision("same")][1]
    url = f"/api/v1/revisions/{third.pk}/registration"
    assert client_of("reader").get(url, {"before": world.artists.revision.pk}).json()["steps"] is None
    assert client_of("reader").get(f"/api/v1/revisions/{world.artists.revision.pk}/registration").json()["steps"] is None


@pytest.mark.parametrize("named", ["later", "itself", "another page's", "x", "-1"])
def test_only_an_earlier_revision_of_the_page_can_be_asked_for(world, client_of, next_revision, named):
    second, third = next_revision("same"), next_revision("same")
    before = {"later": third.pk, "itself": second.pk, "another page's": world.students.revision.pk}.get(named, named)
    answer = client_of("reader").get(f"/api/v1/revisions/{second.pk}/registration", {"before": before})
    assert answer.status_code == 400


def test_comparisons_cost_one_query_for_all_notes(world, client_of, next_revision, django_assert_max_num_queries):
    for shade in (90, 91, 92):
        next_revision("same", shade=shade)
    client = client_of("artist")
    with django_assert_max_num_queries(16):
        client.get(f"/api/v1/boards/{world.cast.board.pk}/notes")
