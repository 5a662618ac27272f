"""Panels that an earlier picture had and the one before lacked: known again where the maps between the pictures put them."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

import numpy as np

from board.actions.panel_identity import OLD_PLACE
from board.models import Job, Panel, PanelShape, Revision
from board.models.comparison import maps_between
from board.models.revision import whole_pages
from board.page_space import PictureFrame, box_overlap
from board.vision.page_registration import PageRegistration
from board.worker.carry_figures import GOOD_ENOUGH, Frames


def panels_back(
    job: Job, before: Revision, after: Revision, registration: PageRegistration, frames: Frames, changes: Mapping[str, Any]
) -> dict[int, int]:
    """Panel as this revision calls it -> the earlier one that stood there, where that is another one.

    By its place on the sheet alone it is missed, or taken for another, once the sheet lies otherwise, is cropped or larger. What
    somebody put words, notes or figures on since keeps its name.
    """
    added = [job.inputs["panels"][j] for change in changes["changes"] if not change["before"] for j in change["after"]]
    bare = _bare(one["id"] for one in added)
    came = [one for one in added if one["id"] in bare]
    if not came or registration.quality < GOOD_ENOUGH:
        return {}
    stood = dict(_places_now(before, after, registration, frames))
    pairs = [(box_overlap(polygon, one["polygon"]), one["id"], panel) for one in came for panel, polygon in stood.items()]
    back: dict[int, int] = {}
    for overlap, name, panel in sorted(pairs, reverse=True):
        if overlap >= OLD_PLACE and name not in back and panel not in back.values():
            back[name] = panel
    return {name: panel for name, panel in back.items() if name != panel}


def _bare(panels: Iterable[int]) -> set[int]:
    asked = Panel.objects.filter(pk__in=list(panels), happens="", said="", still__isnull=True, given_perspective__isnull=True,
                                 figure_posts__isnull=True, figures__isnull=True, tries__isnull=True)
    return set(asked.exclude(notes__check_id="").values_list("pk", flat=True))


def _places_now(
    before: Revision, after: Revision, registration: PageRegistration, frames: Frames
) -> Iterator[tuple[int, list[tuple[float, float]]]]:
    """Panel -> its outline on `after`, in page coordinates: of those that the picture before lacks, from the newest one with it."""
    older = whole_pages(after).filter(number__lt=before.number, alternate=after.alternate)
    shapes = PanelShape.objects.filter(revision__in=older).exclude(panel__shapes__revision=before)
    seen: set[int] = set()
    for shape in shapes.select_related("revision__picture").order_by("-revision__number", "order"):
        if shape.panel_id not in seen and (maps := _maps(shape.revision, before)) is not None:
            picture = shape.revision.picture
            points = np.array(PictureFrame(picture.width_px or 1, picture.height_px or 1).polygon_to_pixels(shape.polygon))
            for step in [*maps, registration]:
                points = step.map_points(points)
            yield shape.panel_id, [frames[1].to_page(point) for point in points.tolist()]
        seen.add(shape.panel_id)


def _maps(first: Revision, last: Revision) -> list[PageRegistration] | None:
    """None where any of them is unsure: a wrong file lies between."""
    maps = [PageRegistration.from_numbers(step) for step in maps_between(first.pk, last.pk) or []]
    return maps if maps and all(one.quality >= GOOD_ENOUGH for one in maps) else None
