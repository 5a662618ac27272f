"""From a measured panel to the files that an artist draws on."""

import zipfile
from collections.abc import Callable
from io import BytesIO
from itertools import pairwise
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from PIL import Image

from board.actions.figure_posts import set_figure_posts
from board.actions.given_perspectives import set_given_perspective
from board.actions.notes import pin_note
from board.actions.underlays import INCLUDES, request_underlay
from board.check_contract import Findings
from board.errors import NotPossibleNow, NotValid
from board.ground_view import ground_view
from board.models import Event, Job, Panel, Revision, Underlay
from board.not_measured import NotMeasured
from board.picture_files import open_file
from board.worker.underlay.floors import Floor
from board.worker.underlay.guides import NO_FLOOR, TOO_FAR
from board.worker.underlay.layer import Layer
from board.worker.underlay.layers import draw_layers
from board.worker.underlay.lettering import font_of
from board.worker.underlay.raster import as_picture
from board.worker.underlay.svg import as_svg
from tests.kept_rows import KeptRows

SVG = "{http://www.w3.org/2000/svg}"
FOOT = [0.5, 0.42]


@pytest.fixture
def perspective_is_known(monkeypatch) -> None:
    """The first panel is seen from a level camera with its eye level at its middle; the second shows nothing."""

    def check(page):
        first, second = page.panels
        numbers = {"panel": first.id, "eye_level": [[0.06, 0.26], [0.94, 0.26]], "focal_px": 500.0,
                   "vanishing_points": [{"point": [0.45, 0.26, 1.0], "role": "level", "confidence": 0.9},
                                        {"point": [0.0, 1.0, 0.0], "role": "upright", "confidence": 0.9},
                                        {"point": [1.0, 0.0, 0.0], "role": "level", "confidence": 0.5}]}
        return Findings((), {second.id: NotMeasured("3 segments found; 8 are needed")}, {"panels": [numbers]})

    monkeypatch.setattr("board.page_checks.perspective.check", check)


def make_measured(page, upload, work) -> Revision:
    uploaded = upload(page)
    work(uploaded)
    uploaded.refresh_from_db()
    return uploaded


MEASURED = KeptRows(make_measured)


@pytest.fixture
def revision(page, upload, work, perspective_is_known) -> Revision:
    return MEASURED.stand(page, upload, work)


@pytest.fixture
def make(owner, revision, work) -> Callable[..., Underlay]:
    def make(panel: Panel | None = None, **options) -> Underlay:
        underlay = request_underlay(seat=owner, revision=revision, panel=panel, options=options)
        work()
        underlay.refresh_from_db()
        assert underlay.state == "ready", Job.objects.get(underlay=underlay).reason
        return underlay

    return make


def content_of(underlay: Underlay, kind: str) -> bytes:
    with open_file(underlay.files[kind]) as file:
        return file.read()


def groups_of(underlay: Underlay) -> dict[str, ET.Element]:
    root = ET.fromstring(content_of(underlay, "svg"))
    return {group.get("id", ""): group for group in root.findall(f"{SVG}g")}


def strokes_of(group: ET.Element) -> dict[str, list[str]]:
    return {path.get("class", ""): path.get("d", "").split("M")[1:] for path in group.findall(f"{SVG}path")}


def test_three_files_are_made_and_their_board_is_told(make, revision):
    underlay = make()
    assert set(underlay.files) == {"svg", "png", "ora"}
    assert Event.objects.filter(kind="underlay-ready", data__underlay=underlay.pk).exists()


def test_a_panel_that_is_not_measured_says_why_it_has_no_grid(make, revision):
    second = revision.shapes.get(order=2).panel
    assert make().not_drawn == {str(second.pk): "3 segments found; 8 are needed"}


def test_an_eye_level_set_by_hand_is_enough_for_a_grid(make, owner, revision):
    second = revision.shapes.get(order=2).panel
    given = {"eye_level": [[0.1, 0.7], [0.9, 0.7]]}
    set_given_perspective(seat=owner, panel=second, given=given, expected_version=None)
    underlay = make(panel=second, includes=["eye-level", "grid"])
    assert underlay.not_drawn == {}
    level = strokes_of(groups_of(underlay)["eye-level"])["eye-level"][0]
    assert {float(point.split()[1]) for point in level.split("L")} == {595.0}  # 0.7 of 850


def test_the_svg_has_the_pages_size_and_a_group_for_each_layer(make):
    underlay = make()
    root = ET.fromstring(content_of(underlay, "svg"))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("600", "850", "0 0 600 850")
    groups = groups_of(underlay)
    assert list(groups) == ["walls", "floor", "eye-level", "guides", "notes"]
    assert [set(strokes_of(groups[name])) for name in ("walls", "floor", "eye-level")] == [{"wall"}, {"floor"}, {"eye-level"}]


def test_only_what_is_asked_for_is_drawn(make):
    groups = groups_of(make(includes=["eye-level"]))
    assert list(groups) == ["eye-level"]
    assert set(strokes_of(groups["eye-level"])) == {"eye-level"}
    assert groups["eye-level"].findall(f"{SVG}text")  # without squares the eye level says what there is to say


def test_the_png_is_of_the_pages_own_size_and_clear_where_nothing_is_drawn(make):
    picture = Image.open(BytesIO(content_of(make(), "png")))
    assert (picture.size, picture.mode) == ((600, 850), "RGBA")
    alpha = np.asarray(picture)[..., 3]
    assert 0.01 < (alpha > 0).mean() < 0.5
    assert (alpha[230, 60:540] == 0).any() and alpha[220:222, 100:500].max() == 255  # the eye level, 0.26 of 850
    assert alpha[500:].max() == 0  # the lower panel has no grid


def test_the_openraster_file_opens_by_its_standard(make, revision):
    archive = zipfile.ZipFile(BytesIO(content_of(make(), "ora")))
    first = archive.infolist()[0]
    assert (first.filename, first.compress_type, archive.read(first)) == ("mimetype", zipfile.ZIP_STORED, b"image/openraster")
    image = ET.fromstring(archive.read("stack.xml"))
    assert (image.get("w"), image.get("h")) == ("600", "850")
    layers = image.findall("stack/layer")
    assert [layer.get("name") for layer in layers] == ["notes", "guides", "eye-level", "floor", "walls", "drawing"]
    for layer in layers:
        assert Image.open(archive.open(layer.get("src"))).size == (600, 850)
    assert max(Image.open(archive.open("Thumbnails/thumbnail.png")).size) <= 256
    with open_file(revision.picture.file_name) as file:
        assert np.array_equal(np.asarray(Image.open(archive.open("data/drawing.png"))), np.asarray(Image.open(file)))


def test_the_merged_picture_is_the_drawing_with_the_layers_on_it(make):
    archive = zipfile.ZipFile(BytesIO(content_of(make(includes=["grid"]), "ora")))
    merged, drawing, grid = (np.asarray(Image.open(archive.open(name)).convert("RGBA")).astype(int)
                             for name in ("mergedimage.png", "data/drawing.png", "data/floor.png"))
    clear = grid[..., 3] == 0
    assert np.array_equal(merged[clear], drawing[clear])
    full = grid[..., 3] == 255
    assert np.array_equal(merged[full][:, :3], grid[full][:, :3])


def test_an_underlay_comes_back_as_a_revision(make, upload, page, owner, work):
    """What an artist saves on top of it can be uploaded as it is."""
    from board.actions.revisions import receive_revision

    again = receive_revision(seat=owner, page=page, file=BytesIO(content_of(make(), "ora")), stage="pencil")
    work()
    again.refresh_from_db()
    assert (again.state, again.picture.width_px) == ("ready", 600)


def test_a_post_and_a_box_stand_to_scale_once_the_eye_height_is_known(make):
    """The eye level cuts a post of 3.2 m at its half when the eye is 1.6 m high; a door of 3.2 m reaches as far."""
    posts, boxes = [{"foot": FOOT, "height_m": 3.2, "heads": 8}], [{"foot": FOOT, "width_m": 1.0, "height_m": 3.2}]
    underlay = make(eye_height_m=1.6, posts=posts, boxes=boxes)
    strokes = strokes_of(groups_of(underlay)["guides"])
    foot, top = (np.array(point.split(), float) for point in strokes["post"][0].split("L"))
    assert (foot, top) == (pytest.approx([300.0, 357.0]), pytest.approx([300.0, 85.0]))
    ends = np.array([point.split() for edge in strokes["box"] for point in edge.split("L")], float)
    assert ends[:, 1].min() == pytest.approx(85.0, abs=0.01)
    assert np.ptp(ends[:, 0]) == pytest.approx(136 / 1.6, abs=0.02)  # 136 px below the eye level are its 1.6 m


def test_a_known_height_gives_the_measure(make):
    known = {"foot": FOOT, "top": [0.5, 0.34], "height_m": 0.8}  # half of the way up to the eye level
    words = [text.text for text in groups_of(make(known_height=known))["floor"].findall(f"{SVG}text")]
    assert words == ["Squares of 1 m, eye level 1.60 m over the floor"]


def test_the_words_under_the_grid_of_a_narrow_panel_stay_in_it():
    polygon = [(110.0, 100.0), (190.0, 100.0), (190.0, 400.0), (100.0, 400.0)]
    view = ground_view((0.0, 1.0, -200.0), [], None, middle=(145.0, 250.0), diagonal_px=313.0, eye_height_m=1.6)
    floor, layer = Floor(polygon, view, 1.0), Layer("floor")
    floor.draw_on({"grid": layer}, ["grid"], 12.0)
    assert " ".join(words.text for words in layer.words) == floor.says() and len(layer.words) > 3
    assert all(words.at[0] >= 100 and words.at[0] + font_of(12.0).getlength(words.text) <= 190 for words in layer.words)
    feet = [words.at[1] for words in layer.words]
    assert feet[-1] == 400 and all(below - above >= 12 for above, below in pairwise(feet))


def test_on_a_strip_for_scrolling_ink_and_words_are_those_of_a_page_of_its_width():
    def drawn(height: int) -> tuple[list[str], np.ndarray]:
        def on_page(*corners):
            return [[x / 800, y / height] for x, y in corners]

        panel = {"id": 1, "polygon": on_page((50, 100), (750, 100), (750, 900), (50, 900)), "reason": "", "eye_height_m": 1.6,
                 "posts": [], "numbers": {"eye_level": on_page((50, 400), (750, 400)), "vanishing_points": []}}
        note = {"region": {"point": on_page((300, 300))[0]}, "lines": [], "body": "Lower", "kind": "person"}
        options = {"includes": INCLUDES}
        layers = draw_layers({"size_px": [800, height], "options": options, "panels": [panel], "notes": [note]}).layers
        groups = [ET.tostring(group, encoding="unicode") for group in ET.fromstring(as_svg(layers, (800, height)))]
        return groups, np.asarray(as_picture(layers[1], (800, height)))[:1000]

    (page, page_picture), (strip, strip_picture) = drawn(1280), drawn(6000)
    assert page == strip and "Lower" in page[-1]
    assert np.array_equal(page_picture, strip_picture) and page_picture.any()


def test_what_has_no_measure_or_no_floor_is_told(make):
    underlay = make(posts=[{"foot": FOOT, "height_m": 1.7}], boxes=[{"foot": [0.5, 0.8], "width_m": 1.0, "height_m": 2.0}])
    assert "eye" in underlay.not_drawn["post 1"]
    assert underlay.not_drawn["box 1"] == "It stands in no panel whose perspective is measured."


def ends_of(strokes: list[str]) -> np.ndarray:
    return np.array([[point.split() for point in stroke.split("L")] for stroke in strokes], float)


def test_where_a_panel_is_named_its_frame_cuts_off_what_stands_beyond_it(make, owner, revision):
    """The foot lies as far below the eye level as the head of a post of twice the eye's height above it: both beyond the frame."""
    shape = revision.shapes.get(order=1)
    ys = [850 * y for _, y in shape.polygon]
    below = {"posts": [{"foot": [0.5, 0.6], "height_m": 3.2, "name": "Maro"}],
             "boxes": [{"foot": [0.5, 0.6], "width_m": 1.0, "height_m": 1.5}]}
    set_figure_posts(seat=owner, panel=shape.panel, posts=[{"foot": [0.3, 0.6], "height_m": 1.6}], expected_version=None)
    underlay = make(shape.panel, eye_height_m=1.6, **below)
    assert underlay.not_drawn == {}
    strokes = strokes_of(groups_of(underlay)["guides"])
    (kept, post), box = ends_of(strokes["post"]), ends_of(strokes["box"])
    assert post[:, 0] == pytest.approx([300.0, 300.0]) and sorted(post[:, 1]) == pytest.approx([min(ys), max(ys)], abs=3)
    assert sorted(kept[:, 1]) == pytest.approx([0.26 * 850, max(ys)], abs=3)  # up to the eye level
    assert box[..., 1].max() <= max(ys) + 1 and len(box) >= 2
    assert [one.text for one in groups_of(underlay)["guides"].findall(f"{SVG}text")] == ["1.6 m"]
    unnamed = make(eye_height_m=1.6, **below).not_drawn
    assert (unnamed["post 1"], unnamed["box 1"]) == (NO_FLOOR.reason, NO_FLOOR.reason)
    far = make(shape.panel, eye_height_m=1.6, posts=[{"foot": [0.5, 0.95], "height_m": 1.7}])
    assert far.not_drawn == {"post 1": TOO_FAR.reason}


def test_notes_lie_on_it_but_no_held_ones(make, owner, page, revision):
    region = {"polygon": [[0.2, 0.1], [0.4, 0.1], [0.4, 0.3], [0.2, 0.3]]}
    pin_note(seat=owner, page=page, body="The <lamp> hangs\ntoo low & far.", tone="try", region=region)
    pin_note(seat=owner, page=page, body="Not yet.", tone="ask", region={"point": [0.5, 0.5]}, is_held=True)
    notes = groups_of(make())["notes"]
    assert [text.text for text in notes.findall(f"{SVG}text")] == ["The <lamp> hangs too low & far."]
    assert len(strokes_of(notes)["person"]) == 8


def test_of_one_panel_only_that_panel_is_drawn(make, revision):
    first, second = (shape.panel for shape in revision.shapes.order_by("order"))
    assert make(panel=first).not_drawn == {}
    assert list(make(panel=second).not_drawn) == [str(second.pk)]


def test_asked_for_twice_it_is_made_once_and_a_new_note_makes_it_anew(make, owner, page):
    first = make()
    assert make() == first
    pin_note(seat=owner, page=page, body="Higher.", tone="try", region={"point": [0.3, 0.3]})
    assert make() != first


def test_a_picture_that_is_not_read_yet_has_no_underlay(owner, page, upload):
    with pytest.raises(NotPossibleNow):
        request_underlay(seat=owner, revision=upload(page, seed=5))


def test_a_panel_of_another_revision_is_refused(owner, page, upload, work, revision):
    gone = Panel.objects.create(page=page, order=9)
    with pytest.raises(NotValid):
        request_underlay(seat=owner, revision=revision, panel=gone)


def test_work_that_was_given_up_is_said_and_can_be_asked_for_again(make, owner, revision, work, monkeypatch, settings):
    settings.MOST_TRIES = 1
    with monkeypatch.context() as broken:
        broken.setattr("board.worker.underlays.draw_layers", lambda inputs: 1 / 0)
        underlay = request_underlay(seat=owner, revision=revision)
        work()
    underlay.refresh_from_db()
    assert (underlay.state, "ZeroDivisionError" in underlay.reason) == ("failed", True)
    assert make() == underlay


def test_posts_that_stand_in_a_panel_are_drawn_with_their_heads(make, owner, revision):
    first = revision.shapes.get(order=1).panel
    post = {"foot": [0.5, 0.42], "height_m": 1.75, "heads": 7.0, "name": "Pim"}
    set_figure_posts(seat=owner, panel=first, posts=[post], eye_height=1.6, expected_version=None)
    drawn = strokes_of(groups_of(make(panel=first, includes=["guides"]))["guides"])
    assert (len(drawn["post"]), len(drawn["tick"])) == (1, 6)
    assert drawn["post"][0].startswith("300.00 357.00")
    assert groups_of(make(panel=first, includes=["grid"])).keys() == {"floor"}
