"""Looks whether figures that are marked in one panel stand in another that shows its drawing too, or in the same one, mended. It
marks nothing: it proposes."""

import re
from typing import Any

import numpy as np

from board.actions.figure_proposals import ProposedFigure, record_proposals
from board.figure_landmarks import point_of
from board.models import Job, Revision
from board.models.figure_proposal import BY_AXIS, BY_SAME_AS
from board.page_space import PictureFrame
from board.vision.laid_over import cut_out
from board.vision.mended_figure import HEAD_TALL, MendedFigure, find_mended
from board.vision.redrawn_figure import RedrawnFigure, find_redrawn, maps_between
from board.worker.carry_figures import CARRIED, carried_doubts
from board.worker.decoding import decoded, decoded_apart
from board.worker.outcome import Outcome
from board.worker.subjects import revision_of

SIDES_SWAPPED = re.compile("-left$|-right$")
OF_HEAD = re.compile("crown|eyes|chin|head")
MENDED = 0.007  # 1 sigma of finding a mended figure, as a share of its height: nine of ten lie within .012 (own measurement)


def handle(job: Job) -> Outcome:
    revision = revision_of(job)
    gray = decoded(revision.picture).gray if job.inputs["pairs"] else np.zeros((1, 1), np.uint8)
    others: dict[str, np.ndarray] = {job.inputs["sha256"]: gray}
    found: list[tuple[int, ProposedFigure]] = []
    for pair in sorted(job.inputs["pairs"], key=lambda one: one["other"]["sha256"]):
        sha256 = pair["other"]["sha256"]
        if sha256 not in others:  # no more than one other picture is held at a time
            other = Revision.objects.select_related("picture").get(pk=pair["other"]["revision"])
            others = {job.inputs["sha256"]: gray, sha256: decoded_apart(other.picture).gray}
        found += propose(pair, others[sha256], gray)
    chosen = surest(found)
    return Outcome({"proposed": len(chosen)}, lambda: record_proposals(revision=revision, found=chosen))


def surest(found: list[tuple[int, ProposedFigure]]) -> list[ProposedFigure]:
    """Once for each panel and character, whoever else shows the same drawing; one that stood in that panel itself comes first."""
    chosen: dict[tuple[int, int], ProposedFigure] = {}
    for character, one in sorted(found, key=lambda row: (row[1].found_by != BY_AXIS, -row[1].sure)):
        chosen.setdefault((one.panel, character), one)
    return list(chosen.values())


def propose(pair: dict[str, Any], before: np.ndarray, after: np.ndarray) -> list[tuple[int, ProposedFigure]]:
    """Character and proposal of each marked figure of the other panel that is drawn again in this one."""
    was, now = _Cut(before, pair["other"]["polygon"]), _Cut(after, pair["polygon"])
    is_mended = pair["found_by"] == BY_AXIS
    maps = maps_between(was.gray, now.gray, is_same_as=is_mended or pair["found_by"] == BY_SAME_AS)
    found = []
    for one in pair["other"]["figures"]:
        marks_px = {name: was.to_cut(point) for name, point in one["marks"].items()}
        crown, sole = (np.array(point_of(marks_px, name), float) for name in ("crown", "sole"))
        best: RedrawnFigure | MendedFigure | None
        if is_mended:
            best = find_mended(was.gray, now.gray, maps, crown, sole, _head_tall(marks_px, crown, sole))
        else:
            best = find_redrawn(was.gray, now.gray, maps, crown, sole)
        marks = _carried(marks_px, best, now) if best else {}
        if best and marks:
            frames = was.frame, now.frame
            known = {name: doubt for name, doubt in _renamed(one["doubts"], best).items() if name in marks}
            doubts = carried_doubts(known, one["marks"], marks, frames, MENDED if is_mended else CARRIED)
            found.append((one["character"], ProposedFigure(pair["panel"], one["figure"], pair["found_by"], marks, doubts,
                                                           round(best.sure, 3))))
    return found


def _head_tall(marks_px: dict[str, tuple[float, float]], crown: np.ndarray, sole: np.ndarray) -> float:
    """As a share of the figure's height."""
    chin = point_of(marks_px, "chin")
    return float(np.hypot(*np.subtract(chin, crown)) / np.hypot(*(sole - crown))) if chin else HEAD_TALL


def _carried(marks_px: dict[str, tuple[float, float]], look: RedrawnFigure | MendedFigure, now: "_Cut") -> dict[str, list[float]]:
    """Empty where one of them would lie outside the picture. Of a figure with another head, what lies between chin and soles is
    left out: nobody knows how that was drawn anew."""
    maps = {name: _map_of(name, look) for name in marks_px}
    moved = {name: now.to_page((H @ [*marks_px[name], 1.0])[:2]) for name, H in maps.items() if H is not None}
    return _renamed(moved, look) if all(0 <= value <= 1 for point in moved.values() for value in point) else {}


def _map_of(name: str, look: RedrawnFigure | MendedFigure) -> np.ndarray | None:
    if isinstance(look, RedrawnFigure):
        return look.to_after
    if OF_HEAD.match(name):
        return look.head_to_after
    return look.body_to_after if look.is_whole or name.startswith("sole") else None


def _renamed(by_name: dict[str, Any], look: RedrawnFigure | MendedFigure) -> dict[str, Any]:
    """Mirrored, the left hand is drawn where the right one was."""
    if isinstance(look, MendedFigure) or np.linalg.det(look.to_after[:2, :2]) > 0:
        return by_name
    return {SIDES_SWAPPED.sub(lambda side: "-right" if side[0] == "-left" else "-left", name): one for name, one in by_name.items()}


class _Cut:
    """The box of a panel cut out of its page, and the way between the two."""

    def __init__(self, gray: np.ndarray, polygon: list[list[float]]) -> None:
        self.frame = PictureFrame(gray.shape[1], gray.shape[0])
        self.gray, first = cut_out(gray, np.array(self.frame.polygon_to_pixels(polygon)))
        self.first = np.array(first, float)

    def to_cut(self, point: list[float]) -> tuple[float, float]:
        x, y = np.array(self.frame.to_pixels(point)) - self.first
        return float(x), float(y)

    def to_page(self, point: np.ndarray) -> list[float]:
        return [float(value) for value in self.frame.to_page(tuple(point + self.first))]
