"""An underlay as SVG (W3C SVG 1.1): one group a layer, the page's own size, nothing behind it."""

from collections.abc import Iterable, Sequence
from xml.etree import ElementTree as ET

from board.worker.underlay.layer import Layer, Stroke, Words
from board.worker.underlay.style import KINDS, hairline_px, letters_px, page_height_px

NAMESPACE = "http://www.w3.org/2000/svg"


def as_svg(layers: Iterable[Layer], size_px: tuple[int, int]) -> bytes:
    width, height = size_px
    page_height = page_height_px(width, height)
    ET.register_namespace("", NAMESPACE)
    root = ET.Element(f"{{{NAMESPACE}}}svg", {"width": str(width), "height": str(height), "viewBox": f"0 0 {width} {height}"})
    for layer in layers:
        group = _add(root, "g", id=layer.name, fill="none")
        for kind in KINDS:
            strokes = [stroke for stroke in layer.strokes if stroke.kind == kind]
            if strokes:
                _add_strokes(group, kind, strokes, page_height)
        for words in layer.words:
            _add_words(group, words, page_height)
    return ET.tostring(root, encoding="utf-8", xml_declaration=True)


def _add(parent: ET.Element, name: str, **attributes: str) -> ET.Element:
    return ET.SubElement(parent, f"{{{NAMESPACE}}}{name}", {key.replace("_", "-"): value for key, value in attributes.items()})


def _add_strokes(group: ET.Element, kind: str, strokes: Sequence[Stroke], height_px: float) -> None:
    path = "".join("M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in stroke.points) for stroke in strokes)
    ink = KINDS[kind]
    group.append(ET.Element(f"{{{NAMESPACE}}}path", {
        "class": kind, "d": path, "stroke": ink.hex, "stroke-width": f"{ink.width * hairline_px(height_px):.2f}",
        "stroke-linecap": "round",
    }))


def _add_words(group: ET.Element, words: Words, height_px: float) -> None:
    size = letters_px(height_px)
    text = _add(group, "text", x=f"{words.at[0]:.2f}", y=f"{words.at[1] - size / 4:.2f}", fill=KINDS[words.kind].hex,
                font_family="Alegreya Sans, sans-serif", font_size=f"{size:.2f}")
    text.text = "".join(letter for letter in words.text if letter.isprintable())
