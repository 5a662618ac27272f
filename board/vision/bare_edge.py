"""Which stretches of the picture's edge are bare paper, and which cut through a panel of line art that bleeds off."""

import cv2
import numpy as np

from board.vision.page_piece import page_side_px

# Shares from trials on pages and drawn layouts, no source.
LEAST_DRAWING = 0.05  # of the longer side: a smaller speck on the edge parts nothing
THICKEST_STROKE = 0.012  # of the longer side: what is thicker on the edge is a tone or a solid
LEAST_BARE = 0.5  # of the way round: paper for so long is margin, whatever ends it
LEAST_MARGIN = 0.08  # of the way round: and for so long, if nothing is drawn near it either
MARGIN_DEPTH = 0.015  # of the longer side: "near"
WIDEST_GUTTER = 0.07  # of the longer side: between two strokes, so narrow and straight a way inwards is a gutter's end
GUTTER_DEPTH = 0.15  # of the longer side


def bare_edge(paper: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Rows and columns of those points on the edge of `paper` (bool (H, W)) that are paper of the page and not of a panel.

    Where strokes run off the picture one after the other, the paper between them belongs to a panel that bleeds off. Paper beside a
    tone or a solid is a gutter's end or a margin, however short.
    """
    rows, columns = _way_round(paper.shape)
    on_paper = paper[rows, columns] | _on_specks(paper, rows, columns)
    starts = np.flatnonzero(on_paper != np.roll(on_paper, 1))
    if len(starts) == 0:
        return rows[on_paper], columns[on_paper]
    lengths = np.diff(np.append(starts, starts[0] + len(rows)))
    longer = page_side_px(paper.shape)
    thickest = THICKEST_STROKE * longer
    clear = on_paper & _clear_inwards(paper, rows, columns, MARGIN_DEPTH * longer)
    deep = on_paper & _clear_inwards(paper, rows, columns, GUTTER_DEPTH * longer)
    bare = np.zeros(len(rows), bool)
    for k, (start, length) in enumerate(zip(starts, lengths, strict=True)):
        if not on_paper[start]:
            continue
        thinner = min(lengths[k - 1], lengths[(k + 1) % len(lengths)])
        way = np.arange(start, start + length) % len(rows)
        margin = length >= LEAST_MARGIN * len(rows) and clear[way].mean() > 0.97
        gutter = length <= WIDEST_GUTTER * longer and deep[way[length // 5 : length - length // 5]].mean() > 0.95
        if length >= LEAST_BARE * len(rows) or thinner > thickest or margin or gutter:
            bare[way] = True
    return rows[bare], columns[bare]


def _way_round(shape: tuple[int, int]) -> tuple[np.ndarray, np.ndarray]:
    """The edge of a picture, clockwise from the top left corner, each point once (twice where it is one pixel thin)."""
    height, width = shape
    across, down = np.arange(width), np.arange(height)
    rows = np.concatenate([np.zeros(width, int), down[1:], np.full(width - 1, height - 1), down[-2:0:-1]])
    columns = np.concatenate([across, np.full(height - 1, width - 1), across[-2::-1], np.zeros(max(0, height - 2), int)])
    return rows, columns


def _clear_inwards(paper: np.ndarray, rows: np.ndarray, columns: np.ndarray, depth_px: float) -> np.ndarray:
    """Which points of the edge have paper for `depth_px` straight into the picture too."""
    height, width = paper.shape
    clear = np.ones(len(rows), bool)
    for depth in np.linspace(1, depth_px, 4 + round(depth_px / 4)):
        near_row, near_column = min(round(depth), height // 2), min(round(depth), width // 2)
        inner_rows = np.clip(rows, near_row, height - 1 - near_row)
        inner_columns = np.clip(columns, near_column, width - 1 - near_column)
        clear &= paper[inner_rows, inner_columns]
    return clear


def _on_specks(paper: np.ndarray, rows: np.ndarray, columns: np.ndarray) -> np.ndarray:
    """Which points of the edge lie on specks: what is small and touches a side lies whole in a strip along it."""
    height, width = paper.shape
    least = LEAST_DRAWING * page_side_px(paper.shape)
    deep = int(least) + 2
    sides = (
        (rows == 0, np.s_[:deep, :], (0, 0)),
        (rows == height - 1, np.s_[-deep:, :], (max(0, height - deep), 0)),
        (columns == 0, np.s_[:, :deep], (0, 0)),
        (columns == width - 1, np.s_[:, -deep:], (0, max(0, width - deep))),
    )
    on_speck = np.zeros(len(rows), bool)
    for here, strip, (top, left) in sides:
        _, labels, stats, _ = cv2.connectedComponentsWithStats((~paper[strip]).astype(np.uint8), connectivity=8)
        small = stats[:, 2:4].max(axis=1) < least
        small[0] = False
        on_speck[here] = small[labels[rows[here] - top, columns[here] - left]]
    return on_speck
