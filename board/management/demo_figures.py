"""The demo's cast with its model sheets, and figures marked where they are drawn, as its people would have."""

import json
from collections.abc import Sequence
from functools import cache
from io import BytesIO
from pathlib import Path
from random import Random
from typing import Any

from board.access import Seat
from board.actions.cast import add_character
from board.actions.figures import mark_figure
from board.actions.model_sheets import add_model_sheet
from board.actions.references import add_reference
from board.figure_landmarks import LANDMARKS
from board.models import Character, Revision
from board.page_space import PictureFrame, Point
from fixtures.cast import CAST
from fixtures.demo_plans import page_plans
from fixtures.marked_figures import markable_figures
from fixtures.model_sheets import draw_model_sheet

AGE_BANDS = {"Pim": "child", "Odda": "youth", "Hask": "old", "Corrin": "adult"}
# Pictures and the panels of them in which figures are marked. In the first, Corrin is drawn too tall.
MARKED = {"pages-04-05-pencil.png": (1,), "page-01-pencil.png": (1, 2), "page-06-pencil.png": (6,), "page-07-thumbnail.png": (4,),
          "page-08-pencil.png": (2,)}
# Drawn again as on page 1, so that she is proposed there.
LEFT_TO_THE_CHECK = {("page-08-pencil.png", "Hask")}
# 1 sigma of a click, px of the picture in full size: crown and chin were set close up, the soles by eye. The same clicks each time.
CLICKED_PX = {"crown": 0.6, "chin": 0.6, "sole": 2.0}

Truth = dict[str, Any]


def load_cast(seat: Seat) -> dict[str, Character]:
    cast = {}
    for name, who in CAST.items():
        character = add_character(seat=seat, name=name, height_m=who.stature_m, age_band=AGE_BANDS.get(name, ""))
        picture, truth = draw_model_sheet(who)
        file = BytesIO()
        picture.save(file, "PNG", compress_level=3)
        file.seek(0)
        reference = add_reference(seat=seat, file=file, title=f"{name}, model sheet", kind="model-sheet")
        landmarks = _landmarks(truth["figures"][0], PictureFrame(*truth["size_px"]))
        add_model_sheet(seat=seat, character=character, reference=reference.pk, view="front", landmarks=landmarks)
        cast[name] = character
    return cast


def mark_drawn_figures(seat: Seat, cast: dict[str, Character], picture: Path, revision: Revision) -> None:
    truth = json.loads(picture.with_suffix(".json").read_text(encoding="utf-8"))
    frame, hand = PictureFrame(*truth["size_px"]), Random(picture.name)
    size = frame.height_px / _full_heights_px()[picture.name]
    clicked_px = {name: size * sigma_px for name, sigma_px in CLICKED_PX.items()}
    doubts = {name: sigma_px / frame.width_px for name, sigma_px in clicked_px.items()}
    for panel in truth["panels"]:
        for figure in markable_figures(panel) if panel["order"] in MARKED[picture.name] else []:
            if (picture.name, figure["character"]) in LEFT_TO_THE_CHECK:
                continue
            places = {"crown": figure["crown_px"], "sole": figure["sole_px"], "chin": figure["joints_px"]["chin"]}
            marks = {name: list(frame.to_page(_clicked(point, clicked_px[name], hand))) for name, point in places.items()}
            mark_figure(seat=seat, revision=revision, character=cast[figure["character"]].pk, marks=marks, doubts=doubts)


@cache
def _full_heights_px() -> dict[str, int]:
    """Of each picture of the demo, in the size that people get. To plan them all takes a third of a second."""
    return {name: plan.size_px[1] for name, plan in page_plans().items()}


def _clicked(point: Sequence[float], sigma_px: float, hand: Random) -> Point:
    x, y = point
    return x + hand.gauss(0, sigma_px), y + hand.gauss(0, sigma_px)


def _landmarks(figure: Truth, frame: PictureFrame) -> dict[str, list[float]]:
    """The drawing's joints by the names that they are marked under."""
    joints = {"crown": figure["crown_px"], "sole": figure["sole_px"]}
    for name, point in figure["joints_px"].items():
        side, _, joint = name.rpartition(" ")
        joints.setdefault(f"{joint}-{side}" if side else joint, point)
    known = {name: point for name, point in joints.items() if name in LANDMARKS and name not in ("head", "sole-left", "sole-right")}
    return {name: list(frame.to_page(point)) for name, point in known.items()}
