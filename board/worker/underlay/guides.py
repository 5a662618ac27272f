"""Figure posts and boxes of real size on the floor points that someone clicked."""

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from board.figure_posts import is_in_reach, post_at
from board.ground_view import cross
from board.not_measured import NotMeasured
from board.page_space import PictureFrame, Point, Polygon
from board.perspective_grid import Segment, box_at, clip_to_polygon, clip_to_side
from board.worker.underlay.floors import Floor
from board.worker.underlay.layer import Layer

NO_FLOOR = NotMeasured("It stands in no panel whose perspective is measured.")
NO_MEASURE = NotMeasured("How high the viewer's eye is has to be known before a thing of real size can be drawn.")
TOO_FAR = NotMeasured("It stands too far from its panel.")
NOT_SEEN = NotMeasured("Nothing of it is seen in its panel.")
SIZES = ("width_m", "height_m", "depth_m", "turn_deg")


def guides_on(layer: Layer, floors: Sequence[Floor], frame: PictureFrame, options: dict[str, Any]) -> dict[str, str]:
    """Draws them, and says why one is not there: {"post 1": reason}."""
    missing: dict[str, str] = {}
    for kind, draw in (("post", _draw_post), ("box", _draw_box)):
        for number, guide in enumerate(options.get("posts" if kind == "post" else "boxes", ()), start=1):
            foot = frame.to_pixels(guide["foot"])
            floor = _floor_at(foot, floors, is_named="panel" in options)
            why = floor if isinstance(floor, NotMeasured) else _draw_in(layer, floor, foot, guide, draw)
            if why is not None:
                missing[f"{kind} {number}"] = why.reason
    return missing


def _floor_at(foot: Point, floors: Sequence[Floor], *, is_named: bool) -> Floor | NotMeasured:
    """Of the panel that the foot is in; where a panel `is_named`, its floor runs on beyond the frame that cuts figures off."""
    holding = next((floor for floor in floors if floor.holds(foot)), None)
    if holding or not (is_named and floors):
        return holding or NO_FLOOR
    return floors[0] if is_in_reach(floors[0].polygon, foot) else TOO_FAR


def posts_kept(layer: Layer, floor: Floor, frame: PictureFrame, posts: Sequence[dict[str, Any]]) -> dict[str, str]:
    """The posts that stand in a panel by hand; {"Pim post": reason} where one is not there."""
    drawn = [(guide, _draw_in(layer, floor, frame.to_pixels(guide["foot"]), guide, _draw_post)) for guide in posts]
    return {f"{guide.get('name') or 'a'} post": why.reason for guide, why in drawn if why is not None}


Draw = Callable[[Layer, Floor, Point, dict[str, Any]], NotMeasured | None]


def _draw_in(layer: Layer, floor: Floor, foot: Point, guide: dict[str, Any], draw: Draw) -> NotMeasured | None:
    """What stands beyond the frame is drawn as far as the panel shows it."""
    if floor.holds(foot):
        return draw(layer, floor, foot, guide)
    whole = Layer(layer.name)
    why = draw(whole, floor, foot, guide)
    if why is not None:
        return why
    seen = [(one.kind, part) for one in whole.strokes for part in _within((one.points[0], one.points[-1]), floor.polygon)]
    for kind, part in seen:
        layer.draw(kind, part)
    layer.words += [words for words in whole.words if floor.holds(words.at)]
    return None if seen else NOT_SEEN


def _within(segment: Segment, polygon: Polygon) -> Iterator[Segment]:
    """The parts of a segment that a panel shows."""
    (x0, y0), (x1, y1) = segment
    along = x1 - x0, y1 - y0
    for piece in clip_to_polygon(cross((x0, y0, 1.0), (x1, y1, 1.0)), polygon):
        kept = clip_to_side(piece, (*along, -(along[0] * x0 + along[1] * y0)))
        kept = clip_to_side(kept, (-along[0], -along[1], along[0] * x1 + along[1] * y1)) if kept else None
        if kept:
            yield kept


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
