from board.models import Job, Note
from tests.api.world import ready_revision


def moves_of(page) -> str:
    return f"/api/v1/pages/{page.pk}/stage-moves"


def all_is_measured(world) -> None:
    Job.objects.update(state="done")


def post(client, url: str, body: dict):
    etag = client.get(url.rsplit("/", 1)[0])["ETag"]
    return client.post(url, body, HTTP_IF_MATCH=etag)


def test_what_can_be_done_is_told_with_the_reason_for_what_cannot(world, client_of):
    all_is_measured(world)
    moves = {row["move"]: row["refusal"] for row in client_of("editor").get(moves_of(world.cast.page)).json()["moves"]}
    assert moves["hand-in"]["code"] == "not-an-artist"
    assert moves["sign-off"]["code"] == "not-handed-in"


def test_a_page_is_handed_in_and_signed_off(world, client_of):
    all_is_measured(world)
    url = moves_of(world.cast.page)
    assert post(client_of("artist"), url, {"move": "hand-in"}).status_code == 201
    assert post(client_of("editor"), url, {"move": "sign-off"}).status_code == 201
    assert client_of("reader").get(f"/api/v1/pages/{world.cast.page.pk}").json()["stage"] == "pencil"


def test_a_refusal_says_what_stands_against_it(world, client_of):
    all_is_measured(world)
    Note.objects.filter(pk=world.artists.note.pk).update(tone="must")
    post(client_of("artist"), moves_of(world.cast.page), {"move": "hand-in"})
    answer = post(client_of("editor"), moves_of(world.cast.page), {"move": "sign-off"})
    assert (answer.status_code, answer.json()["code"]) == (409, "open-must-notes")
    assert "must note" in answer.json()["detail"]


def test_of_open_notes_what_is_to_be_kept_is_not_told(world, client_of):
    told = {}
    for tone in ("must", "ask", "keep"):
        Note.objects.filter(pk=world.artists.note.pk).update(tone=tone)
        told[tone] = client_of("editor").get(moves_of(world.cast.page)).json()["open"]
    others = {one: {name: n - told["keep"][name] for name, n in told[one].items()} for one in ("must", "ask")}
    assert others == {"must": {"must": 1, "other": 0, "answered": 0}, "ask": {"must": 0, "other": 1, "answered": 0}}


def test_a_picture_that_came_since_is_looked_at_before_it_is_signed_off_or_sent_back(world, client_of):
    all_is_measured(world)
    url, editor = moves_of(world.cast.page), client_of("editor")
    seen = editor.get(url.rsplit("/", 1)[0]).json()["current_revision"]["id"]
    post(client_of("artist"), url, {"move": "hand-in", "revision": seen})
    newer = ready_revision(world.cast, world.cast.page, "artist", shade=90)
    all_is_measured(world)
    for move in ("sign-off", "send-back"):
        answer = post(editor, url, {"move": move, "revision": seen, "why": "The shot is not found yet."})
        assert (answer.status_code, answer.json()["code"]) == (409, "another-picture")
        assert f"Revision {newer.number} " in answer.json()["detail"]
    assert not Note.objects.filter(body="The shot is not found yet.").exists()
    assert post(editor, url, {"move": "sign-off", "revision": newer.pk}).status_code == 201


def test_sending_back_leaves_a_must_note_with_the_reason(world, client_of):
    all_is_measured(world)
    post(client_of("artist"), moves_of(world.cast.page), {"move": "hand-in"})
    post(client_of("editor"), moves_of(world.cast.page), {"move": "send-back", "why": "The shot is not found yet."})
    assert Note.objects.get(body="The shot is not found yet.").tone == "must"


def test_an_unknown_move_is_refused(world, client_of):
    assert post(client_of("editor"), moves_of(world.cast.page), {"move": "jump"}).status_code == 400


def test_one_panel_is_sent_back_alone(world, client_of):
    all_is_measured(world)
    url = f"/api/v1/panels/{world.artists.panel.pk}/stage-moves"
    assert post(client_of("editor"), url, {"move": "send-back"}).status_code == 201
    page = client_of("editor").get(f"/api/v1/pages/{world.cast.page.pk}").json()
    answer = post(client_of("artist"), url, {"move": "hand-in", "revision": 9999})
    assert answer.json()["code"] == "another-picture"
    assert (page["panels_sent_back"], page["stage"]) == (1, "thumbnail")
    assert post(client_of("artist"), url, {"move": "sign-off"}).status_code == 403
    assert post(client_of("artist"), url, {"move": "hand-in"}).json()["code"] == "not-drawn-anew"
    ready_revision(world.cast, world.cast.page, shade=90)
    assert post(client_of("artist"), url, {"move": "hand-in"}).status_code == 201
    page = client_of("editor").get(f"/api/v1/pages/{world.cast.page.pk}").json()
    assert (page["panels_sent_back"], page["panels_handed_in"], page["waits_for"]) == (1, 1, "artist")
