from board.how_measured.told import HowMeasured

TOLD = {
    "panel-missing": HowMeasured(
        what="Whether a panel that the page should have is on its newest picture.",
        how=(
            "A page should have the panels that were planned for it, with the script or added by hand, with words or without, and "
            "those that its earlier pictures of the same alternate have.",
            "Panels found on the new picture are known again by where they lie or by what is drawn in them, else by their "
            "order. What is left over is told, with the panel that now lies where it was.",
            "What you corrected by hand counts: a panel that you took out of a picture is waited for no more.",
        ),
        sources=("It counts; no outside source is needed. How much of its old place another panel has to cover: our own choice.",),
        unseen=(
            "Panels that ran together on a page's first picture, if nothing was written for it panel by panel.",
            "Which of several planned panels has no drawing: those found take the words in order, so the last ones are left over.",
            "Whether a shot was left out on purpose: then give the note a stet.",
            "A script that was taken over after the page was drawn: what its panels are short of stands in the page's own words.",
        ),
        trust=(
            "It rests on the panels as found or as corrected by hand: one that was found wrongly on an earlier picture is missed "
            "on the next.",
        ),
    ),
}
