"""Panels that changed places on the page take their notes and words along."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from board.actions.notes import pin_note
from board.actions.panels import correct_panels
from board.actions.revisions import receive_revision
from board.models import Note, NotePlace, Panel, PanelShape
from board.vision.page_registration import register_pages
from board.worker.panel_changes import found_changes
from tests.flow.conftest import drawn_array
from tests.flow.test_panel_changes import panel_ids, told
from tests.vision.drawn_stages import draw_pencil, drawn_shapes, frame_polygons
from tests.vision.test_swapped_panels import laid_into

EQUAL = [(0.06, 0.05, 0.94, 0.47), (0.06, 0.52, 0.48, 0.95), (0.52, 0.52, 0.94, 0.95)]
PLACES = [(round(600 * left), round(850 * top), round(600 * right), round(850 * bottom)) for left, top, right, bottom in EQUAL]


def swapped(gray: np.ndarray) -> np.ndarray:
    """The two lower panels in one another's place, to the pixel."""
    (left, top, right, bottom), (other, *_) = PLACES[1:]
    wide, after = right - left, gray.copy()
    after[top - 6 : bottom + 6, left - 6 : left + wide + 6] = gray[top - 6 : bottom + 6, other - 6 : other + wide + 6]
    after[top - 6 : bottom + 6, other - 6 : other + wide + 6] = gray[top - 6 : bottom + 6, left - 6 : left + wide + 6]
    return after


@pytest.fixture
def send(owner, page):
    def send(gray: np.ndarray):
        file = BytesIO()
        Image.fromarray(gray).save(file, "PNG")
        file.seek(0)
        return receive_revision(seat=owner, page=page, file=file, stage="thumbnail")

    return send


@pytest.fixture
def first(send, owner, page, work):
    """Three panels, a note and words on the second."""
    revision = send(drawn_array(EQUAL))
    work()
    second = PanelShape.objects.get(revision=revision, order=2).panel
    Panel.objects.filter(pk=second.pk).update(said="PIM: The sluice!")
    pin_note(seat=owner, page=page, region={"point": [0.2, 0.7]}, body="Too calm.", tone="must", revision=revision)
    work()
    return revision


def test_notes_and_words_go_along_with_the_drawing(first, send, work, page):
    upper, left, right = panel_ids(first)
    second = send(swapped(drawn_array(EQUAL)))
    work()
    assert panel_ids(second) == [upper, right, left]
    assert (told(second), told(second, "from")) == (["same", "moved", "moved"], [[upper], [right], [left]])
    assert NotePlace.objects.get(note__body="Too calm.", revision=second).region["point"] == pytest.approx([0.66, 0.7], abs=0.01)
    assert Note.objects.get(body="Too calm.").panel_id == left
    assert list(Panel.objects.filter(page=page, is_gone=False).order_by("order").values_list("pk", "said")) == [
        (upper, ""), (right, ""), (left, "PIM: The sluice!")]
    # And stay so on the next picture, which is compared with this one.
    third = send(swapped(drawn_array(EQUAL)))
    work()
    assert (panel_ids(third), told(third)) == ([upper, right, left], ["same"] * 3)


def test_what_people_said_of_the_panels_stands(first, send, work, owner):
    upper, left, right = panel_ids(first)
    second = send(swapped(drawn_array(EQUAL)))
    work(second)
    shapes = PanelShape.objects.filter(revision=second).order_by("order")
    correct_panels(seat=owner, revision=second, panels=[
        {"id": panel, "polygon": shape.polygon} for panel, shape in zip((upper, left, right), shapes, strict=True)])
    work()
    assert panel_ids(second) == [upper, left, right]


def test_one_that_took_anothers_place_while_that_one_was_drawn_anew_is_no_swap():
    shapes, other = drawn_shapes(seed=4), drawn_shapes(seed=40)
    pages = draw_pencil(shapes), draw_pencil([shapes[0], laid_into(shapes, 2, 1), other[2], shapes[3]])
    registration = register_pages(*pages)
    found = found_changes(frame_polygons(), frame_polygons(), registration, lambda: pages)
    assert [change.match.kind for change in found] == ["kept"] * 4
    assert [change.word for change in found] == ["same", "redrawn", "redrawn", "same"]
