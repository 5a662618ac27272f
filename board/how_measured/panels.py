from board.how_measured.told import COMMON_PRACTICE, HowMeasured

TOLD = {
    "order-doubtful": HowMeasured(
        what="Whether the panels of a page can be read in more than one order.",
        how=(
            "The panels are found first: drawn frames, known by strokes as straight and thick as the page's other borders, and "
            "open panels by the white around them.",
            "Gutters that run across part the page into tiers. Within a tier, panels follow as the board reads: left to right, "
            "or right to left. Where no gutter runs across, columns are read. An inset comes after the panel it lies on.",
            "Where both a cut across and a cut down are equally fair, the page is said to be readable in two ways. The numbers "
            "on the note show the likelier one.",
        ),
        sources=(COMMON_PRACTICE,),
        unseen=(
            "Balloons, sight lines and moving figures, which lead the eye as much as gutters do: if yours make the order plain, "
            "give the note a stet.",
            "Some insets that are drawn straight onto their panel; and in thumbnails some panels without a frame. A back wall "
            "seen straight on may still pass for an inset, and a strip between beams for a gutter or a panel.",
            "Where panels run together no note says so, unless an earlier picture or the page's words tell how many there should "
            "be. It happens with a panel that laps over others, an inset on a drawing that bleeds off, two panels that share a "
            "line with a balloon over it, big lettering across gutters, black gutters of less than 2 mm, many construction lines "
            "that run on past the frames, and open panels close beside each other: look at the outlines, and correct them.",
            "Rules of paper that was scanned askew, and boards with trim and live area printed on them: they pass for borders.",
            "Windows in a drawing that fills its page may pass for insets.",
        ),
        trust=(
            "On 28 real pages with panels outlined by hand, all are found and in order. They were in sight while it was made, "
            "so this says little of other pages.",
            "On 765 pages drawn by our own code and never met before, in thumbnail, pencil and final line, F1 for panels was 99.9 "
            "% and the order right on 762.",
            "On other drawn pages, not looked at while it was tuned: with narrow gutters between panels that bleed off 23 of 24 "
            "are right, of strips for scrolling on plain ground 23 of 24, on ruled and squared paper 30 of 30. Where four "
            "construction lines of each panel run 3 to 30 mm past its frame 20 of 34 are right, where eight run 2 to 12 mm past it "
            "22 of 34.",
            "On ground that changes its tone slowly 44 of 48 such pages are right, of strips 20 of 24; with black gutters of 1 to "
            "3 mm 20 of 24, with white frames beside them 13 of 24; of splashes with a box of credits 23 of 24.",
            "Panels that you correct by hand stand above what was found, and the order with them.",
        ),
    ),
    "one-panel": HowMeasured(
        what="Whether one panel was found that fills most of a strip for scrolling.",
        how=(
            "Of a picture more than twice as long as it is wide, the share that each panel fills. From three fifths on it is told: "
            "such strips mostly have many panels.",
            "It is a doubt about what was found, and no fault of the page.",
        ),
        sources=("It counts; no outside source is needed. The share: our own choice.",),
        unseen=(
            "Panels on ground that changes its tone in steps, or frameless and as toned as the ground beside them, which "
            "ran together into several parts of the strip.",
            "Whether it is one panel, drawn so: then give the note a stet.",
        ),
        trust=("On drawn strips whose ground changes its tone slowly on the way down, 20 of 24 had all their panels found.",),
    ),
}
