"""Panels that stand elsewhere on the next picture take their notes and words along."""

from io import BytesIO

import cv2
import numpy as np
import pytest
from PIL import Image

from board.actions.notes import pin_note
from board.actions.panels import correct_panels, record_shown_panels
from board.actions.revisions import receive_revision
from board.models import Note, NotePlace, Panel, PanelShape
from board.page_space import contains, middle_of
from board.vision.page_registration import register_pages
from board.worker.panel_changes import found_changes, stood_elsewhere
from tests.flow.conftest import drawn_array
from tests.flow.test_panel_changes import panel_ids, told
from tests.vision.drawn_stages import FRAMES, draw_pencil, drawn_shapes, frame_polygons
from tests.vision.test_panels_elsewhere import laid_into

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
    assert told(second, "stood_elsewhere") == [False, True, True]
    assert NotePlace.objects.get(note__body="Too calm.", revision=second).region["point"] == pytest.approx([0.66, 0.7], abs=0.01)
    assert Note.objects.get(body="Too calm.").panel_id == left
    assert list(Panel.objects.filter(page=page, is_gone=False).order_by("order").values_list("pk", "said")) == [
        (upper, ""), (right, ""), (left, "PIM: The sluice!")]
    # And stay so on the next picture, which is compared with this one.
    third = send(swapped(drawn_array(EQUAL)))
    work()
    assert (panel_ids(third), told(third)) == ([upper, right, left], ["same"] * 3)


def laid_out(gray: np.ndarray, places: list[tuple[int, int, tuple[int, int, int, int]]]) -> np.ndarray:
    """Boxes (left, top, right, bottom) of a picture on an empty page, each with its upper left corner at (x, y)."""
    after = np.full_like(gray, 255)
    for x, y, (left, top, right, bottom) in places:
        after[y : y + bottom - top, x : x + right - left] = gray[top:bottom, left:right]
    return after


def test_tiers_in_another_order_take_their_notes_along(first, send, work, page):
    upper, left, right = panel_ids(first)
    second = send(laid_out(drawn_array(EQUAL), [(0, 30, (0, 430, 600, 820)), (0, 430, (0, 30, 600, 420))]))
    work()
    assert panel_ids(second) == [left, right, upper]
    assert NotePlace.objects.get(note__body="Too calm.", revision=second).region["point"] == pytest.approx([0.2, 0.2294], abs=0.01)
    assert list(Panel.objects.filter(page=page, is_gone=False).order_by("order").values_list("pk", "said")) == [
        (left, "PIM: The sluice!"), (right, ""), (upper, "")]


def test_what_is_on_a_panel_that_slid_goes_by_its_own_map(first, send, work, owner, page):
    """The left one is cut narrower, the right one follows it with its drawing and gets wider."""
    right = panel_ids(first)[2]
    pin_note(seat=owner, page=page, region={"point": [0.7, 0.72]}, body="Which lock?", tone="ask", revision=first)
    gray = drawn_array(EQUAL)
    after = laid_out(gray, [(0, 0, (0, 0, 600, 430)), (30, 430, (30, 430, 180, 820)), (200, 430, (306, 430, 570, 820))])
    cv2.rectangle(after, (36, 442), (176, 807), 0, 4)
    cv2.rectangle(after, (206, 442), (564, 807), 0, 4)
    after[446:804, 450:464] = 255  # where its border was
    second = send(after)
    work()
    place = NotePlace.objects.get(note__body="Which lock?", revision=second)
    assert place.note.panel_id == panel_ids(second)[2] == right
    assert place.placed_by == "registered" and place.region["point"] == pytest.approx([0.7 - 106 / 600, 0.72], abs=0.01)


@pytest.mark.parametrize("lie_otherwise", [
    lambda gray: gray[::-1, ::-1].copy(),  # upside down
    lambda gray: np.pad(gray, ((20, 160), (10, 150)), constant_values=255),  # on larger paper
])
def test_a_panel_that_one_picture_lacked_comes_back_on_a_sheet_that_lies_otherwise(first, send, work, page, lie_otherwise):
    upper, left, right = panel_ids(first)
    without_left = drawn_array(EQUAL).copy()
    without_left[430:820, :300] = 255
    lacks = send(without_left)
    work()
    assert panel_ids(lacks) == [upper, right]
    again = send(lie_otherwise(drawn_array(EQUAL)))
    work()
    assert set(panel_ids(again)) == {upper, left, right}
    here = PanelShape.objects.get(panel=left, revision=again)
    place = NotePlace.objects.get(note__body="Too calm.", revision=again)
    assert contains(here.polygon, middle_of(place.region))
    assert set(Panel.objects.filter(page=page, is_gone=False)) == set(Panel.objects.filter(pk__in=(upper, left, right)))


@pytest.fixture
def names_after(upload, page):
    """What panels are called that were named so by their place, once it is known whose drawings stand there."""

    def names_after(by_place: list[Panel], shows: dict[Panel, Panel]) -> list[Panel]:
        revision = upload(page)
        PanelShape.objects.bulk_create([
            PanelShape(panel=panel, revision=revision, order=k, polygon=[[0, k / 9], [1, k / 9], [1, k / 9 + 0.1]])
            for k, panel in enumerate(by_place, start=1)])
        record_shown_panels(revision=revision, shows={place.pk: shown.pk for place, shown in shows.items()})
        return [shape.panel for shape in PanelShape.objects.filter(revision=revision).order_by("order")]

    return names_after


def test_names_follow_the_drawings(names_after, page):
    a, b, c, new = (Panel.objects.create(page=page, order=k) for k in (1, 2, 3, 4))
    put_in_behind_the_first = names_after([a, b, c, new], {c: b, new: c})
    first_taken_out = names_after([a, b], {a: b, b: c})
    moved_over_one_that_is_nowhere = names_after([a, b], {b: a})
    assert put_in_behind_the_first == [a, new, b, c]
    assert first_taken_out == [b, c]
    assert moved_over_one_that_is_nowhere == [b, a]
    assert names_after([a, b, c], {a: c, b: c}) == [a, b, c], "one drawing cannot stand in two places"


def test_what_people_said_of_the_panels_stands(first, send, work, owner):
    upper, left, right = panel_ids(first)
    second = send(swapped(drawn_array(EQUAL)))
    work(second)
    shapes = PanelShape.objects.filter(revision=second).order_by("order")
    correct_panels(seat=owner, revision=second, panels=[
        {"id": panel, "polygon": shape.polygon} for panel, shape in zip((upper, left, right), shapes, strict=True)])
    work()
    assert panel_ids(second) == [upper, left, right]


def test_one_that_took_anothers_place_goes_there_and_the_other_is_found_nowhere():
    shapes, other = drawn_shapes(seed=4), drawn_shapes(seed=40)
    pages = draw_pencil(shapes), draw_pencil([shapes[0], laid_into(shapes, 2, 1), other[2], shapes[3]])
    registration = register_pages(*pages)
    found = found_changes(frame_polygons(), frame_polygons(), registration, lambda: pages)
    assert [(change.word, change.match.before, change.match.after) for change in found] == [
        ("same", (0,), (0,)), ("moved", (2,), (1,)), ("new", (), (2,)), ("same", (3,), (3,)), ("gone", (1,), ())]


def test_a_panel_that_slid_stands_in_its_own_place():
    """That its words belong to another panel now need not be asked."""
    shapes, slide = drawn_shapes(seed=4), np.array([0, -18])
    slid = [type(shape)(shape.outline + slide, shape.tone) for shape in shapes[3]]
    pages = draw_pencil(shapes), draw_pencil([*shapes[:3], slid], (*FRAMES[:3], (30, 532, 540, 260)))
    polygons = [*frame_polygons()[:3], frame_polygons()[3] + slide]
    found = found_changes(frame_polygons(), polygons, register_pages(*pages), lambda: pages)
    assert ([change.word for change in found], [stood_elsewhere(change) for change in found]) == (
        ["same", "same", "same", "moved"], [False] * 4)
