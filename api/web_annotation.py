"""Notes and replies in the form of the Web Annotation Data Model, a W3C Recommendation of 23 February 2017.

Section numbers are that document's. Pixels are those of the picture as it was uploaded, turned upright.
"""

from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, datetime
from typing import Any
from xml.sax.saxutils import quoteattr

from django.urls import reverse

from board.check_registry import CHECKS, INFORMING, label_of_finding
from board.drawn_lines import Lines, drawn_paths
from board.models import Finding, Note, Reply, Revision
from board.page_space import PictureFrame, Point, bounds

CONTEXT = "http://www.w3.org/ns/anno.jsonld"
MEDIA_FRAGMENTS = "http://www.w3.org/TR/media-frags/"
SVG = "http://www.w3.org/2000/svg"
TIME_IN_UTC = "%Y-%m-%dT%H:%M:%SZ"
# What each tone asks for, in the words of 3.3.5.
MOTIVATIONS = {"must": "editing", "try": "commenting", "ask": "questioning", "keep": "assessing"}
ARROW_HEAD = 1 / 60  # of the picture's height
POINT_REACH_PX = 1  # a point is given as the pixel it lies in

Address = Callable[[str], str]  # path -> IRI
Node = dict[str, Any]


def annotation_of_note(note: Note, revision: Revision | None, place: Mapping, address: Address) -> Node:
    """`revision` is the picture that the note stands on now, `place` its region there and the lines that it draws."""
    finding = max(note.findings.all(), key=lambda one: one.revision.number, default=None)
    motivation = "assessing" if note.is_measured else MOTIVATIONS[note.tone]
    bodies = [text_body(note.body, motivation), text_body(note.tone, "tagging"), text_body(note.state, "tagging")]
    return {
        "@context": CONTEXT,
        "id": note_iri(note, address),
        "type": "Annotation",
        "motivation": motivation,
        **creator_of(note),
        "created": when(note.created_at),
        "body": [*bodies, *(finding_bodies(finding, note, address) if finding else ())],
        "target": target_of(note, revision, place, address),
    }


def annotation_of_reply(reply: Reply, note: Note, address: Address) -> Node:
    """An annotation on an annotation."""
    return {
        "@context": CONTEXT,
        "id": f"{note_iri(note, address)}?reply={reply.pk}",
        "type": "Annotation",
        "motivation": "replying",
        **(person(reply.author.get_full_name() or reply.author.get_username()) if reply.author else {}),
        "created": when(reply.created_at),
        "body": text_body(reply.body, "replying"),
        "target": note_iri(note, address),
    }


def note_iri(note: Note, address: Address) -> str:
    return address(reverse("api:note-annotation", args=[note.pk]))


def text_body(value: str, purpose: str) -> Node:
    """3.2.4."""
    return {"type": "TextualBody", "value": value, "format": "text/plain", "purpose": purpose}


def finding_bodies(finding: Finding, note: Note, address: Address) -> list[Node]:
    """What was measured, in figures, and the page that says how."""
    unit = finding.unit
    give_or_take = f" give or take {finding.tolerance:g}" if finding.tolerance else ""
    held_against = f"; expected {finding.expected:g}{give_or_take} {unit}"
    # What only informs is off from nothing.
    figures = f"{finding.measured:g} {unit}{'' if finding.kind in INFORMING else held_against}"
    page = address(f"{reverse('how-measured', args=[finding.kind])}?board={note.board_id}")
    return [
        text_body(f"{label_of_finding(finding.kind)}: {figures}; confidence {finding.confidence:.2f}", "describing"),
        {"type": "SpecificResource", "source": {"id": page, "type": "Text", "format": "text/html"}, "purpose": "linking"},
    ]


def creator_of(note: Note) -> Node:
    """3.3.1. A classmate's note names its pen name and nobody."""
    if note.is_measured:
        label = CHECKS[note.check_id].label if note.check_id in CHECKS else note.check_id
        return {"creator": {"type": "Software", "name": f"Underblue: {label}"}}
    if note.pen_name:
        return person(note.pen_name)
    return person(note.author.get_full_name() or note.author.get_username()) if note.author else {}


def person(name: str) -> Node:
    return {"creator": {"type": "Person", "name": name}}


def when(moment: datetime) -> str:
    """3.3.1: in UTC, said by Z."""
    return moment.astimezone(UTC).strftime(TIME_IN_UTC)


def target_of(note: Note, revision: Revision | None, place: Mapping, address: Address) -> Node | list[Node] | str:
    """A region of a picture (4.), and as a second target what is drawn over it; else the page, the spread or the board itself."""
    if note.page_id is None:
        return address(reverse("wall", args=[note.board_id]))
    page = address(reverse("desk", args=[note.page_id]))
    if revision is None or revision.picture.width_px is None or revision.picture.height_px is None:
        return page
    file = address(reverse("api:revision-file", args=[revision.pk]))
    picture = {"id": file, "type": "Image", "format": revision.picture.media_type}
    target: Node = {"type": "SpecificResource", "source": picture, "scope": page}
    if not place["region"]:
        return target
    frame = PictureFrame(revision.picture.width_px, revision.picture.height_px)
    of_region = {**target, "selector": selectors(place["region"], frame)}
    return [of_region, {**target, "selector": strokes(place["lines"], frame)}] if place["lines"] else of_region


def selectors(region: Mapping, frame: PictureFrame) -> list[Node] | Node:
    """4.2.1 the box in whole pixels; 4.2.7 the outline, where it is more than a box."""
    if "point" in region:
        x, y = frame.to_pixels(region["point"])
        last_x, last_y = int(frame.width_px) - 1, int(frame.height_px) - 1
        return fragment(min(int(x), last_x), min(int(y), last_y), POINT_REACH_PX, POINT_REACH_PX)
    polygon = frame.polygon_to_pixels(region["polygon"])
    left, top, right, bottom = bounds(polygon)
    box = fragment(round(left), round(top), max(1, round(right) - round(left)), max(1, round(bottom) - round(top)))
    return [box, outline(polygon)]


def fragment(x: int, y: int, width: int, height: int) -> Node:
    value = f"xywh=pixel:{max(0, x)},{max(0, y)},{width},{height}"
    return {"type": "FragmentSelector", "conformsTo": MEDIA_FRAGMENTS, "value": value}


def outline(polygon: Sequence[Point]) -> Node:
    return svg_selector(shape("polygon", polygon))


def strokes(lines: Lines, frame: PictureFrame) -> Node:
    """4.2.7, without any style: a stroke as it was led, an arrow with its barbs."""
    head = frame.height_px * ARROW_HEAD
    return svg_selector("".join(shape("polyline", points) for line in lines for points in drawn_paths(line, frame.to_pixels, head)))


def shape(name: str, points: Sequence[Point]) -> str:
    return f"<{name} points={quoteattr(' '.join(f'{x:.1f},{y:.1f}' for x, y in points))}/>"


def svg_selector(shapes: str) -> Node:
    return {"type": "SvgSelector", "value": f"<svg xmlns={quoteattr(SVG)}>{shapes}</svg>"}
