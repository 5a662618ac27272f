"""A figure that is proposed on a picture: seen by who sees both pages, answered once, taken back."""

import pytest

from board.models import Figure, FigureProposal, Panel, PanelShape
from tests.api.world import MARKS, SQUARE


@pytest.fixture
def proposal(world) -> FigureProposal:
    """The students' figure, proposed in a second panel of the artists' page."""
    on = world.artists
    panel = Panel.objects.create(page=on.page, order=2)
    PanelShape.objects.create(panel=panel, revision=on.revision, order=2, polygon=SQUARE)
    return FigureProposal.objects.create(
        panel=panel, revision=on.revision, source=world.students.figure, found_by="reuse", marks=MARKS
    )


def answer(client, proposal, state, version='"1"'):
    headers = {"If-Match": version} if version else {}
    return client.patch(f"/api/v1/figure-proposals/{proposal.pk}", {"state": state}, headers=headers)


def test_it_says_who_it_may_be_and_where_that_was_marked(world, client_of, proposal):
    row = client_of("artist").get(f"/api/v1/revisions/{proposal.revision_id}/figure-proposals").json()["results"][0]
    assert (row["character"], row["source_figure"], row["source_page"]) == (world.character.pk, world.students.figure.pk, 2)
    assert (row["panel"], row["state"], row["figure"], row["marks"]) == (proposal.panel_id, "proposed", None, MARKS)
    assert client_of("artist").get(f"/api/v1/revisions/{proposal.revision_id}").json()["figures_proposed"] == 1


def test_confirmed_it_is_a_figure_of_its_panel_and_taken_back_it_is_none(world, client_of, proposal):
    confirmed = answer(client_of("artist"), proposal, "confirmed")
    figure = Figure.objects.get(pk=confirmed.json()["figure"])
    assert (figure.panel_id, figure.character_id, figure.marked_by.username) == (proposal.panel_id, world.character.pk, "artist")
    again = answer(client_of("editor"), proposal, "proposed", confirmed["ETag"]).json()
    assert (again["state"], again["figure"]) == ("proposed", None)
    assert not Figure.objects.filter(pk=figure.pk).exists()


def test_an_answer_names_the_version_that_it_was_given_to(client_of, proposal):
    assert answer(client_of("artist"), proposal, "refused", version=None).status_code == 428
    assert answer(client_of("artist"), proposal, "refused").status_code == 200
    assert answer(client_of("editor"), proposal, "confirmed").status_code == 412
    assert answer(client_of("artist"), proposal, "perhaps", '"2"').status_code == 400


def test_who_does_not_see_the_page_of_the_figure_sees_no_proposal_of_it(world, client_of, proposal):
    for who in ("outsider", "student"):
        assert answer(client_of(who), proposal, "confirmed").status_code == 404, who
    turned = FigureProposal.objects.create(
        panel=world.students.panel, revision=world.students.revision, source=world.artists.figure, found_by="reuse", marks=MARKS
    )
    student = client_of("student")
    assert student.get(f"/api/v1/revisions/{turned.revision_id}/figure-proposals").json()["results"] == []
    assert answer(student, turned, "confirmed").status_code == 404
