"""Sizes and colours of a review sheet: one blue for what is measured, one red pencil for what people say. In points."""

from reportlab.lib.colors import HexColor
from reportlab.lib.pagesizes import A4
from reportlab.lib.styles import ParagraphStyle

from board.worker.review_sheet.typefaces import FIGURES, ITALIC, TEXT

WIDTH, HEIGHT = A4
MARGIN, GAP = 36.0, 14.0
FOOT = 24.0
GRAPHITE, SOFT, FAINT = HexColor(0x2B2A28), HexColor(0x57524A), HexColor(0xC4BAA8)
BLUE, BLUE_LINE = HexColor(0x12607F), HexColor(0x2F93BB)
RED, RED_LINE = HexColor(0xA62F22), HexColor(0xC8483A)

BODY = ParagraphStyle("body", fontName=TEXT, fontSize=9.5, leading=12.2, textColor=GRAPHITE, splitLongWords=1)
SMALL = ParagraphStyle("small", parent=BODY, fontSize=8, leading=10.2, textColor=SOFT)
REPLY = ParagraphStyle("reply", parent=BODY, fontSize=9, leading=11.4, leftIndent=10)
FIGURE = ParagraphStyle("figure", parent=BODY, fontName=FIGURES, fontSize=8, leading=10.6, textColor=BLUE)
PANEL = ParagraphStyle("panel", parent=BODY, fontName="Text-Bold", fontSize=10, leading=13)
HINT = ParagraphStyle("hint", parent=BODY, fontName=ITALIC, textColor=SOFT)
