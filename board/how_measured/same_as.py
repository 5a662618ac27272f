from board.how_measured.told import OWN_DRAWN, HowMeasured, Tolerance

AGAINST = "Against the panel that it takes over."

TOLD = {
    "same-as-drift": HowMeasured(
        what="Whether the background that a panel takes over from an earlier one still stands where it stood.",
        how=(
            "You declare a panel the same as an earlier one. The two are laid frame on frame.",
            "Small patches of the earlier drawing are searched in the later one. Those that agree say together by how much the "
            "shared drawing was shifted, scaled or turned. Figures and balloons agree with nothing, and are left out.",
            "Where they agree too little, the earlier drawing is laid on mirrored too, and taken so if that agrees far better.",
            "If most patches still stand where they stood, nothing is told.",
        ),
        sources=("That a kept picture keeps still: common practice, no source.", OWN_DRAWN),
        unseen=(
            "Foliage, clouds, water and other loose line drawn anew: it can look like a slip.",
            "Panels of another shape, or framed otherwise by 10 % and more: that looks meant, and is not measured.",
            "What changed in the drawing itself: a door that is now open is the story's.",
        ),
        trust=(
            "On pairs drawn by our own code, other people in front, pencil and final: slips of 1 % of the panel's width, 2 % of "
            "scale or 1° and more are found in 29 of 30, and told within 0.1 % mostly.",
            "None of 30 clean pairs was told off.",
        ),
        tolerances={
            "same_as_shift": Tolerance("The drawing may shift by", " % of the panel's width", 100.0, AGAINST),
            "same_as_scale": Tolerance("It may grow or shrink by", " %", 100.0, AGAINST),
            "same_as_turn_deg": Tolerance("It may turn by", "°", means=AGAINST),
        },
        at_thumbnail="At thumbnail stage it is let go 2 times as far.",
    ),
}
