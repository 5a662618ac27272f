from board.actions.panels import add_panel
from board.models import Note, Panel
from tests.pictures import upload

SQUARE = [[0.1, 0.1], [0.9, 0.1], [0.9, 0.4], [0.1, 0.4]]


def test_panels_of_a_page_come_with_their_words_and_shape(world, client_of):
    (row,) = client_of("reader").get(f"/api/v1/pages/{world.cast.page.pk}/panels").json()["results"]
    assert row["order"] == 1
    assert row["shape"]["revision"] == world.artists.revision.pk


def test_words_of_a_panel_can_be_there_before_a_drawing(cast, client_of):
    url = f"/api/v1/pages/{cast.page.pk}/panels"
    row = client_of("editor").post(url, {"happens": "The gate.", "said": "ODDA: Now."}).json()
    assert (row["order"], row["shape"]) == (1, None)
    assert client_of("reader").post(url, {"happens": "No."}).status_code == 403


def test_panels_are_corrected_on_the_version_that_was_read(world, client_of):
    url = f"/api/v1/revisions/{world.artists.revision.pk}/panels"
    etag = client_of("artist").get(f"/api/v1/pages/{world.cast.page.pk}")["ETag"]
    panels = [{"id": world.artists.panel.pk, "polygon": SQUARE}, {"polygon": [[x, y + 0.5] for x, y in SQUARE]}]
    assert client_of("artist").put(url, {"panels": panels}).status_code == 428
    assert client_of("reader").put(url, {"panels": panels}, HTTP_IF_MATCH=etag).status_code == 403
    answer = client_of("artist").put(url, {"panels": panels}, HTTP_IF_MATCH=etag)
    assert answer.status_code == 200
    rows = client_of("artist").get(f"/api/v1/revisions/{world.artists.revision.pk}").json()["panels"]
    assert [(row["id"] == world.artists.panel.pk, row["by_hand"]) for row in rows] == [(True, True), (False, True)]
    assert client_of("artist").put(url, {"panels": panels}, HTTP_IF_MATCH=etag).status_code == 412


def test_a_panel_that_was_found_by_mistake_is_gone_and_its_words_wait(world, client_of):
    artist, page = client_of("artist"), f"/api/v1/pages/{world.cast.page.pk}"
    url = f"/api/v1/revisions/{world.artists.revision.pk}/panels"

    def put(*panels):
        artist.put(url, {"panels": panels}, HTTP_IF_MATCH=artist.get(page)["ETag"])
        return [row["id"] for row in artist.get(f"/api/v1/revisions/{world.artists.revision.pk}").json()["panels"]]

    known = {"id": world.artists.panel.pk, "polygon": SQUARE}
    first, spare, written = put(known, *({"polygon": [[x, y + down] for x, y in SQUARE]} for down in (0.3, 0.5)))
    Panel.objects.filter(pk=written).update(said="PIM: Mind the edge!")
    assert put(known) == [first]
    is_gone = dict(Panel.objects.filter(page=world.cast.page).values_list("pk", "is_gone"))
    assert is_gone == {first: False, spare: True, written: False}


def test_a_panel_that_encloses_nothing_is_refused(world, client_of):
    url = f"/api/v1/revisions/{world.artists.revision.pk}/panels"
    etag = client_of("artist").get(f"/api/v1/pages/{world.cast.page.pk}")["ETag"]
    line = [[0.1, 0.1], [0.9, 0.9], [0.5, 0.5]]
    assert client_of("artist").put(url, {"panels": [{"polygon": line}]}, HTTP_IF_MATCH=etag).status_code == 400


def test_the_pages_own_drawing_is_one_of_a_panels_tries(world, client_of):
    """As soon as there is another: so one can go back to it."""
    artist, url = client_of("artist"), f"/api/v1/panels/{world.artists.panel.pk}"

    def choose(letter: str):
        return artist.put(f"{url}/chosen-alternate", {"alternate": letter}, HTTP_IF_MATCH=artist.get(url)["ETag"])

    assert artist.get(url).json()["alternates"] == []
    assert choose("B").status_code == 400
    fields = {"image": upload(), "stage": "thumbnail", "panel": world.artists.panel.pk, "alternate": "B"}
    artist.post(f"/api/v1/pages/{world.cast.page.pk}/revisions", fields, format="multipart")
    row = choose("B").json()
    assert (row["alternates"], row["chosen_alternate"]) == (["A", "B"], "B")
    assert choose("A").json()["chosen_alternate"] == "A"


def test_a_still_is_tied_and_untied(world, client_of):
    url = f"/api/v1/panels/{world.artists.panel.pk}"
    etag = client_of("artist").get(url)["ETag"]
    row = client_of("artist").put(f"{url}/still", {"reference": world.reference.pk}, HTTP_IF_MATCH=etag)
    assert row.json()["still"]["title"] == "The wheel house"
    assert client_of("artist").delete(f"{url}/still", HTTP_IF_MATCH=row["ETag"]).json()["still"] is None


def test_a_check_leaves_a_panel_alone_until_it_is_asked_again(world, client_of):
    url = f"/api/v1/panels/{world.artists.panel.pk}"
    etag = client_of("artist").get(url)["ETag"]
    row = client_of("artist").put(f"{url}/left-alone/perspective", HTTP_IF_MATCH=etag)
    assert row.json()["left_alone_by"] == ["perspective"]
    assert client_of("artist").delete(f"{url}/left-alone/perspective", HTTP_IF_MATCH=row["ETag"]).json()["left_alone_by"] == []
    again = client_of("artist").get(url)["ETag"]
    assert client_of("artist").put(f"{url}/left-alone/astrology", HTTP_IF_MATCH=again).status_code == 400


def test_a_panel_that_is_words_alone_is_taken_out_and_those_after_it_move_up(cast, client_of):
    seat = cast.seat("artist")
    first, second, third = (add_panel(seat=seat, page=cast.page, happens=words) for words in ("Rain.", "Hail.", "Snow."))
    assert client_of("artist").delete(f"/api/v1/panels/{second.pk}").status_code == 204
    assert list(cast.page.panels.values_list("pk", "order")) == [(first.pk, 1), (third.pk, 2)]


def test_a_panel_that_is_drawn_or_spoken_of_stays(world, cast, client_of):
    assert client_of("artist").delete(f"/api/v1/panels/{world.artists.panel.pk}").status_code == 409
    spoken_of = add_panel(seat=cast.seat("artist"), page=world.artists.page)
    Note.objects.filter(pk=world.artists.note.pk).update(panel=spoken_of)
    assert client_of("artist").delete(f"/api/v1/panels/{spoken_of.pk}").status_code == 409
