"""A note in words: its letter and tone, who said it and when, what was measured, and what was answered."""

from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import Any
from xml.sax.saxutils import escape

from django.utils import timezone
from reportlab.platypus import Flowable, Paragraph, Spacer

from board.check_registry import INFORMING, label_of_finding
from board.models.note import SPREAD
from board.worker.review_sheet.look import BODY, FAINT, FIGURE, GRAPHITE, PANEL, REPLY, SMALL, SOFT
from board.worker.review_sheet.marks import tone_mark
from board.worker.review_sheet.told import NOT_ON_A_PANEL, ToldCriterion, ToldNote
from board.worker.review_sheet.typefaces import BOLD, FIGURES, TEXT, rich, width_of, write

UNITS = {"deg": "°", "°": "°", "percent": " %", "%": " %"}


class NoteHead(Flowable):
    """`a  [mark] must   answered`, with who and when on the right."""

    HEIGHT = 13.0

    def __init__(self, note: ToldNote) -> None:
        super().__init__()
        self.note, self.words = note, "measured" if note.is_measured else note.tone

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        self.width = width
        return width, self.HEIGHT

    def draw(self) -> None:
        canvas: Any = self.canv
        x, note = 0.0, self.note
        if note.letter:
            canvas.setFillColor(GRAPHITE)
            x = max(12.0, write(canvas, 0, 3, note.letter, FIGURES, 9) + 6)
        tone_mark(canvas, self.words, x, 2.5)
        canvas.setFillColor(GRAPHITE)
        x = write(canvas, x + 12, 3, self.words, BOLD, 9) + 8
        canvas.setFillColor(SOFT)
        if not note.is_open:
            write(canvas, x, 3, note.state, TEXT, 8)
        said = f"{note.name}, {day(note.at)}" if note.name else day(note.at)
        write(canvas, self.width - width_of(said, TEXT, 8), 3, said, TEXT, 8)
        canvas.setStrokeColor(FAINT)
        canvas.setLineWidth(0.5)
        canvas.line(0, self.HEIGHT - 0.5, self.width, self.HEIGHT - 0.5)


def day(at: datetime) -> str:
    local = timezone.localtime(at)
    return f"{local.day} {local:%b}"


def note_blocks(notes: Sequence[ToldNote]) -> Iterator[list[Flowable]]:
    """Blocks that are better not parted: a head stays with the first lines of what it heads."""
    panel = None
    for note in notes:
        first: list[Flowable] = []
        if note.panel != panel:
            panel = note.panel
            first.append(Paragraph(_where(note), PANEL))
        yield [*first, NoteHead(note), *_body(note), Spacer(1, 7)]


def rubric_blocks(rubric: Sequence[ToldCriterion]) -> Iterator[list[Flowable]]:
    """Its lines, each with what it asks for, the level that the work has there and what was said of it."""
    for place, one in enumerate(rubric):
        level = f' <font name="{TEXT}">{escape(one.level)}</font>' if one.level else ""
        words = [(one.asks, SMALL), (one.comment, BODY)]
        yield [
            *([] if place else [Paragraph("Rubric", PANEL)]),
            Paragraph(f'<font name="{BOLD}">{rich(one.title, BOLD)}</font>{level}', BODY),
            *(Paragraph(rich(text), style) for text, style in words if text), Spacer(1, 7),
        ]


def _where(note: ToldNote) -> str:
    if note.panel != NOT_ON_A_PANEL:
        state = f' <font name="{TEXT}" size="8" color="#a62f22">{note.panel_state}</font>' if note.panel_state else ""
        return f"Panel {note.panel}{state}"
    if note.scope == "board":
        return "The whole board"
    return "Between the panels" if note.region and not note.is_measured else "The page"


def _body(note: ToldNote) -> Iterator[Flowable]:
    if note.finding is not None:
        finding = note.finding
        measured = figure(finding.measured, finding.unit) + (" before" if note.not_measured else "")
        yield Paragraph(rich(f"{label_of_finding(finding.kind)}: {measured}", FIGURES), FIGURE)
        if note.not_measured:
            yield Paragraph(rich(f"Not measured on the page as it stands. {note.not_measured}"), SMALL)
    if note.where:
        yield Paragraph(rich(f"{note.where[0].upper()}{note.where[1:]}."), SMALL)
    if note.scope == SPREAD:
        yield Paragraph("On the whole spread.", SMALL)
    if note.criterion:
        yield Paragraph(rich(f"Of the rubric: {note.criterion}"), SMALL)
    yield Paragraph(rich(note.body), BODY)
    if note.finding is not None:
        give_or_take = f" give or take {figure(finding.tolerance, finding.unit)}" if finding.tolerance else ""
        # What only informs is off from nothing.
        held_against = "" if finding.kind in INFORMING else f"expected {figure(finding.expected, finding.unit)}{give_or_take}; "
        yield Paragraph(rich(f"{held_against}{sureness(finding.confidence)}, {finding.confidence:.2f}"), SMALL)
    for reply in note.replies:
        yield Paragraph(f'<font size="8" color="#57524a">{rich(reply.name)}, {day(reply.at)}:</font> {rich(reply.body)}', REPLY)


def figure(value: float, unit: str) -> str:
    """A number with its unit, as short as it stays true: 6.2°, 143 dpi."""
    size = abs(value)
    digits = 0 if size >= 100 or value == int(value) else 1 if size >= 1 else 2
    return f"{value:.{digits}f}{UNITS.get(unit, f' {unit}' if unit else '')}"


def sureness(confidence: float) -> str:
    return "very sure" if confidence >= 0.9 else "fairly sure" if confidence >= 0.7 else "in doubt"
