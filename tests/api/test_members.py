from board.models import Board


def members_of(cast) -> str:
    return f"/api/v1/boards/{cast.board.pk}/members"


def test_all_on_a_board_see_who_else_is(cast, client_of):
    names = [row["user"]["username"] for row in client_of("reader").get(members_of(cast)).json()["results"]]
    assert {"owner", "artist", "editor"} <= set(names)


def test_an_editor_gives_a_seat_and_takes_it_back(cast, client_of):
    editor = client_of("editor")
    row = editor.post(members_of(cast), {"username": "outsider", "roles": ["reader"]}).json()
    assert client_of("outsider").get(f"/api/v1/boards/{cast.board.pk}").status_code == 200
    assert editor.delete(f"/api/v1/members/{row['id']}").status_code == 204
    assert client_of("outsider").get(f"/api/v1/boards/{cast.board.pk}").status_code == 404


def test_an_artist_gives_no_seats(cast, client_of):
    assert client_of("artist").post(members_of(cast), {"username": "outsider", "roles": ["reader"]}).status_code == 403


def test_roles_are_a_set_and_none_is_not_enough(cast, client_of):
    member = cast.board.members.get(user=cast.reader)
    url = f"/api/v1/members/{member.pk}"
    assert client_of("owner").patch(url, {"roles": ["reader", "artist"]}).json()["roles"] == ["artist", "reader"]
    assert client_of("owner").patch(url, {"roles": []}).status_code == 400
    assert client_of("owner").patch(url, {"roles": ["king"]}).status_code == 400


def test_nobody_is_seated_twice_and_no_stranger_at_all(cast, client_of):
    owner = client_of("owner")
    assert owner.post(members_of(cast), {"username": "reader", "roles": ["artist"]}).status_code == 409
    assert owner.post(members_of(cast), {"username": "nobody-here", "roles": ["artist"]}).status_code == 400


def test_the_last_who_reviews_stays(cast, client_of):
    for name in ("editor", "instructor"):
        client_of("owner").delete(f"/api/v1/members/{cast.board.members.get(user=cast.people[name]).pk}")
    mine = cast.board.members.get(user=cast.owner)
    assert client_of("owner").patch(f"/api/v1/members/{mine.pk}", {"roles": ["artist"]}).status_code == 409


def test_anybody_may_leave_and_what_they_made_stays(cast, client_of):
    mine = cast.board.members.get(user=cast.artist)
    assert client_of("artist").delete(f"/api/v1/members/{cast.board.members.get(user=cast.reader).pk}").status_code == 403
    assert client_of("artist").delete(f"/api/v1/members/{mine.pk}").status_code == 204
    assert client_of("artist").get(f"/api/v1/boards/{cast.board.pk}").status_code == 404
    assert client_of("editor").get(f"/api/v1/pages/{cast.page.pk}").json()["drawn_by"]["username"] == "artist"


def test_nobody_leaves_a_board_of_an_assignment(cast, client_of):
    Board.objects.update(is_assigned=True)
    mine = cast.board.members.get(user=cast.student)
    assert client_of("student").delete(f"/api/v1/members/{mine.pk}").status_code == 403
