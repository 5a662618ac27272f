"""Stage moves, held notes, states of notes, sheets and alternates, as people do them."""

from datetime import timedelta

import pytest
from django.utils import timezone

from board.actions.alternates import choose_alternate
from board.actions.note_states import open_note_again, set_note_state
from board.actions.notes import drop_held_note, pin_note, reply_to_note, send_held_notes
from board.actions.pages import add_page
from board.actions.panels import add_panel, change_panel
from board.actions.revisions import withdraw_revision
from board.actions.sheets import cut_sheet, receive_sheet
from board.actions.stage_moves import move_page, move_panel
from board.errors import AlreadyThere, MoveRefused, NotAllowed, NotPossibleNow, StaleVersion
from board.models import Board, Event, Panel, Revision
from board.models.revision import current_revision
from tests.flow.conftest import drawn_page


def test_a_page_goes_from_thumbnail_to_finished(page, upload, work, owner, artist):
    for stage, following in [("thumbnail", "pencil"), ("pencil", "final"), ("final", "final")]:
        upload(page, stage=stage)
        work()
        page = move_page(seat=artist, page=page, move="hand-in", expected_version=page.version)
        assert page.waits_for == "reviewer"
        page = move_page(seat=owner, page=page, move="sign-off", expected_version=page.version)
        assert page.stage == following
    assert page.finished_at and page.waits_for == "nobody"


def test_one_person_with_both_roles_signs_off_in_one_click(page, upload, work, owner):
    work(upload(page))
    assert move_page(seat=owner, page=page, move="sign-off", expected_version=None).stage == "pencil"


def test_a_page_begins_at_the_stage_of_its_first_picture(page, upload, owner):
    upload(page, stage="final", alternate="B")  # another try beside what is not there yet
    page.refresh_from_db()
    assert page.stage == "thumbnail"
    by_mistake = upload(page, stage="final")
    withdraw_revision(seat=owner, revision=by_mistake)
    upload(page, stage="pencil")
    upload(page, stage="final")
    page.refresh_from_db()
    assert page.stage == "pencil"


def test_a_page_that_waits_at_a_stage_nobody_drew_moves_on_by_its_next_picture(page, upload, work, owner, artist):
    work(upload(page))
    page = move_page(seat=owner, page=page, move="sign-off", expected_version=None)
    work(upload(page, stage="final", seed=2))
    page = move_page(seat=artist, page=page, move="hand-in", expected_version=None)
    assert (page.stage, current_revision(page).stage) == ("final", "final")
    work()
    assert move_page(seat=owner, page=page, move="sign-off", expected_version=None).finished_at


def test_a_page_of_a_class_begins_where_its_class_is(page, upload, board):
    Board.objects.filter(pk=board.pk).update(is_assigned=True)
    upload(page, stage="pencil")
    page.refresh_from_db()
    assert page.stage == "thumbnail"


def test_a_must_note_is_in_the_way_and_a_measured_one_is_not(page, upload, work, owner):
    work(upload(page))
    note = pin_note(seat=owner, page=page, body="The door opens the other way.", tone="must")
    with pytest.raises(MoveRefused) as refused:
        move_page(seat=owner, page=page, move="sign-off", expected_version=None)
    assert refused.value.details["code"] == "open-must-notes"
    set_note_state(seat=owner, note=note, state="settled", expected_version=None)
    assert move_page(seat=owner, page=page, move="sign-off", expected_version=None).stage == "pencil"


def test_a_running_check_is_in_the_way(page, upload, owner):
    upload(page)
    with pytest.raises(MoveRefused) as refused:
        move_page(seat=owner, page=page, move="sign-off", expected_version=None)
    assert refused.value.details["code"] in ("checks-running", "no-revision")


def test_a_page_cannot_be_moved_on_what_was_read_before_someone_else_moved_it(page, upload, work, owner, artist):
    work(upload(page))
    move_page(seat=artist, page=page, move="hand-in", expected_version=1)
    with pytest.raises(StaleVersion):
        move_page(seat=owner, page=page, move="sign-off", expected_version=1)


def test_one_panel_is_sent_back_alone_and_holds_the_page(page, upload, work, owner, artist):
    work(upload(page))
    move_page(seat=owner, page=page, move="sign-off", expected_version=None)
    work(upload(page, stage="pencil"))
    panel = Panel.objects.get(page=page, order=2)
    panel = move_panel(seat=owner, panel=panel, move="send-back", to_stage="thumbnail", why="Find the shot again.",
                       expected_version=None)
    assert panel.sent_back_to == "thumbnail"
    assert panel.notes.get().tone == "must"
    with pytest.raises(MoveRefused) as refused:
        move_page(seat=owner, page=page, move="sign-off", expected_version=None)
    assert refused.value.details["code"] == "panels-sent-back"
    set_note_state(seat=owner, note=panel.notes.get(), state="settled", expected_version=None)

    def go(seat, move):
        panel = move_panel(seat=seat, panel=Panel.objects.get(page=page, order=2), move=move, expected_version=None)
        return panel.sent_back_to, panel.own_state

    with pytest.raises(MoveRefused) as refused:
        go(artist, "hand-in")
    assert refused.value.details["code"] == "not-drawn-anew"
    work(upload(page, stage="thumbnail", panel=panel, alternate="B", seed=5))
    Revision.objects.filter(panel=panel).update(uploaded_at=timezone.now() - timedelta(hours=1))  # by a clock that was set back
    assert go(artist, "hand-in") == ("thumbnail", "handed in")
    # The page is a pencil: what was found in the thumbnail is drawn there too, before the panel is with its page again.
    assert go(owner, "sign-off") == ("pencil", "sent back")
    with pytest.raises(MoveRefused):
        go(artist, "hand-in")
    work(upload(page, stage="pencil", seed=6))
    assert [go(artist, "hand-in"), go(owner, "sign-off")] == [("pencil", "handed in"), ("", "")]
    assert move_page(seat=owner, page=page, move="sign-off", expected_version=None).stage == "final"


def test_a_panel_sent_back_by_mistake_is_signed_off_as_it_is(page, upload, work, owner):
    work(upload(page, stage="final"))
    for to_stage in ("thumbnail", "final"):
        panel = Panel.objects.get(page=page, order=2)
        panel = move_panel(seat=owner, panel=panel, move="send-back", to_stage=to_stage, expected_version=None)
        assert move_panel(seat=owner, panel=panel, move="sign-off", expected_version=None).own_state == ""


def test_held_notes_are_sent_together_and_told_of_once(page, owner, board):
    held = [pin_note(seat=owner, page=page, body=body, tone="try", is_held=True) for body in ("First.", "Second.")]
    assert not Event.objects.filter(board=board, only_for=None, kind__startswith="note").exists()
    sent = send_held_notes(seat=owner)
    assert [note.pk for note in sent] == [note.pk for note in held]
    assert [note.state for note in sent] == ["open", "open"]
    (event,) = Event.objects.filter(board=board, kind="notes-sent")
    assert event.data["notes"] == [note.pk for note in held]


def test_a_held_note_can_be_dropped_and_a_sent_one_cannot(page, owner):
    held = pin_note(seat=owner, page=page, body="Hm.", tone="ask", is_held=True)
    sent = pin_note(seat=owner, page=page, body="Who speaks?", tone="ask")
    drop_held_note(seat=owner, note=held, expected_version=None)
    with pytest.raises(NotPossibleNow):
        drop_held_note(seat=owner, note=sent, expected_version=None)


def test_an_artist_answers_and_the_editor_settles(page, owner, artist):
    note = pin_note(seat=owner, page=page, body="The lamp hangs too low.", tone="must")
    reply_to_note(seat=artist, note=note, body="Raised.")
    note = set_note_state(seat=artist, note=note, state="answered", expected_version=None)
    with pytest.raises(NotAllowed):
        set_note_state(seat=artist, note=note, state="settled", expected_version=None)
    note = set_note_state(seat=owner, note=note, state="settled", expected_version=None)
    assert (note.state, note.closed_by) == ("settled", owner.user)
    assert open_note_again(seat=owner, note=note, from_state="settled", expected_version=None).closed_by is None


def test_a_spread_takes_two_numbers(page, owner):
    spread = add_page(seat=owner, number=2, is_spread=True)
    assert spread.numbers == (2, 3)
    with pytest.raises(AlreadyThere):
        add_page(seat=owner, number=3)


def test_events_are_numbered_without_gaps(page, owner, board):
    pin_note(seat=owner, page=page, body="One.", tone="try")
    pin_note(seat=owner, page=page, body="Two.", tone="try", is_held=True)
    numbers = list(Event.objects.filter(board=board).values_list("number", flat=True))
    assert numbers == list(range(1, len(numbers) + 1))


def test_a_sheet_is_cut_into_thumbnails_of_its_pages(page, owner, work):
    second = add_page(seat=owner, number=2)
    sheet = receive_sheet(seat=owner, file=drawn_page([(0.06, 0.1, 0.46, 0.9), (0.54, 0.1, 0.94, 0.9)], size=(900, 600)))
    work()
    sheet.refresh_from_db()
    assert len(sheet.found) == 2
    cuts = [{"polygon": one["polygon"], "page": where.pk} for one, where in zip(sheet.found, (page, second), strict=True)]
    cut_sheet(seat=owner, sheet=sheet, cuts=cuts[::-1])
    work()
    assert list(Revision.objects.order_by("pk").values_list("page", flat=True)) == [page.pk, second.pk]  # not as the parts lie
    for where in (page, second):
        revision = Revision.objects.get(page=where)
        assert (revision.stage, revision.state, revision.cut_from["sheet"]) == ("thumbnail", "ready", sheet.pk)
        assert abs(revision.picture.width_px - 0.4 * 900) < 12


def test_another_try_at_a_page_is_kept_beside_the_chosen_one(page, upload, work, owner):
    first = upload(page)
    other = upload(page, alternate="B", seed=3)
    work()
    assert current_revision(page) == first
    page = choose_alternate(seat=owner, subject=page, alternate="B", expected_version=None)
    work()
    assert current_revision(page) == other
    assert Revision.objects.filter(page=page).count() == 2


def test_words_of_a_panel_are_there_before_any_drawing(page, owner):
    panel = add_panel(seat=owner, page=page, happens="Water over the sill.")
    panel = change_panel(seat=owner, panel=panel, said="OLD HAND: Leave it.", expected_version=panel.version)
    assert (panel.order, panel.happens, panel.said) == (1, "Water over the sill.", "OLD HAND: Leave it.")
