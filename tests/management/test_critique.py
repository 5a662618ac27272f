"""`manage.py critique`: what it says, writes and refuses. The checks themselves are stood in for."""

import json
from io import StringIO
from pathlib import Path

import numpy as np
import pytest
from django.core.management import CommandError, call_command
from PIL import Image

from board.check_contract import Findings, PanelUnderCheck
from board.check_overlay import draw_overlay
from board.check_registry import CHECKS
from board.check_run import CheckRun
from board.not_measured import NotMeasured
from board.page_checks.print_size import place_on_paper
from tests.pictures import png

VIEW = {
    "panel": 1, "eye_level": [[0.1, 0.42], [0.9, 0.44]], "focal_px": 1204.6, "pitch_deg": -3.14, "roll_deg": 1.4,
    "vanishing_points": [{"point": [1.2, 0.43, 1.0], "role": "level", "confidence": 0.9},
                         {"point": [0.01, 1.0, 0.0], "role": "upright", "confidence": 0.9}],
}
CORNERS = ((0.9, 0.1), (0.9, 0.9), (0.1, 0.9), (0.1, 0.1))  # from the upper right one, as a tracing may begin


@pytest.fixture
def critique(tmp_path: Path, monkeypatch):
    """What it said, after a run on pictures of these names; `seen` has the pages that were measured."""
    seen = []

    def run_checks(page):
        seen.append(page)
        placed = place_on_paper(40, 60, page.format)
        views = [VIEW, {**VIEW, "panel": 2, "eye_level": None}]
        known = Findings(numbers={"panels": views}, not_measured={2: NotMeasured("3 segments found")})
        printed = placed if isinstance(placed, NotMeasured) else Findings(numbers={"dpi": 300.4, "taken_as": placed.describe()})
        unknown = [CheckRun(CHECKS[name], NotMeasured("Nobody marked one."), 0.0) for name in ("heights", "still")]
        return page, [CheckRun(CHECKS["perspective"], known, 0.5), *unknown, CheckRun(CHECKS["print-size"], printed, 0.1)]

    monkeypatch.setattr("board.management.commands.critique.run_checks", run_checks)

    def run(*arguments: str, names=("page.png",)) -> str:
        for name in names:
            (tmp_path / name).parent.mkdir(exist_ok=True)
            (tmp_path / name).write_bytes(png())
        out = StringIO()
        call_command("critique", *(str(tmp_path / name) for name in names), *arguments, stdout=out)
        return out.getvalue()

    run.seen = seen
    return run


def refused(capsys, critique, *arguments: str, **more) -> str:
    with pytest.raises(SystemExit) as ended:
        critique(*arguments, **more)
    assert ended.value.code == 2 and not critique.seen
    return capsys.readouterr().err


def test_what_is_known_of_a_panels_view_is_told_where_nothing_is_wrong(critique, tmp_path):
    told = critique("--json", str(tmp_path / "out.json"))
    assert ("panel 1: eye level at 42.0 % of the page's height on its left, 44.0 % on its right, level lines meet at "
            "120.0 % across, 43.0 % down, uprights look parallel, focal length 1205 px, pitch -3.1°, roll 1.4°") in told
    assert "panel 2: not measured: 3 segments found" in told
    perspective = json.loads((tmp_path / "out.json").read_text())["checks"][0]
    assert perspective["not_measured"] == {"2": "3 segments found"} and perspective["numbers"]["panels"][0] == VIEW


def test_any_trim_size_is_taken_and_named_where_the_picture_has_another_shape(critique):
    assert "--trim 150x225 --bleed 3" in critique()
    assert "not measured: The picture" not in critique("--trim", "100x150", "--bleed", "2")
    assert (critique.seen[-1].format.trim_width_mm, critique.seen[-1].format.bleed_mm) == (100, 2)


def test_the_side_that_is_bound_can_be_said_of_single_pages(critique):
    critique("--bound", "left")
    critique("--bound", "left", "--spread")
    assert [page.bound_at for page in critique.seen] == ["left", None]


def test_it_says_what_it_took_the_picture_for_and_what_only_a_board_can_tell(critique):
    told = critique("--trim", "100x150")
    assert "taken as a final (else say --stage pencil or thumbnail)" in told
    assert "Print size (0.10 s)\n  nothing to report\n  taken as 100 × 150 mm (trim size, by its shape), 300.4 dpi" in told
    assert "and panels and stills tied: Heights of figures, Panels against their stills" in told
    assert "Nobody marked one" not in told
    assert "final stage" in critique("--stage", "final")


def test_several_pictures_have_a_heading_each_and_lie_in_one_list(critique, tmp_path):
    told = critique("--json", str(tmp_path / "all.json"), "--overlay", str(tmp_path), names=("a.png", "b.png"))
    assert "a.png: 40 × 60 px" in told and "\n\nb.png: 40 × 60 px" in told
    assert [one["image"] for one in json.loads((tmp_path / "all.json").read_text())] == ["a.png", "b.png"]
    assert (tmp_path / "a-overlay.png").exists() and (tmp_path / "b-overlay.png").exists()


def test_pictures_of_one_name_are_told_apart_and_have_an_overlay_each(critique, tmp_path):
    names = ("ch1/p01.png", "ch2/p01.png", "ch2/p02.png", "ch2/P02.jpg")
    told = critique("--overlay", str(tmp_path), names=names)
    headings = [line.partition(":")[0] for line in told.splitlines() if ": 40 × 60 px" in line]
    assert headings == ["ch1/p01.png", "ch2/p01.png", "p02.png", "P02.jpg"]
    assert {path.name for path in tmp_path.glob("*-overlay.png")} == {
        "ch1-p01-overlay.png", "ch2-p01-overlay.png", "p02.png-overlay.png", "P02.jpg-overlay.png"}


@pytest.mark.parametrize(("arguments", "names", "words"), [
    (("--json", "no-folder/a.json"), ("a.png",), "there is no folder no-folder"),
    (("--overlay", "no-folder/a.png"), ("a.png",), "there is no folder no-folder"),
    (("--overlay", "name"), ("a.png",), "name it like name.png"),
    (("--overlay", "one.png"), ("a.png", "b.png"), "go into a folder"),
    (("--json", "."), ("a.png",), "is a folder"),
    (("--trim", "10x10"), ("a.png",), "The live area would be empty."),
])
def test_what_cannot_be_written_is_said_before_anything_is_measured(capsys, critique, arguments, names, words):
    assert words in refused(capsys, critique, *arguments, names=names)


def test_a_trim_size_that_is_none_is_asked_for_again(critique):
    with pytest.raises(CommandError, match="like 150x225"):
        critique("--trim", "large")


def test_the_overlay_has_each_number_in_the_upper_left_of_its_panel_and_its_eye_level():
    white = Image.new("RGB", (600, 600), "white")
    bare, whole = (np.asarray(draw_overlay(white, [PanelUnderCheck(1, 1, CORNERS)], [], levels)).astype(int)
                   for levels in ((), [[(0.1, 0.5), (0.9, 0.5)]]))
    inside = bare[70:120, 70:530].min(2) < 200  # below the upper border, of which 60..540 is drawn
    assert inside[:, :60].any() and not inside[:, 60:].any()
    assert (np.abs(whole - bare)[298:303, 70:530].max(2) > 40).any(0).all()
