from board.how_measured.told import OWN_DRAWN, HowMeasured, Tolerance

TOLD = {
    "still-mismatch": HowMeasured(
        what="What is drawn otherwise than the still that lies under the panel has it: single edges, an eye level, or all of it.",
        how=(
            "A still has to be placed under the panel, by two points or found there, and its camera known: solved from its lines, "
            "read from its scene or typed in.",
            "First the drawing is laid on the still once more, by the edges of both. Where all of it lies elsewhere than the still "
            "was placed, that is told, and the rest is measured from where it lies.",
            "Then each straight line of the drawing that is no edge of the still is looked at. Where the still surely shows an "
            "edge in its place in another direction, nothing is drawn as that edge runs, and the line meets what the edge meets, "
            "it is off. Edges of one thing are one note.",
            "Where too little of the still's edges is drawn, the drawing's own eye level, as the perspective check has it, is held "
            "against the still's.",
            "Only what is surely off is told: the interval at 90 % must clear six tenths of the tolerance.",
        ),
        sources=(
            "The test that tells whether a drawing lies on a still: A. Desolneux, L. Moisan and J.-M. Morel, “Meaningful "
            "alignments”, IJCV 2000. The test that tells whether the still shows an edge: by the same, From Gestalt Theory to "
            "Image Analysis, 2008.",
            "That a drawing holds to the still it was taken from: common practice, no source.",
            OWN_DRAWN,
        ),
        unseen=(
            "Edges that the still does not show: hidden, outside its frame, or between two tones that are the same.",
            "What stands behind figures and balloons; curves, hatching and edges shorter than 5 % of the panel's diagonal.",
            "What was added to the set, or moved in it, on purpose: what is not in the still is left alone, what was turned in its "
            "place can look like a slip.",
        ),
        trust=(
            "On panels and stills drawn by our own code, pencil and final, stills as lines, tones and grainy photographs: a "
            "drawing that lies off as a whole by 5 % or more is found in 21 of 21 cases, another eye level of the whole by 6 % or "
            "more in 14 of 21.",
            "Single edges and things it misses more than it tells: of those off by 4° or more, seen in both pictures, it finds 29 "
            "of 84.",
            "The still's own camera, where its lines have to tell it: of 110 renders in flat tones, drawn by other code and never "
            "met before, 74 told one, and its eye level was right within 2 % of the height on 67.",
            "What it told was right in 67 of 72 cases, and 1 of 126 clean panels got a wrong note. A skirt beside a box can pass "
            "for the box's edge.",
        ),
        tolerances={
            "still_edge_deg": Tolerance("An edge may run otherwise by", "°", means="Against the same edge in the still."),
            "still_eye_level": Tolerance(
                "The eye level may be off by", " % of the panel's height", 100.0, "Against that of the still's camera.",
            ),
            "still_place": Tolerance(
                "The drawing may lie off where the still was placed by", " % of the panel's width", 100.0,
                "As a whole; what lies off farther is told once, and the rest is measured from where it lies.",
            ),
        },
        at_thumbnail="At thumbnail stage it is let go 2 times as far.",
    ),
}
