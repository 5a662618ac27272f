"""One sheet after another: lines of words, tallies, and the foot of each sheet."""

from collections.abc import Mapping

from reportlab.lib.colors import Color
from reportlab.pdfgen.canvas import Canvas

from board.models.note import TONES
from board.worker.review_sheet import look
from board.worker.review_sheet.marks import tone_mark
from board.worker.review_sheet.typefaces import FIGURES, ITALIC, TEXT, width_of, write

LEFT, RIGHT = look.MARGIN, look.WIDTH - look.MARGIN
TOP, BOTTOM = look.HEIGHT - look.MARGIN, look.MARGIN + look.FOOT
ACROSS = RIGHT - LEFT
LEAST_SIZE = 6.0


class Paper:
    def __init__(self, canvas: Canvas, title: str) -> None:
        self.canvas, self.title = canvas, title

    def words(self, x: float, y: float, words: str, face: str, size: float, colour: Color, most: float = 0.0) -> float:
        """One line, smaller if it would be longer than `most`; where it ends."""
        while most and size > LEAST_SIZE and width_of(words, face, size) > most:
            size -= 0.5
        self.canvas.setFillColor(colour)
        return write(self.canvas, x, y, words, face, size)

    def tally(self, x: float, y: float, tally: Mapping[str, int], size: float, *, is_short: bool = False) -> float:
        """Open notes by tone; where it ends."""
        if not any(tally.values()) and not is_short:
            return self.words(x, y, "no open note", ITALIC, size, look.SOFT)
        for tone in (*TONES, "measured"):
            if tally.get(tone):
                tone_mark(self.canvas, tone, x, y - 0.5, size * 0.8)
                words = str(tally[tone]) if is_short else f"{tally[tone]} {tone}"
                x = self.words(x + size, y, words, TEXT, size, look.GRAPHITE) + size * (0.5 if is_short else 1)
        return x

    def rule(self, y: float, is_firm: bool = False) -> None:
        self.canvas.setStrokeColor(look.GRAPHITE if is_firm else look.FAINT)
        self.canvas.setLineWidth(0.5)
        self.canvas.line(LEFT, y, RIGHT, y)

    def mark_place(self, name: str, words: str) -> None:
        """A place that links and the reader's table of contents lead to."""
        self.canvas.bookmarkPage(name)
        self.canvas.addOutlineEntry(words, name)

    def row_ends(self, y: float, high: float) -> float:
        """Where a row of this height begins: here, or on the next sheet where there is no room."""
        if y - high >= BOTTOM:
            return y
        self.end_sheet()
        return TOP

    def end_sheet(self) -> None:
        number = str(self.canvas.getPageNumber())
        self.words(LEFT, look.MARGIN, self.title, TEXT, 8, look.SOFT, ACROSS - 40)
        self.words(RIGHT - width_of(number, FIGURES, 8), look.MARGIN, number, FIGURES, 8, look.SOFT)
        self.canvas.showPage()
