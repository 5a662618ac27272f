from board.how_measured.told import CLICK, HowMeasured, Tolerance

AT_THUMBNAIL = "At thumbnail stage it is let go 1.75 times as far."
SHEET = (
    "What is expected is your own model sheet, whatever it says. A comic character has its own proportions; published canons "
    "are offered as starting points in the cast, each with its source, and are never taken as truth here."
)
TWO_CLICKS = (
    "Crown and chin set close up, as “Head, close up” has you do it, with a hand that is off by 2 pixels of the screen: of the "
    "head counts off by 0.75 or more, 98 % are found; by 4 pixels, 83 %.",
    "Marked by eye on the page, off by 1.5 % of the figure's height, a head is told within about 15 % only: then 15 % are found.",
    "What was told was right in all of 171 cases of these runs, on pages drawn by our own code, however the figures were clicked. "
    "A smaller run on other such pages had 1 wrong note of 18, in a panel whose uprights were found wrongly: since then, figures "
    "that lean from the uprights by more than 6° are left out, and of the notes of two later runs all 37 are right with a hand off "
    "by 2 pixels, and 35 of 36 with one off by 4. "
    "How far a hand is off on the screen is common practice, no source.",
)
PEOPLE = "The cast holds made-up characters: type in no measures of real people, and of children least of all."
CERTAIN = (
    "Your clicks are a little uncertain: by a few pixels of the screen at the zoom at which you set them, and by the width of the "
    "line that you point at. A figure is told only where it is off by four times as much as that could make it."
)

TOLD = {
    "heads-off": HowMeasured(
        what="How many heads tall a marked figure is, against its model sheet.",
        how=(
            "You mark crown, chin and soles. The figure's height is divided by the height of its head, along the line it stands "
            "on.",
            "Where the view looks up or down, that is reckoned out; chin and eyes stand before that line, so their uncertainty "
            "grows there.",
            CERTAIN,
        ),
        sources=(SHEET, "Counting a figure in heads: common practice of figure drawing, no one source."),
        unseen=(
            "Figures that sit, crouch, bend or lean by more than 6°, and views tilted by more than 20°.",
            "Where the crown lies under hair, a hat or a hood: mark the skull, as on the model sheet.",
            "A character that is meant to change, by age, by mood or by a joke: give it a stet.",
        ),
        trust=TWO_CLICKS,
        tolerances={
            "heads_off": Tolerance(
                "A head count may be off by", " heads",
                means="Against the model sheet, in a figure of 5 heads or more; in one of fewer, as much less.",
            ),
            "click": CLICK,
        },
        at_thumbnail=AT_THUMBNAIL,
        caution=PEOPLE,
    ),
    "segment-off": HowMeasured(
        what="Whether shoulders, hips, knees, arms, legs and head keep the share of the figure that the model sheet gives them.",
        how=(
            "You mark the joints you see. Levels (shoulders, hips, knees) are read along the line that the figure stands on; "
            "limbs and widths by their length, all as shares of the figure's height.",
            "Of several lengths that are off, the surest is told and the others are named, since one that is off mostly pulls "
            "others along.",
            CERTAIN,
        ),
        sources=(
            SHEET,
            "Which lengths are measured follows R. Drillis and R. Contini (1966), as printed in D. A. Winter, Biomechanics and "
            "Motor Control of Human Movement (2009), figure 4.1.",
        ),
        unseen=(
            "Foreshortening: an arm may point at the reader and shoulders may be turned, which only shortens them. So longer "
            "than on the sheet is told, shorter is not measured.",
            "Limbs and widths in views tilted by more than 10°; the width of a head whose view nobody said.",
            "Joints under a coat or a skirt: what you mark there is a guess, and the note is one with it.",
        ),
        trust=TWO_CLICKS,
        tolerances={
            "segment_off": Tolerance(
                "A length may be off by", " % of the figure's height", 100.0, "Against the share that the model sheet gives it.",
            ),
            "click": CLICK,
        },
        at_thumbnail=AT_THUMBNAIL,
        caution=PEOPLE,
    ),
    "off-model-trend": HowMeasured(
        what="Whether a character's head grows or shrinks against its body from page to page.",
        how=(
            "The head counts of all pages where the character is marked are laid beside each other, and a straight line is drawn "
            "through them. Four pages are the least.",
            "What is told is how far that line climbs or falls from the first page to the last, if it is three times as much as "
            "the clicks and the scatter of the pages could make it.",
            "Each page is held against the model sheet that holds there: who grows up, and has a new sheet from then on, does not "
            "drift.",
            "The note stands on the latest page, where the drift can still be stopped.",
        ),
        sources=(
            "A straight line through uncertain values (weighted least squares): any textbook of statistics.",
            "The tolerance: our own choice, no source.",
        ),
        unseen=(
            "A drift that comes and goes, and one on pages where nobody marked the figure.",
            "A character that grows up in the story and has no sheet from that page on: a stet lets its drift stand, on "
            "later pages too.",
        ),
        trust=(*TWO_CLICKS, "The drift itself has no bench of its own; it rests on these head counts."),
        tolerances={
            "trend_heads": Tolerance(
                "From first page to last, heads may drift by", " heads",
                means="Along a line through all pages that show them, in a figure of 5 heads or more; in one of fewer, as much "
                      "less.",
            ),
        },
        caution=PEOPLE,
    ),
}
