"""The marked figures of a job's inputs, as checks take them: each mark moved onto the line near it, where one is told apart."""

from typing import Any

import numpy as np

from board.check_contract import CharacterUnderCheck, FigureUnderCheck
from board.page_space import PictureFrame
from board.vision.mark_snapping import snap_marks


def figures_under_check(inputs: dict[str, Any], gray: np.ndarray) -> tuple[FigureUnderCheck, ...]:
    """None where the check looks at no figures."""
    return tuple(_figure(one, gray, inputs["tolerances"]["click"]) for one in inputs.get("figures", []))


def _figure(one: dict[str, Any], gray: np.ndarray, click: float) -> FigureUnderCheck:
    frame = PictureFrame(gray.shape[1], gray.shape[0])
    doubts_px = {name: doubt * frame.width_px for name, doubt in one.get("doubts", {}).items()}
    snapped = snap_marks(gray, {name: frame.to_pixels(point) for name, point in one["marks"].items()}, click, doubts_px)
    return FigureUnderCheck(
        one["id"], one["panel"], _character(one["character"]), {name: frame.to_page(mark.point) for name, mark in snapped.items()},
        pose=one["pose"], ground_offset_m=one["ground_offset_m"], view=one["view"],
        mark_sigma={name: mark.sigma for name, mark in snapped.items()},
    )


def _character(one: dict[str, Any]) -> CharacterUnderCheck:
    heads = tuple((page, heads, sigma) for page, heads, sigma in one["heads_by_page"])
    return CharacterUnderCheck(one["id"], one["name"], one["height_m"], one["head_count"], one["segments"], heads,
                               {int(page): count for page, count in one.get("sheet_heads", {}).items()},
                               one.get("drift_stands", False))
