"""The typefaces of a review sheet, embedded; and what is set in another one where they lack a letter."""

from functools import cache
from unicodedata import category
from xml.sax.saxutils import escape

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.cidfonts import UnicodeCIDFont
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from board.font_files import font_path

TEXT, ITALIC, BOLD, FIGURES = "Text", "Text-Italic", "Text-Bold", "Figures"
FILES = {
    TEXT: ("fontpkg_alegreya_sans", "AlegreyaSans-Regular.ttf"),
    ITALIC: ("fontpkg_alegreya_sans", "AlegreyaSans-Italic.ttf"),
    BOLD: ("fontpkg_alegreya_sans", "AlegreyaSans-Bold.ttf"),
    FIGURES: ("fontpkg_ibm_plex_mono", "IBMPlexMono-Regular.ttf"),
}
# Every reader of PDF brings typefaces for these: they are named, not embedded.
HANGUL, EAST_ASIAN = "HYGothic-Medium", "HeiseiKakuGo-W5"
SET_ON = {"Mn", "Me", "Cf"}  # marks on a letter, and what is not seen alone
JOINER, SKIN_TONES = "\u200d", {chr(code) for code in range(0x1F3FB, 0x1F400)}
NO_LETTER = "\u25ca"  # FIGURES has it: it stands for a letter that no typeface here has


@cache
def register() -> None:
    for name, file in FILES.items():
        pdfmetrics.registerFont(TTFont(name, str(font_path(*file))))
    pdfmetrics.registerFontFamily(TEXT, normal=TEXT, bold=BOLD, italic=ITALIC, boldItalic=BOLD)
    for name in (HANGUL, EAST_ASIAN):
        pdfmetrics.registerFont(UnicodeCIDFont(name))


def has_letter(face: str, letter: str) -> bool:
    return ord(letter) in pdfmetrics.getFont(face).face.charToGlyph


def face_for(letter: str, face: str) -> str | None:
    """None where no typeface here has the letter."""
    if letter.isspace() or has_letter(face, letter):
        return face
    for other in (TEXT, FIGURES):
        if has_letter(other, letter):
            return other
    code = ord(letter)
    if 0x1100 <= code <= 0x11FF or 0x3130 <= code <= 0x318F or 0xAC00 <= code <= 0xD7AF:
        return HANGUL
    return EAST_ASIAN if 0x2E80 <= code <= 0x9FFF or 0xF900 <= code <= 0xFAFF or 0xFF00 <= code <= 0xFFEF else None


def all_have_a_face(text: str) -> bool:
    return all(face_for(letter, TEXT) for letter in set(text))


def runs(text: str, face: str) -> list[tuple[str, str]]:
    """(typeface, letters of it): in `face`, and what it lacks in one that has it."""
    found: list[tuple[str, str]] = []
    for sign in _signs(text, face):
        of, shown = (other, sign) if (other := face_for(sign[0], face)) else (FIGURES, NO_LETTER)
        if found and found[-1][0] == of:
            found[-1] = (of, found[-1][1] + shown)
        else:
            found.append((of, shown))
    return found


def _signs(text: str, face: str) -> list[str]:
    """Letters; one that no typeface has together with what is set on it or joined to it: a family of four is one sign."""
    signs: list[str] = []
    for letter in text:
        lacks = bool(signs) and face_for(signs[-1][0], face) is None
        if lacks and (category(letter) in SET_ON or signs[-1][-1] == JOINER or letter in SKIN_TONES):
            signs[-1] += letter
        else:
            signs.append(letter)
    return signs


def rich(text: str, face: str = TEXT) -> str:
    """For a paragraph: escaped, with line breaks."""
    parts = [escape(run) if of == face else f'<font name="{of}">{escape(run)}</font>' for of, run in runs(text, face)]
    return "".join(parts).replace("\r\n", "\n").replace("\n", "<br/>")


def width_of(text: str, face: str, size: float) -> float:
    return sum(pdfmetrics.stringWidth(run, of, size) for of, run in runs(text, face))


def write(canvas: Canvas, x: float, y: float, text: str, face: str, size: float, mode: int = 0) -> float:
    """One line, in the colours that are set; where it ends. `mode` 1 draws its outlines."""
    line = canvas.beginText(x, y)
    line.setTextRenderMode(mode)
    for of, run in runs(text, face):
        line.setFont(of, size)
        line.textOut(run)
    line.setTextRenderMode(0)
    canvas.drawText(line)
    return x + width_of(text, face, size)
