"""What the Web Annotation Data Model (W3C Recommendation, 23 February 2017) says an annotation MUST be, clause by clause.

Each function names its section. It raises AssertionError; members of the model that Underblue does not use are refused.
"""

import re
from urllib.parse import urlsplit
from xml.etree import ElementTree

CONTEXT = "http://www.w3.org/ns/anno.jsonld"
MOTIVATIONS = {
    "assessing", "bookmarking", "classifying", "commenting", "describing", "editing", "highlighting", "identifying", "linking",
    "moderating", "questioning", "replying", "tagging",
}
SHAPES = {f"{{http://www.w3.org/2000/svg}}{name}" for name in ("path", "rect", "circle", "ellipse", "polyline", "polygon", "g")}


def many(value):
    return value if isinstance(value, list) else [value]


def holds_iri(value):
    assert isinstance(value, str) and urlsplit(value).scheme and not re.search(r"\s", value), value


def holds_annotation(one):
    """3.1: context, one id that is an IRI, type Annotation, one or more targets; 3.2 bodies; 3.3 life and people."""
    assert set(one) <= {"@context", "id", "type", "motivation", "creator", "created", "body", "target"}
    assert CONTEXT in many(one.get("@context"))
    holds_iri(one["id"])
    assert "Annotation" in many(one["type"])
    assert many(one["target"])
    for body in many(one["body"]):
        holds_body(body)
    for target in many(one["target"]):
        holds_target(target)
    assert {*many(one["motivation"])} <= MOTIVATIONS  # 3.3.5
    if "created" in one:  # 3.3.1: xsd:dateTime in UTC, said by Z
        assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", one["created"])
    if "creator" in one:  # 3.3.2
        assert one["creator"]["type"] in ("Person", "Organization", "Software") and one["creator"]["name"]


def holds_body(body):
    """3.2.4 a TextualBody has one value; 4 and 3.3.5 a purpose stands on it or on a SpecificResource, one source each."""
    assert body["type"] in ("TextualBody", "SpecificResource")
    assert body["purpose"] in MOTIVATIONS
    if body["type"] == "TextualBody":
        assert isinstance(body["value"], str) and body["format"] == "text/plain"
    else:
        holds_external(body["source"])


def holds_external(resource):
    """3.2.1, 3.2.2: an IRI, or one as id, with the class and media type of what is there."""
    holds_iri(resource if isinstance(resource, str) else resource["id"])
    if not isinstance(resource, str):
        assert resource["type"] in ("Dataset", "Image", "Video", "Sound", "Text")
        assert re.fullmatch(r"[a-z]+/[a-z0-9.+-]+", resource["format"])


def holds_target(target):
    """3.1, 4, 4.1 scope, 4.2 selectors."""
    if isinstance(target, str):
        return holds_iri(target)
    assert target["type"] == "SpecificResource"
    holds_external(target["source"])
    holds_iri(target["scope"])
    for selector in many(target.get("selector", [])):
        {"FragmentSelector": holds_fragment, "SvgSelector": holds_svg}[selector["type"]](selector)
    return None


def holds_fragment(selector):
    """4.2.1, and 4.2.2 of Media Fragments URI 1.0: whole pixels, a box that is not empty."""
    assert selector["conformsTo"] == "http://www.w3.org/TR/media-frags/"
    found = re.fullmatch(r"xywh=pixel:(\d+),(\d+),(\d+),(\d+)", selector["value"])
    assert found and int(found[3]) > 0 and int(found[4]) > 0, selector


def holds_svg(selector):
    """4.2.7: one value, well-formed SVG, shapes alone and no styling."""
    root = ElementTree.fromstring(selector["value"])
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert all(shape.tag in SHAPES and not {"style", "class", "transform"} & set(shape.attrib) for shape in root)
    assert len(root)


def holds_collection(one):
    """5.1: context, id, type; a total that is no negative number; and, unless it is empty, its first page, here within it."""
    assert CONTEXT in many(one["@context"])
    holds_iri(one["id"])
    assert one["type"] == "AnnotationCollection" and one["label"]
    assert isinstance(one["total"], int) and one["total"] >= 0
    assert (one["total"] > 0) == ("first" in one)
    if one["total"]:
        holds_iri(one["last"])
        holds_page({"@context": CONTEXT, "partOf": one, **one["first"]})


def holds_page(one):
    """5.2: context, id, type, items, the collection it is part of, its place there, and the pages beside it."""
    assert CONTEXT in many(one["@context"])
    holds_iri(one["id"])
    assert one["type"] == "AnnotationPage"
    assert isinstance(one["items"], list) and one["items"]
    assert isinstance(one["startIndex"], int) and one["startIndex"] >= 0
    assert one["partOf"]["type"] == "AnnotationCollection"
    holds_iri(one["partOf"]["id"])
    for name in {"next", "prev"} & set(one):
        holds_iri(one[name])
    for item in one["items"]:
        holds_annotation(item)
