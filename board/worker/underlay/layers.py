"""What an underlay shows: lines and words by layer, in px of the page. No files here."""

from dataclasses import dataclass
from typing import Any

from board.page_space import PictureFrame
from board.worker.underlay.floors import Floor, floor_of
from board.worker.underlay.guides import guides_on, posts_kept
from board.worker.underlay.layer import Layer
from board.worker.underlay.noted import mark_notes
from board.worker.underlay.style import letters_px, page_height_px

# What an underlay may include -> the name of its layer, the lowest first.
LAYER_NAMES = {"walls": "walls", "grid": "floor", "eye-level": "eye-level", "guides": "guides", "notes": "notes"}


@dataclass(frozen=True)
class Drawn:
    layers: tuple[Layer, ...]  # the lowest first
    not_drawn: dict[str, str]


def draw_layers(inputs: dict[str, Any]) -> Drawn:
    """`inputs` as `board.actions.underlays` gathers them."""
    frame, options = PictureFrame(*inputs["size_px"]), inputs["options"]
    includes = options["includes"]
    layers = {what: Layer(name) for what, name in LAYER_NAMES.items()}
    not_drawn: dict[str, str] = {}
    floors: list[Floor] = []
    for panel in inputs["panels"]:
        floor = floor_of(panel, frame, options)
        if isinstance(floor, Floor):
            floors.append(floor)
            floor.draw_on(layers, includes, letters_px(page_height_px(frame.width_px, frame.height_px)))
            not_drawn |= posts_kept(layers["guides"], floor, frame, panel["posts"]) if "guides" in includes else {}
        else:
            not_drawn[str(panel["id"])] = floor.reason
    not_drawn |= guides_on(layers["guides"], floors, frame, options)
    mark_notes(layers["notes"], inputs["notes"], frame)
    return Drawn(tuple(layer for what, layer in layers.items() if what in includes), not_drawn)
