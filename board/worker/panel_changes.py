"""What changed in each panel from the revision before to this one, from the two pictures and the map between them."""

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from board.actions.jobs import digest_of
from board.models import Job, Revision
from board.page_space import PictureFrame
from board.vision.change_map import PanelChange, change_map
from board.vision.page_registration import PageRegistration
from board.vision.panel_matching import PanelMatching, match_panels
from board.vision.swapped_panels import LEAST_IN_COMMON, follow_swapped

# One panel registered by itself takes as long as a whole page: so many of them at most, lest the upload's other work has to wait.
MOST_ALONE = 2
Pictures = Callable[[], tuple[np.ndarray, np.ndarray]]  # uint8 gray of before and after, decoded when first asked for


def panel_changes(
    job: Job, before: Revision, after: Revision, registration: PageRegistration, pictures: Pictures
) -> dict[str, Any]:
    """Numbers of the job: "compared" (what they were made from), "panels", a row for each of this revision, and the ids of "gone".

    A row: {"panel": id, "word", "match": kind, "kept_before", "kept_after", "from": ids on the revision before}.
    """
    older, newer = job.inputs["panels_before"], job.inputs["panels"]
    compared = digest_of({before.picture.sha256: _outlines(older), f"then {after.picture.sha256}": _outlines(newer)})
    if job.numbers.get("compared") == compared:
        return {name: job.numbers[name] for name in ("compared", "panels", "gone")}
    changes = found_changes(_in_pixels(older, before), _in_pixels(newer, after), registration, pictures) if newer else ()
    ids_before, ids = [one["id"] for one in older], [one["id"] for one in newer]
    rows = [row for change in changes for row in _rows(change, ids_before, ids)]
    return {
        "compared": compared,
        "panels": sorted(rows, key=lambda row: ids.index(row["panel"])),
        "gone": [panel for panel in ids_before if panel not in ids],
    }


def swapped_panels(changes: dict[str, Any]) -> dict[int, int]:
    """Panel as it is known by its place -> the one whose drawing stands there, of those that moved; `changes` as told above."""
    moved = [row for row in changes["panels"] if row["word"] == row["match"] == "moved" and len(row["from"]) == 1]
    return {row["panel"]: row["from"][0] for row in moved if row["from"] != [row["panel"]]}


def found_changes(
    older: Sequence[np.ndarray], newer: Sequence[np.ndarray], registration: PageRegistration, pictures: Pictures
) -> tuple[PanelChange, ...]:
    matching = match_panels(older, newer, registration)
    if _one_went_elsewhere(matching) and registration.quality > 0:
        matching = match_panels(older, newer, registration, pictures())
    changes = change_map(*pictures(), registration, matching, most_alone=MOST_ALONE)
    swapped = follow_swapped(matching, changes, pictures()) if registration.quality > LEAST_IN_COMMON else None
    if swapped is None:
        return changes
    followed = change_map(*pictures(), registration, swapped, most_alone=MOST_ALONE)
    # Frames have something in common, whatever is drawn in them.
    return followed if all(change.word == "moved" for change in followed if change.match not in matching.matches) else changes


def _one_went_elsewhere(matching: PanelMatching) -> bool:
    kinds = [match.kind for match in matching.matches]
    return kinds.count("dropped") == kinds.count("added") == 1


def _rows(change: PanelChange, ids_before: list[int], ids: list[int]) -> list[dict[str, Any]]:
    """A split panel has a row for each part. One that nobody finds again but that goes by the same number was redrawn."""
    came_from = [ids_before[i] for i in change.match.before]
    kept = {"kept_before": round(change.kept_before, 3), "kept_after": round(change.kept_after, 3)}
    rows = []
    for panel in (ids[j] for j in change.match.after):
        goes_on = change.word == "new" and panel in ids_before
        word, before = ("redrawn", [panel]) if goes_on else (change.word, came_from)
        rows.append({"panel": panel, "word": word, "match": change.match.kind, **kept, "from": before})
    return rows


def _outlines(panels: list[dict]) -> list:
    return [[one["id"], one["polygon"]] for one in panels]


def _in_pixels(panels: list[dict], revision: Revision) -> list[np.ndarray]:
    frame = PictureFrame(revision.picture.width_px or 1, revision.picture.height_px or 1)
    return [np.array(frame.polygon_to_pixels(one["polygon"])) for one in panels]
