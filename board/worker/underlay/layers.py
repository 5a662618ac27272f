"""What an underlay shows: lines and words by layer, in px of the page. No files here."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from board.page_space import PictureFrame
from board.worker.underlay.floors import Floor, floor_of
from board.worker.underlay.guides import guides_on, posts_kept
from board.worker.underlay.layer import Layer
from board.worker.underlay.noted import mark_notes

GRID, GUIDES, NOTES = LAYER_NAMES = ("grid", "guides", "notes")


@dataclass(frozen=True)
class Drawn:
    layers: tuple[Layer, ...]  # the lowest first
    not_drawn: dict[str, str]


def draw_layers(inputs: dict[str, Any]) -> Drawn:
    """`inputs` as `board.actions.underlays` gathers them."""
    frame, options = PictureFrame(*inputs["size_px"]), inputs["options"]
    layers = {name: Layer(name) for name in LAYER_NAMES}
    not_drawn: dict[str, str] = {}
    floors: list[Floor] = []
    for panel in inputs["panels"]:
        floor = floor_of(panel, frame, options)
        if isinstance(floor, Floor):
            floors.append(floor)
            floor.draw_on(layers[GRID], options["includes"])
            not_drawn |= posts_kept(layers[GUIDES], floor, frame, panel["posts"]) if GUIDES in options["includes"] else {}
        else:
            not_drawn[str(panel["id"])] = floor.reason
    not_drawn |= guides_on(layers[GUIDES], floors, frame, options)
    mark_notes(layers[NOTES], inputs["notes"], frame)
    return Drawn(tuple(layer for layer in layers.values() if layer.name in _wanted(options["includes"])), not_drawn)


def _wanted(includes: Sequence[str]) -> set[str]:
    """The grid's layer carries the eye level and the walls too."""
    return {GRID if name in ("walls", "eye-level") else name for name in includes}
