"""The marked figures of a job's inputs, as checks take them."""

from typing import Any

from board.check_contract import CharacterUnderCheck, FigureUnderCheck


def figure_under_check(one: dict[str, Any]) -> FigureUnderCheck:
    return FigureUnderCheck(
        one["id"], one["panel"], _character(one["character"]), {name: (x, y) for name, (x, y) in one["marks"].items()},
        pose=one["pose"], ground_offset_m=one["ground_offset_m"], view=one["view"],
    )


def _character(one: dict[str, Any]) -> CharacterUnderCheck:
    heads = tuple((page, heads, sigma) for page, heads, sigma in one["heads_by_page"])
    return CharacterUnderCheck(one["id"], one["name"], one["height_m"], one["head_count"], one["segments"], heads)
