from board.how_measured.told import OWN_DRAWN, HowMeasured

TOLD = {
    "reuse-found": HowMeasured(
        what="Whether a panel shows a drawing that the board has already: a background, a thing in it, or a head large enough.",
        how=(
            "Each panel is looked at 480 pixels wide. Corners and ends of strokes become points, and what is drawn around each is "
            "written down in a short code. The page's words and the panel's frame are left out.",
            "The codes are compared with those of the panels that came to the board before, and of the earlier panels of the same "
            "page. The same drawing may be larger or smaller, shifted, turned or mirrored.",
            "It is told when points in 11 places or more lie as they lay there. Where only 6 to 10 do, as between a pencil and a "
            "final line, all points are asked again whether one much like them lies where it should: then 16 places are needed.",
            "Where it fills less than a tenth of the panel it is called a part, and the less it fills the less sure it is: a "
            "window that is ruled twice is one figure, whoever drew it.",
            "Where both panels show one view, they are proposed to be declared the same. You decide.",
            "Where somebody marked a figure in one of the panels, its head and its body are looked up in the other. If their own "
            "lines lie there too, the figure is proposed: “Mark figures” asks you, and nothing is measured from it before.",
        ),
        sources=(
            "The points and their codes: E. Rublee, V. Rabaud, K. Konolige and G. Bradski, “ORB: an efficient alternative to SIFT "
            "or SURF”, ICCV 2011.",
            "That reuse is good practice: common practice, no source.",
            OWN_DRAWN,
        ),
        unseen=(
            "A drawing that was redrawn from memory: only what was traced, copied or laid under is known again.",
            "A head or thing so small that its points fall into too few places, each a twenty-fourth of the panel's width.",
            "A figure drawn again in another pose: it is not proposed, and has to be marked.",
            "Pages that came later: a page is compared when it is uploaded, with what was there before it.",
        ),
        trust=(
            "It asks for nothing: it only informs.",
            "On panels drawn by our own code, other people in front, pencil and final: 70 of 73 backgrounds used again are known, "
            "and of 36 that were taken over from pencil to final or back, 34; no other drawing was taken for one. The limits were "
            "chosen on these same panels.",
            "Bare rooms that are ruled alike, tiles and windows and nothing else, can pass for one drawing: of some 1450 pairs of "
            "such rooms, drawn with nothing in common by other code, 13 did by more than a tenth of the panel.",
            "On 28 published pages two were told, and both were true.",
            "Figures that were proposed: all 62 were right, on pairs of panels drawn by our own code from seeds never looked at. "
            "131 of 138 drawn again in their pose were proposed (41 of 42 at another stage, 11 of 16 from nearer by), and 94 % of "
            "those that a looser hand had turned by up to 6° and drawn up to 3 % larger or smaller.",
        ),
    ),
}
