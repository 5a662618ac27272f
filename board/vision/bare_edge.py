"""Which stretches of the picture's edge are bare paper, and which cut through a panel of line art that bleeds off."""

import cv2
import numpy as np

# Shares from trials on pages and drawn layouts, no source.
LEAST_DRAWING = 0.05  # of the longer side: a smaller speck on the edge parts nothing
THICKEST_STROKE = 0.012  # of the longer side: what is thicker on the edge is a tone or a solid
LEAST_BARE = 0.15  # of the way round: paper for so long is margin, whatever ends it


def bare_edge(paper: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Rows and columns of those points on the edge of `paper` (bool (H, W)) that are paper of the page and not of a panel.

    Where strokes run off the picture one after the other, the paper between them belongs to a panel that bleeds off. Paper beside a
    tone or a solid is a gutter's end or a margin, however short.
    """
    rows, columns = _way_round(paper.shape)
    on_paper = paper[rows, columns] | _specks(paper)[rows, columns]
    starts = np.flatnonzero(on_paper != np.roll(on_paper, 1))
    if len(starts) == 0:
        return rows[on_paper], columns[on_paper]
    lengths = np.diff(np.append(starts, starts[0] + len(rows)))
    thickest = THICKEST_STROKE * max(paper.shape)
    bare = np.zeros(len(rows), bool)
    for k, (start, length) in enumerate(zip(starts, lengths, strict=True)):
        if not on_paper[start]:
            continue
        thinner = min(lengths[k - 1], lengths[(k + 1) % len(lengths)])
        if length >= LEAST_BARE * len(rows) or thinner > thickest:
            bare[np.arange(start, start + length) % len(rows)] = True
    return rows[bare], columns[bare]


def _way_round(shape: tuple[int, int]) -> tuple[np.ndarray, np.ndarray]:
    """The edge of a picture, clockwise from the top left corner, each point once (twice where it is one pixel thin)."""
    height, width = shape
    across, down = np.arange(width), np.arange(height)
    rows = np.concatenate([np.zeros(width, int), down[1:], np.full(width - 1, height - 1), down[-2:0:-1]])
    columns = np.concatenate([across, np.full(height - 1, width - 1), across[-2::-1], np.zeros(max(0, height - 2), int)])
    return rows, columns


def _specks(paper: np.ndarray) -> np.ndarray:
    _, labels, stats, _ = cv2.connectedComponentsWithStats((~paper).astype(np.uint8), connectivity=8)
    small = stats[:, 2:4].max(axis=1) < LEAST_DRAWING * max(paper.shape)
    small[0] = False
    return small[labels]
