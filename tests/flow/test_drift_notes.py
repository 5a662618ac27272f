"""A drift is told once, on the last page where its character was measured, and for as long as it is there."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from board.actions.boards import change_board
from board.actions.cast import add_character, change_character
from board.actions.figures import change_figure, mark_figure, remove_figure
from board.actions.model_sheets import add_model_sheet
from board.actions.note_states import set_note_state
from board.actions.pages import add_page
from board.actions.revisions import receive_revision
from board.models import Character, Note, Reference

PAGES = 6
EXACT = dict.fromkeys(("crown", "chin", "sole"), 0.0005)
# Ines grows by .3 heads a page, and is not on the last one; Maro by .4
HEADS = {"Ines": [6.0, 6.3, 6.6, 6.9, 7.2], "Maro": [6.0, 6.4, 6.8, 7.2, 7.6, 8.0]}


def marks(x, heads):
    return {"crown": [x, 0.1], "chin": [x, 0.1 + 0.8 / heads], "sole": [x, 0.9]}


def blank(shade) -> BytesIO:
    file = BytesIO()
    Image.fromarray(np.full((170, 120), shade, np.uint8)).save(file, "PNG")
    return file


@pytest.fixture
def drawn(owner, work):
    """Empty pages, on which nothing but proportions is measured; figures by name and page."""
    change_board(seat=owner, checks=["proportions"])
    pages = [add_page(seat=owner, number=number) for number in range(1, PAGES + 1)]
    revisions = [receive_revision(seat=owner, page=page, file=blank(255 - page.number), stage="pencil") for page in pages]
    work()
    figures = {}
    for x, (name, heads) in zip((0.3, 0.7), HEADS.items(), strict=True):
        who = add_character(seat=owner, name=name, height_m=1.7).pk
        for revision, count in zip(revisions, heads, strict=False):
            revision.refresh_from_db()
            one = mark_figure(seat=owner, revision=revision, character=who, marks=marks(x, count), doubts=EXACT)
            figures[name, revision.page.number] = one
    work()
    return figures


def told() -> set[tuple[int, str, str]]:
    rows = Note.objects.filter(finding_kind="off-model-trend", state__in=("open", "answered"))
    return {(note.page.number, note.body.split()[0], note.state) for note in rows}


def remark(owner, figure, heads):
    revision = figure.places.get().revision
    change_figure(seat=owner, figure=figure, revision=revision, expected_version=None, marks=marks(0.3, heads), doubts=EXACT)


def test_a_drift_is_told_on_its_last_page_alone_and_is_gone_when_it_is_mended(drawn, owner, work):
    assert told() == {(5, "Ines", "open"), (6, "Maro", "open")}
    for number in (1, 2, 3, 4):
        remark(owner, drawn["Ines", number], 7.2)
    work()
    assert told() == {(6, "Maro", "open")}
    answer_and_measure_all_again(owner, work)
    assert told() == {(6, "Maro", "answered")}
    remove_figure(seat=owner, figure=drawn["Maro", 6])
    work()
    assert told() == {(5, "Maro", "open")}
    grow_up_by_sheets(owner, drawn["Maro", 1])
    work()
    assert told() == set()


def test_a_drift_that_stands_is_not_told_on_later_pages(drawn, owner, work):
    note = Note.objects.get(page__number=5, finding_kind="off-model-trend", state="open")
    set_note_state(seat=owner, note=note, state="stet", expected_version=None)
    last = drawn["Maro", 6].places.get().revision
    mark_figure(seat=owner, revision=last, character=drawn["Ines", 5].character_id, marks=marks(0.3, 7.5), doubts=EXACT)
    work()
    assert told() == {(6, "Maro", "open")}


def answer_and_measure_all_again(owner, work):
    """The last page first: the others still wait, and count as they were."""
    note = Note.objects.get(page__number=6, finding_kind="off-model-trend", state="open")
    set_note_state(seat=owner, note=note, state="answered", expected_version=None)
    maro = Character.objects.get(name="Maro")
    change_character(seat=owner, character=maro, expected_version=None, height_m=1.8)
    work(note.revision)
    work()


def grow_up_by_sheets(owner, figure):
    """Each page gets a sheet of its own, with the heads that are drawn there."""
    picture = Reference.objects.create(board=owner.board, picture=figure.places.get().revision.picture, title="Sheet", kind="pose")
    for number, heads in enumerate(HEADS["Maro"], 1):
        add_model_sheet(seat=owner, character=figure.character, reference=picture.pk, from_page=number, landmarks=marks(0.5, heads))
