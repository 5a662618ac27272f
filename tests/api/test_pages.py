import gzip
import json

from board.actions.pages import add_page


def pages_of(cast) -> str:
    return f"/api/v1/boards/{cast.board.pk}/pages"


def test_pages_come_in_reading_order_with_their_stage(cast, client_of):
    rows = client_of("reader").get(pages_of(cast)).json()["results"]
    assert [(row["number"], row["stage"], row["waits_for"]) for row in rows] == [(n, "thumbnail", "artist") for n in (1, 2)]


def test_a_student_sees_the_own_page_and_what_was_opened(cast, client_of):
    student = client_of("student")
    assert [row["number"] for row in student.get(pages_of(cast)).json()["results"]] == [2]
    url = f"/api/v1/pages/{cast.page.pk}"
    assert student.get(url).status_code == 404
    page = client_of("instructor").get(url)
    client_of("instructor").patch(url, {"is_open_to_students": True}, HTTP_IF_MATCH=page["ETag"])
    assert student.get(url).status_code == 200


def test_a_students_new_page_is_the_students_own(cast, client_of):
    row = client_of("student").post(pages_of(cast), {"number": 3}).json()
    assert row["drawn_by"]["username"] == "student"


def test_a_number_is_taken_once_and_a_spread_takes_two(cast, client_of):
    owner = client_of("owner")
    assert owner.post(pages_of(cast), {"number": 4, "is_spread": True}).json()["numbers"] == [4, 5]
    assert owner.post(pages_of(cast), {"number": 5}).status_code == 409
    assert owner.post(pages_of(cast), {"number": 1}).status_code == 409


def test_words_are_changed_by_those_who_write(cast, client_of):
    url = f"/api/v1/pages/{cast.page.pk}"
    etag = client_of("artist").get(url)["ETag"]
    assert client_of("reader").patch(url, {"happens": "No."}, HTTP_IF_MATCH=etag).status_code == 403
    row = client_of("artist").patch(url, {"happens": "Night. Water.", "said": "PIM: Up!"}, HTTP_IF_MATCH=etag).json()
    assert (row["happens"], row["said"]) == ("Night. Water.", "PIM: Up!")


def test_many_pages_cost_no_more_queries(world, client_of, django_assert_max_num_queries):
    for number in range(10, 60):
        add_page(seat=world.cast.seat("owner"), number=number)
    client = client_of("owner")
    with django_assert_max_num_queries(14):
        assert len(client.get(pages_of(world.cast) + "?limit=500").json()["results"]) == 52


def test_a_long_list_travels_packed(world, client_of):
    for number in range(10, 60):
        add_page(seat=world.cast.seat("owner"), number=number)
    url = pages_of(world.cast) + "?limit=500"
    plain, packed = (client_of("owner").get(url, headers={"Accept-Encoding": encoding}) for encoding in ("identity", "gzip"))
    assert json.loads(gzip.decompress(packed.content)) == plain.json()
    assert 8 * len(packed.content) < len(plain.content)
