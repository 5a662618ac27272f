"""The typefaces of a review sheet, embedded; and what is set in another one where they lack a letter."""

from functools import cache
from xml.sax.saxutils import escape

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.cidfonts import UnicodeCIDFont
from reportlab.pdfbase.ttfonts import TTFont

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
NO_LETTER = "\u25af"  # FIGURES has it: a letter that no typeface here has


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


def rich(text: str, face: str = TEXT) -> str:
    """Escaped, with line breaks, and letters that `face` lacks in a typeface that has them."""
    runs: list[tuple[str, str]] = []
    for letter in text:
        found = face_for(letter, face)
        shown, of = (letter, found) if found else (NO_LETTER, FIGURES)
        if runs and runs[-1][0] == of:
            runs[-1] = (of, runs[-1][1] + shown)
        else:
            runs.append((of, shown))
    parts = [escape(run) if of == face else f'<font name="{of}">{escape(run)}</font>' for of, run in runs]
    return "".join(parts).replace("\r\n", "\n").replace("\n", "<br/>")


def plain(text: str, face: str = TEXT) -> str:
    """For a single line that is set in one face: what it lacks is shown as lacking."""
    return "".join(letter if letter.isspace() or has_letter(face, letter) else "?" for letter in text)
