"""What changed in each panel from one revision to the next: a measure and a plain word."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import cv2
import numpy as np

from board.vision.drawing_prints import known_again, print_of
from board.vision.edge_field import edge_field
from board.vision.laid_over import cut_out, lay_over
from board.vision.local_warp import still, undone
from board.vision.page_registration import PageRegistration
from board.vision.panel_map import PanelMap, map_panel
from board.vision.panel_matching import PanelMatch, PanelMatching
from board.vision.registration_pyramid import resized

# Side in px of a square as large as the page, at which lines are compared; and how near its counterpart a line has to lie there.
SIDE_PX, NEAR_PX = 880, 3
# What lies within this of the outline is the frame itself.
FRAME_PX = 8
# An edge of this strength in one drawing asks for one of at least half of it in the other.
CLEAR_EDGE = 0.4
# Shifts in px, at which the two drawings meet by chance alone.
ELSEWHERE = ((19, 7), (-17, 11), (9, -21), (-13, -19), (27, -3), (-29, 5), (3, 31), (-5, -27))
# Share of clear edges that find their counterpart, beyond chance. Own measurement on rescans and on pairs of stages.
SAME, REDRAWN = 0.8, 0.4
Fields = tuple[np.ndarray, np.ndarray, np.ndarray]  # edges of before and of after in one frame, and where both are seen
# The field of shifts is looked at so many times each way within a panel, and so often anew by what most of it says.
FLAT_GRID, FLAT_ROUNDS = 12, 8
# Fewer clear edges than this in either drawing, in px: the panel is bare.
BARE_PX = 40
# A drawing that is larger, smaller or shifted by more against its frame, in shares of the panel's width, is laid on by its own map.
FRAMED_ANEW = 0.03
LEAST_SEEN = 0.1  # of the inside of a panel: where the map lays less of the older picture, nothing is known of it. Own choice
# Within a square of this side, about 6 mm of a page, more than half of the edges find no counterpart, and so many px of them at
# least: something was drawn otherwise there, however much of the panel stayed. Own measurement: 192 panels of real pages under
# another scan have 1 px at most, 30 drawn ones that are bent and badly lit 6; of 50 with a figure grown by 7 to 25 % or set 15 or
# 40 cm aside all have 126 and more, though most keep over four fifths of their lines; of 60 others one, 7 % larger, has less.
PLACE_PX, DRAWN_OTHERWISE_PX = 21, 90


@dataclass(frozen=True)
class PanelChange:
    """`word` is same, touched, redrawn, moved, new or gone; `match` says which panel.

    `kept_before` 0..1: how much of the older drawing's edges still stand; `kept_after` 0..1: how much of the newer drawing's were
    there. A pencil that was painted over keeps the first and lowers the second. Scanning light changes neither. `alone`: its own
    map, where that finds more of the older drawing than the page's.
    """

    match: PanelMatch
    word: str
    kept_before: float
    kept_after: float
    alone: PanelMap | None = None

    @property
    def change(self) -> float:
        """0 where nothing changed, 1 where nothing is left."""
        return 1 - min(self.kept_before, self.kept_after)


def change_map(
    before: np.ndarray, after: np.ndarray, registration: PageRegistration, panels: PanelMatching, *, most_alone: int | None = None
) -> tuple[PanelChange, ...]:
    """One PanelChange for each of `panels.matches`, in their order.

    before, after: the two pictures of the registration, uint8 gray (H, W). Panels are compared where the page's map puts them,
    which follows the drawing; one that was moved or resized and is not found there, or shows its drawing larger, smaller or shifted
    in its frame, is registered on its own, which takes as long as a page: at most `most_alone` of them, the largest first, where
    there is a limit.
    """
    scale = SIDE_PX / np.sqrt(after.size)
    page = _fields(before, after, registration, scale)
    changes = [_change(match, panels, page, scale) for match in panels.matches]
    for k, change in enumerate(changes):
        if change.match.kind == "kept" and change.word == "touched" and min(change.kept_before, change.kept_after) >= SAME:
            changes[k] = _change_flat(change, before, after, registration, panels, scale)
    lost = [k for k, one in enumerate(changes) if one.match.kind in ("kept", "moved", "resized") and one.kept_before < SAME]
    astray = [k for k in lost if changes[k].match.kind != "kept" or _is_framed_anew(changes[k].match, (before, after), panels)]
    astray.sort(key=lambda k: -np.prod(np.ptp(panels.after[changes[k].match.after[0]], 0)))
    for k in astray[:most_alone]:
        match = changes[k].match
        own = map_panel((before, after), panels.before[match.before[0]], panels.after[match.after[0]])
        alone = change_alone(match, own, (before, after), panels)
        if match.kind == "kept" and alone.word == "same":
            alone = replace(alone, word="moved")  # against its frame
        changes[k] = alone if alone.kept_before > changes[k].kept_before else changes[k]
    return tuple(changes)


def _is_framed_anew(match: PanelMatch, pictures: tuple[np.ndarray, np.ndarray], panels: PanelMatching) -> bool:
    """Whether one panel's frame stays and shows the older drawing larger, smaller or shifted, as its points say: they are found
    much sooner than a map is."""
    older, newer = (cut_out(gray, outlines[index[0]])[0] for gray, outlines, index in zip(
        pictures, (panels.before, panels.after), (match.before, match.after), strict=True))
    here = print_of(newer)
    known = known_again(here, print_of(np.ascontiguousarray(newer[:, ::-1])), [print_of(older)])
    if not known or known[0].is_mirrored:
        return False
    shift, scale, _ = known[0].against_frame(here.high)
    return abs(scale - 1) > FRAMED_ANEW or shift > FRAMED_ANEW


def _change(match: PanelMatch, panels: PanelMatching, page: "Fields", scale: float) -> PanelChange:
    if match.kind in ("added", "dropped"):
        return PanelChange(match, "new" if match.kind == "added" else "gone", 0.0, 0.0)
    return _told(match, *page, _mask([panels.after[j] for j in match.after], scale, page[0].shape))


def _change_flat(
    by_page: PanelChange, before: np.ndarray, after: np.ndarray, registration: PageRegistration, panels: PanelMatching, scale: float
) -> PanelChange:
    """Most of the panel stayed, one place did not: laid on once more as one flat piece, as most of it went.

    The page's field of small shifts is smooth: a neighbour that slid draws the rim of a panel along that never moved.
    """
    outlines = [panels.after[j] for j in by_page.match.after]
    flat = _as_most_of_it_went(registration, np.concatenate(outlines), after.shape)
    fields = _fields(before, after, flat, scale)
    told = _told(by_page.match, *fields, _mask(outlines, scale, fields[0].shape))
    return told if told.word == "same" else by_page


def _as_most_of_it_went(registration: PageRegistration, outline: np.ndarray, shape: tuple[int, ...]) -> PageRegistration:
    """The plane transform with the affine part of the small shifts within a box, by its greater part; no others beside it."""
    (left, top), (right, bottom) = outline.min(0), outline.max(0)
    places = np.stack(np.meshgrid(np.linspace(left, right, FLAT_GRID), np.linspace(top, bottom, FLAT_GRID)), -1).reshape(-1, 2)
    shifts, affine = registration.local.at(places), np.c_[places, np.ones(len(places))]
    says, fit = np.ones(len(places)), np.zeros((3, 2))
    for _ in range(FLAT_ROUNDS):
        by = np.sqrt(says)[:, None]
        fit = np.linalg.lstsq(affine * by, shifts * by, rcond=None)[0]
        off_px = np.hypot(*(shifts - affine @ fit).T) * SIDE_PX / np.sqrt(np.prod(shape))
        says = 1 / (1 + (off_px / NEAR_PX * 2) ** 2)
    added = np.eye(3)
    added[:2] += fit.T
    return replace(registration, H_before_to_after=added @ registration.H_before_to_after, local=still(registration.local.extent))


def change_alone(match: PanelMatch, alone: PanelMap, pictures: tuple[np.ndarray, np.ndarray], panels: PanelMatching) -> PanelChange:
    """What changed in one panel where its own map puts it; `match` is of one panel of `panels` and one other.

    pictures: of before and after, uint8 gray (H, W).
    """
    (older, _), (newer, corner) = (
        cut_out(gray, outlines[index[0]])
        for gray, outlines, index in zip(pictures, (panels.before, panels.after), (match.before, match.after), strict=True)
    )
    scale = SIDE_PX / np.sqrt(pictures[1].size)
    fields = _fields(older, newer, alone.registration, scale)
    told = _told(match, *fields, _mask([panels.after[match.after[0]] - corner], scale, fields[0].shape))
    return replace(told, alone=alone)


def _told(match: PanelMatch, older: np.ndarray, newer: np.ndarray, inside: np.ndarray, mask: np.ndarray) -> PanelChange:
    of_older, of_newer = _kept_both_ways(older, newer, inside, mask)
    word = _word(match.kind, of_older.share, of_newer.share, max(of_older.place_px, of_newer.place_px))
    return PanelChange(match, word, of_older.share, of_newer.share)


def _word(kind: str, kept_before: float, kept_after: float, place_px: float) -> str:
    if kept_before < REDRAWN:
        return "redrawn"
    if kind == "moved":
        return "moved"
    is_same = min(kept_before, kept_after) >= SAME and place_px < DRAWN_OTHERWISE_PX and kind == "kept"
    return "same" if is_same else "touched"


def _fields(before: np.ndarray, after: np.ndarray, registration: PageRegistration, scale: float) -> "Fields":
    """The edge fields of both drawings in the frame of after, made smaller or larger by `scale`, and where both are seen."""
    size = max(1, round(after.shape[1] * scale)), max(1, round(after.shape[0] * scale))
    small = cv2.resize(after, size, interpolation=cv2.INTER_AREA)
    share = scale * np.linalg.norm(registration.H_before_to_after[:2, :2], axis=0).mean()
    size_before = max(1, round(before.shape[1] * share)), max(1, round(before.shape[0] * share))
    small_before = cv2.resize(before, size_before, interpolation=cv2.INTER_AREA)
    H = resized(after, small) @ registration.H_before_to_after @ np.linalg.inv(resized(before, small_before))
    laid, inside = lay_over(small_before, H, undone(registration.local.scaled(size)), small.shape)
    return edge_field(laid), edge_field(small), inside


def _mask(outlines: Sequence[np.ndarray], scale: float, shape: tuple[int, ...]) -> np.ndarray:
    """The inside of the outlines without the frame itself, which is drawn anew more often than what it holds."""
    mask = np.zeros(shape, np.uint8)
    for outline in outlines:
        cv2.fillPoly(mask, [np.round((outline * scale - 0.5) * 16).astype(np.int32)], 1, shift=4)
    return cv2.erode(mask, np.ones((2 * FRAME_PX + 1,) * 2, np.uint8), borderValue=0).astype(bool)


@dataclass(frozen=True)
class _Kept:
    """`share` 0..1 of one drawing's clear edges that the other has too; `place_px` of others, where most of a place is such."""

    share: float
    place_px: float = 0.0


def _kept_both_ways(older: np.ndarray, newer: np.ndarray, inside: np.ndarray, mask: np.ndarray) -> tuple[_Kept, _Kept]:
    """What each drawing finds of itself in the other, within the mask; bare in both is the same, seen in one alone is nothing."""
    rows, cols = np.flatnonzero(mask.any(1)), np.flatnonzero(mask.any(0))
    if len(rows) == 0:
        return _Kept(1.0), _Kept(1.0)
    box = slice(rows[0], rows[-1] + 1), slice(cols[0], cols[-1] + 1)
    seen = (mask & inside)[box]
    if seen.sum() < LEAST_SEEN * mask[box].sum():
        return _Kept(0.0), _Kept(0.0)
    bare = [np.sum(seen & (np.abs(field[box]) > CLEAR_EDGE)) < BARE_PX for field in (older, newer)]
    if any(bare):
        share = float(all(bare))
        return _Kept(share), _Kept(share)
    return _kept(older[box], newer[box], seen), _kept(newer[box], older[box], seen)


def _kept(asking: np.ndarray, answering: np.ndarray, seen: np.ndarray) -> _Kept:
    """Clear edges with a counterpart of their direction near by: their share beyond chance, and where there is none."""
    clear = seen & (np.abs(asking) > CLEAR_EDGE)
    near = np.ones((2 * NEAR_PX + 1,) * 2, np.uint8)
    answers = np.stack([cv2.dilate(np.ascontiguousarray((answering * 1j**-k).real), near) for k in range(4)]) > CLEAR_EDGE / 2
    rows, columns = np.nonzero(clear)
    quarter = np.round(np.angle(asking[clear]) / (np.pi / 2)).astype(int) % 4
    height, width = clear.shape

    def met(down: int, right: int) -> np.ndarray:
        return answers[quarter, (rows - down) % height, (columns - right) % width]

    here = met(0, 0)
    chance = float(np.mean([met(*shift).mean() for shift in ELSEWHERE]))
    share = float(np.clip((here.mean() - chance) / max(1 - chance, 0.05), 0, 1))
    return _Kept(share, _most_in_one_place(clear, (rows[~here], columns[~here])))


def _most_in_one_place(clear: np.ndarray, lost: tuple[np.ndarray, np.ndarray]) -> float:
    """Of the edges that are lost, how many px lie in one place, where they are more than half of what is there."""
    alone = np.zeros(clear.shape, np.float32)
    alone[lost] = 1
    in_place, all_in_place = (
        cv2.boxFilter(one.astype(np.float32), -1, (PLACE_PX, PLACE_PX), normalize=False, borderType=cv2.BORDER_CONSTANT)
        for one in (alone, clear)
    )
    return float(np.max(in_place, initial=0, where=in_place > all_in_place / 2))
