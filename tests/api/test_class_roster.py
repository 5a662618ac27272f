"""Into a class: by roster, by link, by name; and out of it again, with everything."""

import io
import json
import zipfile
from datetime import timedelta
from hashlib import sha256
from importlib import import_module
from io import BytesIO, StringIO

import pytest
from django.apps import apps
from django.contrib.auth import get_user_model
from django.core.management import call_command
from django.db.models import F
from django.utils import timezone

from api.invitations import LinkThrottle
from board.access import access_board
from board.actions.critiques import deliver_round
from board.actions.kept_answers import KEPT_FOR
from board.actions.notes import pin_note
from board.actions.panels import record_panels
from board.actions.references import add_reference
from board.actions.review_sheets import record_review_sheet, request_review_sheet
from board.models import (
    Board,
    CritiqueRound,
    Enrolment,
    Invitation,
    KeptAnswer,
    Note,
    Page,
    Panel,
    Picture,
    ReviewSheet,
    Revision,
    SchoolClass,
    Work,
)
from board.picture_files import file_is_kept, keep_file
from board.stages.deadlines import today_at_the_latest
from board.worker.tasks import drop_left_over_task
from tests.api.class_world import AUTHOR, CRITIC, board_world
from tests.api.world import MARKS, SQUARE
from tests.pictures import png

API = "/api/v1"
ROSTER = "username,name,alias,minor\nnobody,,,no\nfenwick,Fenwick Oar,,no\nowl,Real Name,Little Owl,yes\n"


def test_a_roster_is_looked_at_before_it_is_taken_over(in_class):
    client, address = in_class.client("hollis"), f"{API}/classes/{in_class.school_class.pk}"
    preview = client.post(f"{address}/roster-previews", {"csv": ROSTER}).json()
    assert [line["does"] for line in preview["lines"]] == ["enrol", "invite", "invite"] and preview["faults"] == 0
    assert Enrolment.objects.filter(user=in_class.people["nobody"]).count() == 0
    imported = client.post(f"{address}/roster-imports", {"csv": ROSTER, "days": 3})
    assert [one["username"] for one in imported.json()["enrolled"]] == ["nobody"]
    assert "/join#" not in imported.content.decode()  # an answer to a POST is kept for a while; links are not
    assert "Real Name" not in json.dumps(preview) + imported.content.decode()
    assert not get_user_model().objects.filter(username="owl").exists()  # no account before somebody comes
    assert Work.objects.filter(enrolment__user=in_class.people["nobody"]).count() == 1
    again = client.post(f"{address}/roster-previews", {"csv": ROSTER}).json()
    assert {line["does"] for line in again["lines"]} == {"there"}


def test_no_answer_that_is_kept_tells_a_name_after_a_roster_was_looked_at_or_a_student_went(in_class):
    client, address = in_class.client("hollis"), f"{API}/classes/{in_class.school_class.pk}"
    client.post(f"{address}/roster-previews", {"csv": ROSTER}, HTTP_IDEMPOTENCY_KEY="k1")
    assert not KeptAnswer.objects.exists()
    client.post(f"{address}/enrolments", {"username": "nobody"}, HTTP_IDEMPOTENCY_KEY="k2")
    assert "nobody" in str(KeptAnswer.objects.get().body)
    enrolment = Enrolment.objects.get(user__username="nobody", school_class=in_class.school_class)
    in_class.client("nobody").post(f"{API}/enrolments/{enrolment.pk}/deletion")
    assert not KeptAnswer.objects.exists()


def test_answers_are_kept_no_longer_when_nobody_sends_anything(in_class):
    for age in (KEPT_FOR / 2, KEPT_FOR + timedelta(minutes=1)):
        answer = KeptAnswer.objects.create(user=in_class.people["hollis"], key=str(age), request_digest="a", status=200)
        KeptAnswer.objects.filter(pk=answer.pk).update(created_at=timezone.now() - age)
    drop_left_over_task()
    assert KeptAnswer.objects.get().key == str(KEPT_FOR / 2)


def test_a_roster_with_a_fault_is_not_taken_over_in_part(in_class):
    address = f"{API}/classes/{in_class.school_class.pk}/roster-imports"
    answer = in_class.client("hollis").post(address, {"csv": ROSTER + "bad name,,,\n"})
    assert answer.status_code == 400 and list(answer.json()["errors"]) == ["line 5"]
    assert Invitation.objects.count() == 1 and not Enrolment.objects.filter(user=in_class.people["nobody"]).exists()


def test_a_roster_brought_again_says_what_differs_and_who_is_missing(in_class):
    client, address = in_class.client("hollis"), f"{API}/classes/{in_class.school_class.pk}"
    client.post(f"{address}/roster-imports", {"csv": ROSTER})
    roster = (f"username,name,alias,minor\n{AUTHOR.upper()},,Quill,yes\n{CRITIC},,,no\nfenwick,Fenwick Oar,Oar,\n"
              f"owl,Real Name,Little Owl,\nhollis,,,\nELSEWHERE,,{CRITIC}-alias,\n")
    preview = client.post(f"{address}/roster-previews", {"csv": roster}).json()
    assert [(line["does"], line["remarks"]) for line in preview["lines"]] == [
        ("change", [f"Signs in here as “{AUTHOR}”.", f"The alias becomes “Quill”, it was “{AUTHOR}-alias”.",
                    "A minor from now on."]),
        ("there", []),
        ("change", ["Invited before; now with the alias “Oar”."]),
        ("there", ["Invited before, not here yet."]),
        ("there", ["Instructs this class."]),
        ("enrol", ["Signs in here as “elsewhere”.", f"“{CRITIC}” in the class has this alias too."]),
    ]
    assert [one["username"] for one in preview["missing"]] == ["tamsin", "nobody"]
    done = client.post(f"{address}/roster-imports", {"csv": roster}).json()
    assert ([one["username"] for one in done["enrolled"]], done["invited"], done["changed"]) == (["elsewhere"], [], 2)
    assert (in_class.enrolment(AUTHOR).alias, in_class.enrolment(AUTHOR).is_minor) == ("Quill", True)
    assert set(Invitation.objects.exclude(username="").values_list("username", "name", "alias", "is_minor")) == {
        ("fenwick", "Fenwick Oar", "Oar", False), ("owl", "", "Little Owl", True)}


def test_no_roster_takes_from_a_minor_that_the_alias_stands_for_the_name(in_class):
    client, address = in_class.client("hollis"), f"{API}/classes/{in_class.school_class.pk}"
    client.patch(f"{API}/enrolments/{in_class.enrolment(AUTHOR).pk}", {"is_minor": True})
    (line,) = client.post(f"{address}/roster-previews", {"csv": f"username,minor\n{AUTHOR},no\n"}).json()["lines"]
    assert line["does"] == "there" and line["remarks"][0].startswith("A minor in the class")


def test_who_let_a_link_end_is_invited_again(in_class):
    client, address = in_class.client("hollis"), f"{API}/classes/{in_class.school_class.pk}"
    client.post(f"{address}/roster-imports", {"csv": ROSTER})
    Invitation.objects.update(expires_at=timezone.now() - timedelta(seconds=1))
    done = client.post(f"{address}/roster-imports", {"csv": ROSTER}).json()
    assert [one["username"] for one in done["invited"]] == ["fenwick", "owl"]
    assert Invitation.objects.exclude(username="").count() == 2


def links(in_class) -> dict[str, str]:
    rows = in_class.client("hollis").get(f"{API}/classes/{in_class.school_class.pk}/invitations").json()["results"]
    return {row["username"]: row["link"].partition("#")[2] for row in rows}


def accept(in_class, who="anonymous", **body):
    return in_class.client(who).post(f"{API}/invitation-acceptances", body)


def test_a_minor_comes_by_the_link_and_is_known_by_the_alias_alone(in_class):
    in_class.client("hollis").post(f"{API}/classes/{in_class.school_class.pk}/roster-imports", {"csv": ROSTER})
    secret = links(in_class)["owl"]
    weak = accept(in_class, secret=secret, password="owl")
    assert weak.status_code == 400 and "password" in weak.json()["errors"]
    assert accept(in_class, secret=secret, password="a-long-night-flight", name="Real Name").status_code == 201
    owl = get_user_model().objects.get(username="owl")
    assert (owl.get_full_name(), owl.email) == ("Little Owl", "")
    assert accept(in_class, secret=secret, password="a-long-night-flight").status_code == 404  # used up


def test_of_who_says_that_they_are_a_minor_the_alias_alone_is_kept_whatever_the_roster_says(in_class):
    teacher, roster = in_class.client("hollis"), "username;name;alias;minor\nsorrel;Sorrel Reed;;no\nfenwick;Fenwick Oar;;no\n"
    teacher.post(f"{API}/classes/{in_class.school_class.pk}/roster-imports", {"csv": roster})
    secrets = links(in_class)
    told = {"sorrel": {"alias": "Red Leaf", "is_minor": True}, "fenwick": {}}
    for who, said in told.items():
        assert accept(in_class, secret=secrets[who], password="a-long-night-flight", **said).status_code == 201
    people = {who: get_user_model().objects.get(username=who) for who in told}
    assert [one.get_full_name() for one in people.values()] == ["Red Leaf", "Fenwick Oar"]
    place = Enrolment.objects.get(user=people["fenwick"])
    turned = {"is_minor": True, "alias": "Oar"}
    assert teacher.patch(f"{API}/enrolments/{place.pk}", turned).status_code == 200
    assert get_user_model().objects.get(username="fenwick").get_full_name() == "Oar"
    own = in_class.enrolment(AUTHOR)  # with an account of their own from before, which the class does not rename
    get_user_model().objects.filter(pk=own.user_id).update(first_name="Quillon", last_name="Vane")
    assert teacher.patch(f"{API}/enrolments/{own.pk}", turned).status_code == 200
    assert get_user_model().objects.get(pk=own.user_id).get_full_name() == "Quillon Vane"


def test_who_has_a_link_is_told_what_it_opens_and_for_whom(in_class):
    in_class.client("hollis").post(f"{API}/classes/{in_class.school_class.pk}/roster-imports", {"csv": ROSTER})
    told = {}
    for whom, secret in links(in_class).items():
        told[whom] = in_class.client("anonymous").post(f"{API}/invitation-previews", {"secret": secret}).json()
    of_class = {"class_title": "Drawing the page"}
    assert told["owl"] == {**of_class, "username": "owl", "alias": "Little Owl", "is_minor": True}
    assert told[""] == {**of_class, "username": "", "alias": "", "is_minor": False}
    assert links(in_class)["owl"]  # looked at, it is not used up
    assert in_class.client("anonymous").post(f"{API}/invitation-previews", {"secret": "1:forged"}).status_code == 404


def test_a_whole_class_joins_in_one_room_within_a_minute(in_class):
    Invitation.objects.update(uses_left=30)
    secret = links(in_class)[""]
    for n in range(30):
        assert in_class.client("anonymous").post(f"{API}/invitation-previews", {"secret": secret}).status_code == 200
        assert accept(in_class, secret=secret, username=f"new-{n}", password="a-lamp-by-the-stair").status_code == 201


def test_who_tries_links_without_end_is_told_when_to_go_on(in_class, monkeypatch):
    monkeypatch.setattr(LinkThrottle, "rate", "1/min")
    answers = [in_class.client("anonymous").post(f"{API}/invitation-previews", {"secret": "1:guessed"}) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [404, 429]
    assert answers[1].json()["detail"].startswith("You asked too often. Try again in ")


def test_a_link_ends(in_class):
    secret = links(in_class)[""]
    Invitation.objects.update(expires_at=timezone.now() - timedelta(seconds=1))
    assert accept(in_class, "nobody", secret=secret).status_code == 404
    for made_up in ("", "1", f"{in_class.invitation.pk}:forged", secret + "x"):
        assert accept(in_class, "nobody", secret=made_up).status_code in (400, 404)


def test_an_export_is_ones_own_and_whole(in_class):
    place = in_class.enrolment(AUTHOR)
    Revision.objects.filter(page__board__work__enrolment=place).update(photo=F("picture"))
    answer = in_class.client(AUTHOR).get(f"{API}/enrolments/{place.pk}/export")
    with zipfile.ZipFile(io.BytesIO(b"".join(answer.streaming_content))) as archive:
        facts = json.loads(archive.read("student.json"))
        picture = archive.read("assignment-1/page-1-revision-1-thumbnail.png")
        assert archive.read("assignment-1/page-1-revision-1-photograph.png") == picture
    assert picture.startswith(b"\x89PNG")
    assert facts["works"][0]["hand_ins"][0]["digest"] == in_class.hand_in.digest
    assert facts["works"][0]["pictures"][0]["minutes_spent"] == 45
    assert len(facts["critiques_given"]) == 2


def test_an_export_tells_where_notes_stand_and_of_what_a_digest_was_made(in_class):
    board, place = in_class.works[AUTHOR].board, in_class.enrolment(AUTHOR)
    revision = board.pages.get().revisions.get()
    Revision.objects.filter(pk=revision.pk).update(photo=F("picture"))
    record_panels(revision=revision, found=[{"polygon": SQUARE, "framed": True}])
    lines = [{"kind": "stroke", "points": [[0.2, 0.2], [0.3, 0.3]]}]
    teacher = access_board(in_class.people["hollis"], board.pk)
    pin_note(seat=teacher, page=board.pages.get(), body="The hand floats.", tone="try", lines=lines)
    answer = in_class.client(AUTHOR).get(f"{API}/enrolments/{place.pk}/export")
    with zipfile.ZipFile(io.BytesIO(b"".join(answer.streaming_content))) as archive:
        work = json.loads(archive.read("student.json"))["works"][0]
        (hand_in,), (picture,), (note,) = work["hand_ins"], work["pictures"], work["notes"]
        digests = {one["page"]: sha256(archive.read(f"{work['folder']}/{one['file']}")).hexdigest() for one in hand_in["files"]}
        assert f"{work['folder']}/{picture['photograph']}" in archive.namelist()
    assert hand_in["digest"] == sha256("".join(f"{page} {digest}\n" for page, digest in digests.items()).encode()).hexdigest()
    assert (note["picture"], note["page"], note["panel"]) == (picture["file"], picture["page"], 1)
    assert set(note["region"]) == {"polygon"} and note["lines"] == lines


def test_an_export_has_what_lies_beside_the_pages_and_a_deletion_counts_it(in_class):
    board, place = board_world(in_class).cast.board, in_class.enrolment(AUTHOR)
    teacher = access_board(in_class.people["hollis"], board.pk)
    add_reference(seat=teacher, file=BytesIO(png(shade=92)), title="For all to draw from", kind="prop")
    Page.objects.filter(board=board).update(happens="A door opens on the mill.")
    Panel.objects.filter(page__board=board).update(said="INES: Who is there?")
    answer = in_class.client(AUTHOR).get(f"{API}/enrolments/{place.pk}/export")
    with zipfile.ZipFile(io.BytesIO(b"".join(answer.streaming_content))) as archive:
        (work,) = json.loads(archive.read("student.json"))["works"]
        (sheet,), (reference,), (character,), (figure,) = (work[kind] for kind in ("sheets", "references", "characters", "figures"))
        for one in (sheet, reference):
            assert sha256(archive.read(f"{work['folder']}/{one['file']}")).hexdigest() == one["sha256"]
        script = archive.read(f"{work['folder']}/script.txt").decode()
        assert len([name for name in archive.namelist() if "reference" in name]) == 1  # the teacher's is the teacher's
    assert "A door opens on the mill." in script and "INES: Who is there?" in script
    (page,) = work["pages"]
    assert page["happens"] == "A door opens on the mill." and page["panels"][0]["said"] == "INES: Who is there?"
    assert (character["name"], character["model_sheets"][0]["file"]) == ("Ines", reference["file"])
    assert figure["character"] == "Ines" and figure["places"][0]["picture"] == work["pictures"][0]["file"]
    assert figure["places"][0]["marks"] == character["model_sheets"][0]["landmarks"] == MARKS
    told = in_class.client(AUTHOR).get(f"{API}/enrolments/{place.pk}/deletion").json()
    assert (told["sheets"], told["references"], told["characters"]) == (1, 1, 1)


@pytest.fixture
def kept(in_class):
    """Files of the critic's work alone."""
    work = in_class.works[CRITIC]
    picture = work.board.pages.get().revisions.get().picture
    sheet = request_review_sheet(seat=access_board(in_class.enrolment(CRITIC).user, work.board_id))
    keep_file("review-sheets/1.pdf", BytesIO(b"%PDF-"))
    record_review_sheet(sheet=sheet, file_name="review-sheets/1.pdf")
    return [picture.file_name, "review-sheets/1.pdf", *(one.file_name for one in picture.renditions.all())]


@pytest.mark.parametrize("is_delivered_before", [True, False])
def test_a_deletion_takes_files_and_rows_and_leaves_critique_without_a_name(
    in_class, kept, django_capture_on_commit_callbacks, is_delivered_before
):
    CritiqueRound.objects.update(is_anonymous=False)
    if is_delivered_before:
        deliver_round(opened=in_class.round)
    place, board = in_class.enrolment(CRITIC), in_class.works[CRITIC].board_id
    address = f"{API}/enrolments/{place.pk}/deletion"
    told = in_class.client("hollis").get(address).json()
    assert told == {"boards": 1, "pages": 1, "pictures": 1, "sheets": 0, "references": 0, "characters": 0, "hand_ins": 1,
                    "critiques_received": 2, "account": False, "critiques_kept_without_name": 1}
    assert all(file_is_kept(name) for name in kept)
    with django_capture_on_commit_callbacks(execute=True):
        assert in_class.client("hollis").post(address).json() == told
    assert not any(file_is_kept(name) for name in kept)
    assert not Board.objects.filter(pk=board).exists() and not Enrolment.objects.filter(pk=place.pk).exists()
    deliver_round(opened=in_class.round)
    given = Note.objects.get(board=in_class.works[AUTHOR].board, body__startswith="The hand floats.")
    assert given.pen_name == "a classmate"
    in_class.critique.refresh_from_db()
    assert in_class.critique.critic is None


@pytest.fixture
def signed(in_class):
    """A note of the critic's, delivered in a round that tells names."""
    CritiqueRound.objects.update(is_anonymous=False)
    deliver_round(opened=in_class.round)
    return Note.objects.get(board=in_class.works[AUTHOR].board, body__startswith="The hand floats.")


def pen_name_of(note):
    note.refresh_from_db()
    return note.pen_name


def test_a_new_alias_stands_on_what_was_given_before_and_a_deletion_finds_it(in_class, signed):
    address = f"{API}/enrolments/{in_class.enrolment(CRITIC).pk}"
    request_review_sheet(seat=in_class.board_seat(AUTHOR))
    assert pen_name_of(signed) == "marrowby-alias"
    in_class.client("hollis").patch(address, {"alias": "Wren"})
    assert (pen_name_of(signed), signed.version) == ("Wren", 2)
    assert not ReviewSheet.objects.exists()  # the old name was printed on it
    Note.objects.filter(pk=signed.pk).update(pen_name="Another name")  # deleted by whose it is, whatever it says
    in_class.client("hollis").post(f"{address}/deletion")
    assert pen_name_of(signed) == "a classmate"


def test_who_takes_another_name_is_read_by_it(in_class, signed):
    Enrolment.objects.filter(pk=in_class.enrolment(CRITIC).pk).update(alias="")
    in_class.client(CRITIC).patch(f"{API}/me", {"name": "Wren Marsh"})
    assert pen_name_of(signed) == "Wren Marsh"


def test_in_an_anonymous_round_no_alias_is_ever_told(in_class):
    deliver_round(opened=in_class.round)
    in_class.client("hollis").patch(f"{API}/enrolments/{in_class.enrolment(CRITIC).pk}", {"alias": "Wren"})
    assert set(Note.objects.exclude(pen_name="").values_list("pen_name", flat=True)) == {"a classmate"}


def test_notes_from_before_find_their_critique_or_lose_the_name(in_class, signed):
    other = Note.objects.get(board=signed.board, body="The quiet of the first panel.")
    Note.objects.filter(pk=other.pk).update(body="Words of no critique.")
    Note.objects.filter(board=signed.board).update(critique=None, pen_name="Her real name")
    import_module("board.migrations.0020_notes_by_their_critiques").link_notes(apps, None)
    assert pen_name_of(signed) == "marrowby-alias" and signed.critique == in_class.critique
    assert pen_name_of(other) == "a classmate"


def test_what_classmates_wrote_about_a_work_stays_with_them_when_it_goes(in_class):
    deliver_round(opened=in_class.round)
    critique, round_ = f"{API}/critiques/{in_class.critique.pk}", f"{API}/critique-rounds/{in_class.round.pk}"
    critic, teacher = in_class.client(CRITIC), in_class.client("hollis")
    before, counted = critic.get(critique).json(), teacher.get(round_).json()
    in_class.client(AUTHOR).post(f"{API}/enrolments/{in_class.enrolment(AUTHOR).pk}/deletion")
    after = critic.get(critique).json()
    assert after["points"] == before["points"] and after["about"] is None
    (page,) = after["pages"]
    assert page == {"page": 1, "width_px": None, "height_px": None, "is_withdrawn": True, "picture": None}
    assert teacher.get(round_).json() == counted
    assert teacher.get(critique).json()["about"] is None
    assert critic.get(f"{critique}/pages/1/renditions/400").status_code == 404
    listed = critic.get(f"{API}/assignments/{in_class.assignment.pk}/critiques").json()["results"]
    assert in_class.critique.pk in [one["id"] for one in listed]


def test_in_an_open_round_a_work_that_goes_reads_as_one_that_was_taken_back(in_class):
    critic, critique = in_class.client(CRITIC), f"{API}/critiques/{in_class.critique.pk}"
    in_class.client(AUTHOR).put(f"{API}/revisions/{in_class.works[AUTHOR].board.pages.get().revisions.get().pk}/withdrawal")
    withdrawn = critic.get(critique).content
    in_class.client(AUTHOR).post(f"{API}/enrolments/{in_class.enrolment(AUTHOR).pk}/deletion")
    assert critic.get(critique).content == withdrawn
    deliver_round(opened=in_class.round)  # what was sent on it reaches nobody, and stands in nobody's way
    assert critic.get(critique).json()["is_sent"]


def test_a_picture_that_another_row_shows_stays(in_class, kept, django_capture_on_commit_callbacks):
    picture = Picture.objects.get(revisions__page__board=in_class.works[CRITIC].board)
    in_class.works[AUTHOR].board.pages.get().revisions.update(picture=picture)
    with django_capture_on_commit_callbacks(execute=True):
        in_class.client(CRITIC).post(f"{API}/enrolments/{in_class.enrolment(CRITIC).pk}/deletion")
    assert all(file_is_kept(name) for name in kept if not name.startswith("review-sheets"))


def test_an_account_that_an_invitation_made_goes_too(in_class):
    accept(in_class, secret=links(in_class)[""], username="fenwick", password="a-long-oar-in-the-reeds")
    enrolment = Enrolment.objects.get(user__username="fenwick")
    in_class.client("hollis").post(f"{API}/enrolments/{enrolment.pk}/deletion")
    assert not get_user_model().objects.filter(username="fenwick").exists()


def test_what_outlived_its_term_is_listed_and_only_deleted_when_told(in_class):
    def run(*arguments: str) -> str:
        out = StringIO()
        call_command("expire_classes", *arguments, stdout=out)
        return out.getvalue()

    assert "No class" in run()
    today = today_at_the_latest(timezone.now())
    SchoolClass.objects.filter(pk=in_class.school_class.pk).update(ends_on=today - timedelta(days=181), kept_days=180)
    assert "3 students" in run() and SchoolClass.objects.filter(pk=in_class.school_class.pk).exists()
    assert "deleted" in run("--delete")
    assert not SchoolClass.objects.filter(pk=in_class.school_class.pk).exists() and not Work.objects.exists()
