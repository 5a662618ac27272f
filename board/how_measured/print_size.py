from board.how_measured.told import HowMeasured, Tolerance

PRINTER = (
    "Your printer's own specification stands above all that is said here. Ask for it before the first final, and set the "
    "board's format and tolerances by it. For what a book needs beyond size (ink, paper, binding, safety marks), a printer "
    "decides, not this page."
)
BY_SHAPE = (
    "The picture's shape is held against the board's format, with bleed, without, and, where pages are bound, with bleed at all "
    "sides but the bound one (the left of page 1 where the comic is read from the left, then the right, and so on). It is taken "
    "as whichever it fits, and the note says which; if it fits none, it is not measured."
)
ARITHMETIC = (
    "It is arithmetic on the picture's size. What can be wrong is the format typed in for the board, or how the picture was taken."
)

TOLD = {
    "resolution-low": HowMeasured(
        what="Whether a final has as many pixels per inch, at the size it is printed, as the board asks for.",
        how=(BY_SHAPE, "Pixels across are divided by inches across; the same is done downwards, and the lower of the two is "
        "told."),
        sources=(
            "300 dpi for tone, 600 dpi for line art: common practice of printers, no one source.",
            "Paper sizes: ISO 216 (A4, A5) and JIS P 0138 (B5). The US comic page: common practice of printers, no source.",
        ),
        unseen=(
            "Whether the picture was enlarged before it was exported: pixels that were made up count like drawn ones.",
            "The resolution written inside the file, which is often wrong and is not used.",
        ),
        trust=(ARITHMETIC,),
        tolerances={"least_dpi": Tolerance("At least", " dpi", means="Pixels for each inch of the printed page.")},
        caution=PRINTER,
    ),
    "near-trim": HowMeasured(
        what="Panel borders that stand where the paper is cut: neither in the live area nor out to the bleed.",
        how=(
            BY_SHAPE,
            "Each framed panel's sides are measured to the trim, in millimetres at print size. A side is told if it lies "
            "between the live area and the end of the bleed.",
        ),
        sources=(
            "3 mm of bleed (⅛ inch in the US), and a cut that wanders by a millimetre or two: common practice of printers, no "
            "one source.",
            "The live area is what the board's format says.",
        ),
        unseen=(
            "Balloons, captions and faces near the trim: only frames are measured.",
            "Panels without a frame, and the side of a page that is bound, where more room is needed.",
        ),
        trust=(ARITHMETIC, "It rests on the panels as found or as corrected by hand."),
        tolerances={
            "near_trim_mm": Tolerance(
                "A border may stand outside the live area by", " mm", means="What stands farther out may be cut in print.",
            ),
        },
        caution=PRINTER,
    ),
    "no-bleed": HowMeasured(
        what="A picture that ends at the trim, though panels run off the page.",
        how=(
            BY_SHAPE,
            "Where it is taken as the trim size, each panel's sides are held against the picture's own edges. A side is told "
            "that lies on one, if something is drawn along it, or if it is painted there.",
        ),
        sources=("3 mm of bleed (⅛ inch in the US), and a cut that wanders by a millimetre or two: common practice of printers, "
                 "no one source.",),
        unseen=(
            "Whether the drawing goes on past the trim in the original: only what was exported is seen.",
            "A format so near to its own shape with bleed that the picture could be either.",
        ),
        trust=(ARITHMETIC, "It rests on the panels as found or as corrected by hand. On a board without bleed it is silent."),
        tolerances={},
        caution=PRINTER,
    ),
}
