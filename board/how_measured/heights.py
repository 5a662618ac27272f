from board.how_measured.told import CLICK, HowMeasured, Tolerance

TOLD = {
    "height-off": HowMeasured(
        what="Whether a standing figure is as tall as its character where it stands.",
        how=(
            "You mark the figure: crown and soles, and say whose it is. Its height comes from the cast; of who grows, from the "
            "model sheet that holds on its page.",
            "On level ground the eye level cuts all people of one height at the same place: that holds near and far. So the eye "
            "level of the panel, with the figure's soles, says how tall the figure is in heights of the viewer's eye. Where the "
            "view looks up or down, the point that uprights run to is reckoned in.",
            "If the height of the viewer's eye is known (typed in where posts are stood, or from a tied still), each figure is "
            "held against its character. If it is not, the figures of the panel are held against each other: those that agree are "
            "believed, if they are more than the rest or no two of the rest agree; else only the two that disagree most are told.",
            "Your two clicks, the eye level and the upright point are each a little uncertain. A figure is told only where it "
            "is off by three times as much as all of that together.",
        ),
        sources=(
            "Leonardo da Vinci, Notebooks, translated by J. P. Richter (1888), §541.",
            "G. A. Storey, The Theory and Practice of Perspective (1910), chapter XXVIII: equal figures, heads below, at and "
            "above the horizon.",
            "The way to reckon with a tilted view is derived from the pinhole camera, and held against exact values.",
            "The tolerance: our own choice, no source.",
        ),
        unseen=(
            "Figures nobody marked; seated, crouching and bent ones; one that leans from the uprights by more than 6°.",
            "A kerb, a stair or a slope under the feet, unless you say how high that floor lies over the ground.",
            "A panel whose eye level could not be measured and was not set by hand.",
        ),
        trust=(
            "On exact pinhole pages it is right within 0.1 %.",
            "On drawn pencil and final panels with clicks off by 1.5 % of a figure's height, it finds 96 % of the heights off "
            "by 12 % or more, and what it told was right in all of 66 cases; in a later run in 40 of 42, both wrong ones in one "
            "panel whose eye level was told wrongly, by 4 % of its height.",
            "Where everyone is off to the same side, look at the eye level first, or at the height given for it.",
        ),
        tolerances={
            "height_off": Tolerance("A height may be off by", " %", 100.0, "Against the height that the cast gives the character."),
            "click": CLICK,
        },
        at_thumbnail="At thumbnail stage a height may be off 1.75 times as far.",
        caution="Heights of doors, stairs, rails and seats that you draw by are references for drawing, not advice for "
        "building. For anything that is built, your local rules and a licensed professional decide. The cast holds made-up "
        "characters: type in no measures of real people, and of children least of all.",
    ),
}
