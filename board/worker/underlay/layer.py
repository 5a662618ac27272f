"""One layer of an underlay: lines and words, in px of the page."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from board.page_space import Point


@dataclass(frozen=True)
class Stroke:
    points: tuple[Point, ...]
    kind: str  # a row of `style.KINDS`


@dataclass(frozen=True)
class Words:
    at: Point  # where its foot begins
    text: str
    kind: str


@dataclass
class Layer:
    name: str
    strokes: list[Stroke] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)

    def draw(self, kind: str, *segments: Sequence[Point]) -> None:
        self.strokes += [Stroke(tuple(segment), kind) for segment in segments]

    def write(self, at: Point, text: str, kind: str) -> None:
        self.words.append(Words(at, text, kind))
