"""Figure posts and boxes of real size on the floor points that someone clicked."""

from collections.abc import Sequence
from typing import Any

from board.figure_posts import post_at
from board.not_measured import NotMeasured
from board.page_space import PictureFrame, Point
from board.perspective_grid import box_at
from board.worker.underlay.floors import Floor
from board.worker.underlay.layer import Layer

NO_FLOOR = NotMeasured("It stands in no panel whose perspective is measured.")
NO_MEASURE = NotMeasured("How high the viewer's eye is has to be known before a thing of real size can be drawn.")
SIZES = ("width_m", "height_m", "depth_m", "turn_deg")


def guides_on(layer: Layer, floors: Sequence[Floor], frame: PictureFrame, options: dict[str, Any]) -> dict[str, str]:
    """Draws them, and says why one is not there: {"post 1": reason}."""
    missing: dict[str, str] = {}
    for kind, draw in (("post", _draw_post), ("box", _draw_box)):
        for number, guide in enumerate(options.get("posts" if kind == "post" else "boxes", ()), start=1):
            foot = frame.to_pixels(guide["foot"])
            floor = next((floor for floor in floors if floor.holds(foot)), None)
            why = draw(layer, floor, foot, guide) if floor else NO_FLOOR
            if why is not None:
                missing[f"{kind} {number}"] = why.reason
    return missing


def posts_kept(layer: Layer, floor: Floor, frame: PictureFrame, posts: Sequence[dict[str, Any]]) -> dict[str, str]:
    """The posts that stand in a panel by hand; {"Pim post": reason} where one is not there."""
    drawn = [(guide, _draw_post(layer, floor, frame.to_pixels(guide["foot"]), guide)) for guide in posts]
    return {f"{guide.get('name') or 'a'} post": why.reason for guide, why in drawn if why is not None}


def _draw_post(layer: Layer, floor: Floor, foot: Point, guide: dict[str, Any]) -> NotMeasured | None:
    if not floor.view.is_measured:
        return NO_MEASURE
    post = post_at(foot, guide["height_m"], floor.post_view, heads=guide.get("heads"))
    if isinstance(post, NotMeasured):
        return post
    layer.draw("post", (post.foot, post.top))
    layer.draw("tick", *(tick.ends for tick in post.ticks))
    layer.write(post.top, guide.get("name") or f"{guide['height_m']:g} m", "measure")
    return None


def _draw_box(layer: Layer, floor: Floor, foot: Point, guide: dict[str, Any]) -> NotMeasured | None:
    box = box_at(floor.view, foot, **{name: guide[name] for name in SIZES if guide.get(name) is not None})
    if isinstance(box, NotMeasured):
        return box
    layer.draw("box", *box.edges)
    return None
