"""What changed in each panel is worked out with every upload, and kept with the map between the two pictures."""

from board.actions.cast import add_character
from board.actions.figures import mark_figure
from board.actions.notes import pin_note
from board.actions.panels import correct_panels
from board.models import Event, Job, NotePlace, Panel, PanelShape
from tests.flow.conftest import THREE_PANELS, TWO_TIERS


def comparison(revision) -> dict:
    return Job.objects.get(revision=revision, kind="carry-notes").numbers


def told(revision, name: str = "word") -> list:
    return [row[name] for row in comparison(revision)["panels"]]


def panel_ids(revision) -> list[int]:
    return list(PanelShape.objects.filter(revision=revision).order_by("order").values_list("panel_id", flat=True))


def test_the_first_picture_of_a_page_is_compared_with_nothing(page, upload, work):
    revision = upload(page)
    work()
    assert not Job.objects.filter(revision=revision, kind="carry-notes").exists()


def test_the_same_picture_again_leaves_every_panel_the_same(page, upload, work):
    first, second = upload(page, THREE_PANELS), upload(page, THREE_PANELS)
    work()
    assert told(second) == ["same"] * 3
    assert told(second, "match") == ["kept"] * 3
    assert told(second, "panel") == panel_ids(second) == panel_ids(first)
    assert (comparison(second)["before"], comparison(second)["gone"]) == (first.pk, [])


def test_a_panel_drawn_anew_is_told_apart_from_those_that_stayed(page, upload, work, owner):
    first = upload(page, THREE_PANELS)
    work()
    first.refresh_from_db()
    pins = [pin_note(seat=owner, page=page, region={"point": at}, body="Here.", tone="try", revision=first)
            for at in ([0.5, 0.2], [0.2, 0.7])]
    who = add_character(seat=owner, name="Ines", height_m=1.7).pk
    figures = [mark_figure(seat=owner, revision=first, character=who, marks={"crown": [x, y], "sole": [x, y + 0.02]}, doubts={})
               for x, y in ([0.5, 0.2], [0.2, 0.7])]
    second = upload(page, THREE_PANELS, redrawn=[1])
    work()
    assert told(second)[0] == told(second)[2] == "same"
    assert told(second)[1] in ("redrawn", "touched")
    assert [NotePlace.objects.get(note=pin, revision=second).placed_by for pin in pins] == ["registered", "panel"]
    assert [figure.places.get(revision=second).placed_by for figure in figures] == ["registered", "lost"]


def test_a_panel_that_came_is_new_and_one_that_went_is_gone(page, upload, work):
    first = upload(page, TWO_TIERS)
    second = upload(page, TWO_TIERS[:1])
    third = upload(page, TWO_TIERS)
    work()
    assert (told(second), comparison(second)["gone"]) == (["same"], panel_ids(first)[1:])
    # New beside the picture before, and yet the panel that it was, with its words.
    assert told(third) == ["same", "new"] and panel_ids(third) == panel_ids(first)


def test_after_a_wrong_file_each_panel_comes_back_with_its_words(page, upload, work):
    first = upload(page, THREE_PANELS)
    work()
    for panel in Panel.objects.filter(page=page):
        Panel.objects.filter(pk=panel.pk).update(said=f"PIM: {panel.order}!")
    wrong = upload(page, [(0.06, 0.05, 0.94, 0.95)])
    work()
    assert len(panel_ids(wrong)) == 1
    again = upload(page, THREE_PANELS, seed=4)
    work()
    assert panel_ids(again) == panel_ids(first)
    rows = Panel.objects.filter(page=page, is_gone=False).order_by("order")
    assert list(rows.values_list("order", "said")) == [(1, "PIM: 1!"), (2, "PIM: 2!"), (3, "PIM: 3!")]


def test_what_took_another_panels_place_since_is_not_that_panel(page, upload, work):
    """The lower panel was dropped, and then a smaller one drawn over a part of where it was."""
    first, _ = upload(page, TWO_TIERS), upload(page, TWO_TIERS[:1])
    third = upload(page, [TWO_TIERS[0], (0.06, 0.52, 0.55, 0.95)])
    work()
    assert panel_ids(third)[0] == panel_ids(first)[0] and panel_ids(third)[1] not in panel_ids(first)


def test_each_part_of_a_split_panel_says_where_it_came_from(page, upload, work):
    first, second = upload(page, TWO_TIERS), upload(page, THREE_PANELS)
    work()
    halves = [row for row in comparison(second)["panels"] if row["match"] == "split"]
    assert [row["from"] for row in halves] == [[panel_ids(first)[1]]] * 2


def test_another_note_compares_nothing_again(page, upload, work, owner, monkeypatch):
    first, second = upload(page), upload(page)
    work()
    before = comparison(second)["panels"]
    monkeypatch.setattr("board.worker.panel_changes.change_map", None)
    pin_note(seat=owner, page=page, region={"point": [0.3, 0.7]}, body="Late.", tone="ask", revision=first)
    work()
    assert comparison(second)["panels"] == before
    assert Event.objects.filter(kind="panels-compared").count() == 1


def test_a_corrected_panel_is_compared_again_on_the_picture_and_on_the_next(page, upload, work, owner):
    first, second = upload(page), upload(page)
    work()
    first.refresh_from_db()
    shapes = [{"id": shape.panel_id, "polygon": shape.polygon} for shape in PanelShape.objects.filter(revision=first)]
    correct_panels(seat=owner, revision=first, panels=shapes[:1])
    work()
    assert told(second) == ["same", "new"]
    assert Event.objects.filter(kind="panels-compared").count() == 2


def test_a_panel_that_is_not_found_again_but_keeps_its_number_is_redrawn(page, upload, work):
    upload(page, [(0.06, 0.05, 0.94, 0.95)])
    second = upload(page, [(0.06, 0.05, 0.30, 0.20)], seed=5)
    work()
    assert told(second) == ["redrawn"]
    assert comparison(second)["gone"] == []
