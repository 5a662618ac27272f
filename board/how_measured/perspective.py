from board.how_measured.told import COMMON_PRACTICE, OWN_DRAWN, HowMeasured, Tolerance

LEONARDO = (
    "Leonardo da Vinci, Notebooks, translated by J. P. Richter (1888), §536, 541 and 542: the horizon lies at the eye of the "
    "viewer; one picture has one point of sight."
)
CAMERA = (
    "Richard Hartley and Andrew Zisserman, Multiple View Geometry in Computer Vision, chapter 8, for what two vanishing points "
    "of edges at right angles say of the camera."
)
FINDS_POINTS = (
    "Straight strokes are searched in the panel. Curves, hatching, rain and lettering count for little, and the rules of ruled and "
    "squared paper are taken out first, unless the sheet was scanned askew.",
    "Of all ways to look into a room of upright walls, the one is taken that most of these strokes run with: it gives the "
    "vanishing points and the eye level, and how sure each of them is. If that is not sure enough, or if all run to one point or "
    "one way, as speed lines and rain do, the panel is not measured.",
)
WEIGHED = (
    "A line that misses may also be a roof, an arm, or part of a thing that stands askew. What lies about it is weighed: "
    "whether it has the corners and the neighbours that an edge has, and how many lines near by run anywhere. It is told only "
    "where that speaks clearly for a slip. The weights come from panels drawn by our own code."
)
ABOVE = "Edges above the eye level are told hardly ever: lines slope there as roofs do."
EYE_LEVEL_TRUST = (
    "Eye level and points are as good as the published benches ask: on the photographs of York Urban the horizon's score (AUC) "
    "is 97.4, and the focal length is within 10 % on all 25 training scenes.",
    "On 400 clean panels drawn by our own code and never met before, in pencil and final line, it tells an eye level on 398, right "
    "within 2 % of the panel's height on 395; on 200 thumbnails on 149, right within 2 % on 110 and within 5 % on 132.",
    "Of 140 panels of speed lines, rain, rays and fences, drawn by other code, it told an eye level in 2; of 27 panels of mere "
    "stick figures on squared paper in none.",
    "On real pages, most of them painted, it tells much less: an eye level in 7 of 30 panels that show one, and in 1 of 63 that "
    "show none or hardly any.",
)
CLEAN = "Of 543 clean panels 1 got a wrong note of edges or eye levels, of 96 others 2."
WEIGHED_BY_OTHERS = "on 3128 drawn panels, each told by weights fitted to the other half of them"
BENT = (
    "Perspective that is bent on purpose, for weight, for speed or for a dream: give the note a stet, or leave the panel alone "
    "by this check."
)
AT_THUMBNAIL = "At thumbnail stage it is let go 1.75 times as far: a loose line is no fault."

TOLD = {
    "stray-edge": HowMeasured(
        what="Edges that should run to the same vanishing point as their neighbours, and miss it.",
        how=(
            *FINDS_POINTS,
            "Each edge of a thing is held against the point that its neighbours run to. The angle by which it misses is "
            "measured at the middle of the edge: so far it would have to be turned.",
            WEIGHED,
            "Where all edges of a thing are turned together, it is said once, for the thing.",
        ),
        sources=(LEONARDO, CAMERA, OWN_DRAWN),
        unseen=(
            "Whether it is an edge at all: an arm or a sleeve beside a wall can pass for one.",
            "Things that truly stand askew, or on a slope, with few edges to say so.",
            ABOVE,
            BENT,
        ),
        trust=(
            *EYE_LEVEL_TRUST,
            f"Of edges and things turned by 4° or more on purpose it finds 37 in a hundred ({WEIGHED_BY_OTHERS}). What it told "
            "there was right in 571 of 584 cases; on 288 panels with faults of all kinds, in 14 of 17. Take such a note as a place "
            "to look at, not as a verdict. In thumbnails it finds little.",
            "On painted pages it is nearly silent: of 21 edges turned by 6° in copies of real ones it told none.",
            CLEAN,
        ),
        tolerances={
            "stray_edge_deg": Tolerance(
                "An edge may miss its point by", "°", means="Against where the other edges meet; an upright may lean as far.",
            ),
        },
        at_thumbnail=AT_THUMBNAIL,
    ),
    "upright-lean": HowMeasured(
        what="An upright (a jamb, a post, a corner of a house) that leans against the other uprights of its panel.",
        how=(
            *FINDS_POINTS,
            "In a view straight ahead uprights are parallel; looking up or down they run together above or below. Each upright "
            "is held against what the others do, and its lean is told in degrees.",
            WEIGHED,
        ),
        sources=(CAMERA, COMMON_PRACTICE, OWN_DRAWN),
        unseen=(
            "Whether it should stand upright: a ladder, a stair rail, a leaning fence or an old barn.",
            "A panel tilted by more than 15° as a whole, which is not measured unless its eye level is set by hand.",
            ABOVE,
            BENT,
        ),
        trust=(
            *EYE_LEVEL_TRUST,
            f"Leaning uprights are found in the same way as other stray edges: it finds 37 in a hundred of all these "
            f"({WEIGHED_BY_OTHERS}), and what it told was right in 571 of 584 cases; on 288 panels with faults of all kinds, in 14 "
            "of 17.",
            CLEAN,
        ),
        tolerances={"stray_edge_deg": Tolerance("An upright may lean by", "°", means="As far as an edge may miss its point.")},
        at_thumbnail=AT_THUMBNAIL,
    ),
    "eye-level-split": HowMeasured(
        what="Things in one panel that were drawn to another eye level than the rest.",
        how=(
            *FINDS_POINTS,
            "Then each thing is looked at by itself. If its edges agree with each other on an eye level of their own, and agree "
            "badly with the panel's, the distance between the two is told in percent of the panel's height.",
            "What several things say counts together, and what lies about them is weighed with it: a gable or two people's limbs "
            "may agree as well.",
        ),
        sources=(LEONARDO, CAMERA, OWN_DRAWN),
        unseen=(
            "A floor that truly slopes, a raised lid, a ramp, a roof: their edges run to a point of their own, rightly.",
            "Things with fewer than a handful of straight edges.",
            BENT,
        ),
        trust=(
            *EYE_LEVEL_TRUST,
            f"Of eye levels off by 6 % or more it finds two in three: 413 of 621 ({WEIGHED_BY_OTHERS}). What it told there "
            "was right in 413 of 425 cases; on 288 panels with faults of all kinds, in 12 of 12.",
            CLEAN,
        ),
        tolerances={
            "eye_level_split": Tolerance(
                "Eye levels may lie apart by", " % of the panel's height", 100.0, "So near to each other, two pass as one.",
            ),
        },
        at_thumbnail=AT_THUMBNAIL,
    ),
    "outside-cone": HowMeasured(
        what="Things drawn so far from the middle of the view that they are pulled out of shape.",
        how=(
            *FINDS_POINTS,
            "Where the panel shows how far away the viewer stands (two vanishing points of edges at right angles do), a circle "
            "is drawn about the middle of the panel: the 60° that a reader takes in at once.",
            "Whole things outside the circle are told, with their angle from the middle, and with how much longer than wide a "
            "ball would be drawn there. That part is plain geometry: one divided by the cosine of the angle.",
        ),
        sources=(
            "The 60° cone of vision: common practice of perspective drawing, no source.",
            "G. A. Storey, The Theory and Practice of Perspective (1910), figures 14 and 15, for what a wide and a narrow view "
            "do.",
        ),
        unseen=(
            "Where the reader is meant to look: the middle of the panel is taken for the point looked at, which is wrong for a "
            "panel cut from a wider view.",
            "A wide lens that is meant: stretch at the edges is a style of its own, and asks for a stet.",
        ),
        trust=(
            *EYE_LEVEL_TRUST,
            "Of things wholly 13° or more outside the cone it finds 16 of 28, and what it told was right in all cases; some of the "
            "panels were in sight while it was made. Where the viewer's distance is uncertain by more than a factor of two, it is "
            "quiet.",
            CLEAN,
        ),
        tolerances={
            "outside_cone_deg": Tolerance(
                "Things may lie outside the cone by", "°", means="Beyond the cone of vision boxes look stretched.",
            ),
        },
    ),
}
