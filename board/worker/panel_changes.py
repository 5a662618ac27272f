"""What changed in each panel from the revision before to this one, from the two pictures and the map between them."""

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from board.actions.jobs import digest_of
from board.models import Job, Revision
from board.page_space import PictureFrame
from board.vision.change_map import PanelChange, change_map
from board.vision.page_registration import PageRegistration
from board.vision.panel_map import PanelMap
from board.vision.panel_matching import SAME_PANEL, PanelMatching, match_panels
from board.vision.panels_elsewhere import follow_elsewhere

# One panel registered by itself takes a third of a page's time: so many of them at most, lest the upload's other work has to wait.
MOST_ALONE = 6
# The older drawing stands there: what is on the panel goes with it.
STANDS = ("same", "touched", "moved")
Pictures = Callable[[], tuple[np.ndarray, np.ndarray]]  # uint8 gray of before and after, decoded when first asked for


def panel_changes(
    job: Job, before: Revision, after: Revision, registration: PageRegistration, pictures: Pictures
) -> dict[str, Any]:
    """Numbers of the job: "compared" (what they were made from), "changes" as they were found, by place in the two lists, and, by
    the names that the panels have now, "panels", a row for each of this revision, and the ids of "gone".

    A row: {"panel": id, "word", "match": kind, "kept_before", "kept_after", "stood_elsewhere": it moved, and keeps less than half
    of its place, "from": ids on the revision before}.
    """
    older, newer = job.inputs["panels_before"], job.inputs["panels"]
    compared = digest_of({before.picture.sha256: _outlines(older), f"then {after.picture.sha256}": _outlines(newer)})
    changes = job.numbers.get("changes") if job.numbers.get("compared") == compared else None
    if changes is None:
        found = found_changes(_in_pixels(older, before), _in_pixels(newer, after), registration, pictures) if newer else ()
        changes = [_as_numbers(change) for change in found]
    ids_before, ids = [one["id"] for one in older], [one["id"] for one in newer]
    rows = [row for change in changes for row in _rows(change, ids_before, ids)]
    return {
        "compared": compared,
        "changes": changes,
        "panels": sorted(rows, key=lambda row: ids.index(row["panel"])),
        "gone": [panel for panel in ids_before if panel not in ids],
    }


def shown_panels(job: Job, changes: dict[str, Any]) -> dict[int, int]:
    """Panel as this revision calls it by its place -> the one whose drawing stands there, where that is another one.

    Of a panel that was parted, the part that is called so goes by its name, else the first; of several that were joined likewise.
    """
    ids_before, ids = ([one["id"] for one in job.inputs[name]] for name in ("panels_before", "panels"))
    shows = {}
    for change in changes["changes"]:
        was, now = [ids_before[i] for i in change["before"]], [ids[j] for j in change["after"]]
        if change["word"] in STANDS and was and now and not set(was) & set(now):
            shows[now[0]] = was[0]
    return shows


def maps_of_panels(job: Job, changes: dict[str, Any]) -> dict[int, PanelMap]:
    """By panel of the revision before: its own map, where it still is drawn and that map finds more of it than the page's."""
    ids_before = [one["id"] for one in job.inputs["panels_before"]]
    alone = [(change["before"][0], change["map"]) for change in changes["changes"] if change["map"] and change["word"] in STANDS]
    return {ids_before[i]: PanelMap.from_numbers(numbers) for i, numbers in alone}


def found_changes(
    older: Sequence[np.ndarray], newer: Sequence[np.ndarray], registration: PageRegistration, pictures: Pictures
) -> tuple[PanelChange, ...]:
    matching, changes = changes_by_place(older, newer, registration, pictures)
    return follow_elsewhere(matching, changes, pictures())


def changes_by_place(
    older: Sequence[np.ndarray], newer: Sequence[np.ndarray], registration: PageRegistration, pictures: Pictures
) -> tuple[PanelMatching, tuple[PanelChange, ...]]:
    """As the map between the pages pairs them, whatever is drawn elsewhere."""
    matching = match_panels(older, newer, registration)
    if _one_went_elsewhere(matching) and registration.quality > 0:
        matching = match_panels(older, newer, registration, pictures())
    return matching, change_map(*pictures(), registration, matching, most_alone=MOST_ALONE)


def _one_went_elsewhere(matching: PanelMatching) -> bool:
    kinds = [match.kind for match in matching.matches]
    return kinds.count("dropped") == kinds.count("added") == 1


def stood_elsewhere(change: PanelChange) -> bool:
    """Whether it moved so far that it keeps less than half of its place: one that slid is asked nothing about."""
    return change.word == "moved" and change.match.overlap < SAME_PANEL


def _as_numbers(change: PanelChange) -> dict[str, Any]:
    kept = {"kept_before": round(change.kept_before, 3), "kept_after": round(change.kept_after, 3)}
    match = {"match": change.match.kind, "before": list(change.match.before), "after": list(change.match.after)}
    return {"word": change.word, **match, **kept, "stood_elsewhere": stood_elsewhere(change),
            "map": change.alone.to_numbers() if change.alone else None}


def _rows(change: dict[str, Any], ids_before: list[int], ids: list[int]) -> list[dict[str, Any]]:
    """A split panel has a row for each part. One that nobody finds again but that goes by the same number was redrawn."""
    came_from = [ids_before[i] for i in change["before"]]
    told = {name: change[name] for name in ("match", "kept_before", "kept_after")}
    told["stood_elsewhere"] = change.get("stood_elsewhere", False)  # changes that were found before this was told say nothing
    rows = []
    for panel in (ids[j] for j in change["after"]):
        goes_on = change["word"] == "new" and panel in ids_before
        word, before = ("redrawn", [panel]) if goes_on else (change["word"], came_from)
        rows.append({"panel": panel, "word": word, **told, "from": before})
    return rows


def _outlines(panels: list[dict]) -> list:
    return [one["polygon"] for one in panels]


def _in_pixels(panels: list[dict], revision: Revision) -> list[np.ndarray]:
    frame = PictureFrame(revision.picture.width_px or 1, revision.picture.height_px or 1)
    return [np.array(frame.polygon_to_pixels(one["polygon"])) for one in panels]
