"""Two peers read each other's work and words, and find nobody's identifiers in any byte of it."""

from datetime import timedelta

import pytest

from board.actions.critiques import deliver_due_rounds, deliver_round
from board.models import Critique, CritiqueRound, Event, Note
from tests.api.class_reading import everything_read_by, identifiers_of, slips, spread_numbers
from tests.api.class_world import AUTHOR, CRITIC, POINTS, make_class_world
from tests.api.lasting import find_files_again, lasting


def with_numbers_apart():
    spread_numbers()
    return make_class_world()


@pytest.fixture(scope="module")
def made_class(django_db_setup, django_db_blocker, tmp_path_factory):
    folder = tmp_path_factory.mktemp("files")
    with lasting(with_numbers_apart, django_db_blocker, folder) as world:
        yield world, folder


@pytest.fixture
def world(made_class, db, files_of_their_own, tmp_path):
    find_files_again(made_class[1], tmp_path / "files")
    return made_class[0]


def deliver(world):
    deliver_round(opened=world.round)


def test_the_critic_finds_nothing_of_the_author(world):
    read = everything_read_by(world, CRITIC)
    assert b"Work 1" in read and b"RIFF" in read  # the work is there, with its picture
    assert slips(read, identifiers_of(world, AUTHOR)) == []


def test_the_author_finds_the_critique_and_nothing_of_the_critic(world):
    before = everything_read_by(world, AUTHOR)
    assert POINTS[1]["body"].encode() not in before  # nothing comes before it is delivered
    deliver(world)
    read = everything_read_by(world, AUTHOR)
    assert POINTS[1]["body"].encode() in read and b"a classmate" in read
    assert slips(read, identifiers_of(world, CRITIC)) == []


def test_the_test_finds_what_slips(world):
    own = slips(everything_read_by(world, AUTHOR), identifiers_of(world, AUTHOR))
    kinds = {what.split()[0] for what in own}
    assert kinds == {"username", "first", "alias", "number", "time", "digest"}


def test_where_names_are_told_it_is_the_alias_alone(world):
    CritiqueRound.objects.filter(pk=world.round.pk).update(is_anonymous=False)
    deliver(world)
    told = slips(everything_read_by(world, AUTHOR), identifiers_of(world, CRITIC))
    assert told == ["username and file names", "first name", "alias"]  # of which the alias here holds the others
    assert b"marrowby-alias" in everything_read_by(world, AUTHOR)


def test_all_is_delivered_at_one_moment_by_nobody(world):
    written = Critique.objects.get(pk=world.critique.pk).points
    Critique.objects.filter(round=world.round).update(sent_at=world.round.due_at, points=written)
    deliver(world)
    notes = Note.objects.exclude(pen_name="")
    assert notes.count() == 12 and len({note.sent_at for note in notes}) == 1
    assert set(notes.values_list("author", flat=True)) == {None}
    assert set(Event.objects.filter(kind="critique-delivered").values_list("actor", flat=True)) == {None}


def test_a_round_is_delivered_when_its_time_is_over_whoever_is_away(world):
    assert deliver_due_rounds(world.round.due_at - timedelta(seconds=1)) == 0
    assert deliver_due_rounds(world.round.due_at) == 1
    assert deliver_due_rounds(world.round.due_at) == 0
    assert Note.objects.filter(board=world.works[AUTHOR].board).exclude(pen_name="").count() == 2


def test_the_instructor_knows_both(world):
    read = everything_read_by_instructor(world)
    assert b"marrowby-alias" in read and b"quillon-alias" in read


def everything_read_by_instructor(world) -> bytes:
    return world.client("hollis").get(f"/api/v1/critiques/{world.critique.pk}").content
