"""A fit that differs along the board, through the run or with the height: no single setting cures
it.

Geometry from `figures`; which cause is likelier is common practice, no source.
"""

from __future__ import annotations

from ...faults import Cause, Symptom, words

_CENTRE_OFF = (("centre-off", 3.0), ("centre-unknown", 1.5), ("centre-good", 0.4))
_PAIR_BY_TURNING = (
    "Measure the middle tail and its neighbours at their ends: it differs by about "
    "{d}, twice the error."
)
_CENTRE_TIGHT = Cause(
    "centre-off",
    4,
    "The fence's centre, not the height: two cuts made by turning the board stand twice the "
    "centre's error too far apart, "
    "and the middle tail comes out that much too wide.",
    _PAIR_BY_TURNING,
    "Leave the bit alone. Measure the two walls beside a cut and log them ({log_walls}).",
    ("d", "half_mm"),
    _CENTRE_OFF,
    "The fence moves by half the difference, {half}: in where the pair is cut with the bit past "
    "the middle of the board, out where it is cut short of it. Only for a fresh piece.",
)
_CENTRE_LOOSE = Cause(
    "centre-off",
    4,
    "The fence's centre, not the height: two cuts made by turning the board stand twice the "
    "centre's error too close, "
    "and the middle tail comes out that much too narrow.",
    _PAIR_BY_TURNING,
    "Leave the bit alone. Measure the two walls beside a cut and log them ({log_walls}).",
    ("d", "half_mm"),
    _CENTRE_OFF,
    "The fence moves by half the difference, {half}: out where the pair is cut with the bit past "
    "the middle of the board, in where it is cut short of it. Only for a fresh piece.",
)
_WIDENED = Cause(
    "middle-socket-cut-twice",
    2,
    "A socket in the middle was passed a second time after the turn, which widens it by twice the "
    "centre's error.",
    "Measure the mouths of the middle socket and of its neighbours: wider by about {d}?",
    "Cut a socket or slot in the middle once only, or bring the centre to within {half} first "
    "(log it as gap far or near).",
    ("d", "half_mm"),
    (("centre-off", 2.0), ("centre-good", 0.4)),
)
_BOWED = Cause(
    "board-bowed",
    1,
    "A board is bowed, so that its middle stood off the table or the fence.",
    "Lay a straight edge along both boards where they were cut.",
    "Flatten it or press the middle down with a block while it is cut; leave the settings alone.",
    (),
    (("wide-board", 2.0),),
)
_FAR_TEST = (
    "Measure both boards' widths, then the half-pins at the two edges: where the centre is off "
    "they differ by {d}, where the "
    "boards do, the far one alone is off."
)
_FAR_TEXT = (
    "The slot at the far edge is cut with that edge to the fence, so its tail takes twice the "
    "centre's error, and all that a "
    "tail board's width is off by."
)
_FAR_TIGHT = Cause(
    "far-edge",
    4,
    _FAR_TEXT,
    _FAR_TEST,
    "Leave the bit alone. Rip all boards to one width first.",
    ("d", "half_mm"),
    _CENTRE_OFF,
    "Where the boards are equally wide, the fence goes out by half the difference, {half}, for "
    "fresh boards.",
)
_FAR_LOOSE = Cause(
    "far-edge",
    4,
    _FAR_TEXT,
    _FAR_TEST,
    "Leave the bit alone. Rip all boards to one width first.",
    ("d", "half_mm"),
    _CENTRE_OFF,
    "Where the boards are equally wide, the fence goes in by half the difference, {half}, for "
    "fresh boards.",
)
_OFF_ITS_STOP = Cause(
    "off-its-stop",
    2,
    "That tail's slot or its socket was cut off its stop: a chip at the fence, a board not against "
    "it.",
    "Measure the tail and its socket against their neighbours: one of them differs by {d}.",
    "Leave the settings alone; clear the fence of chips, and cut that board again.",
    ("d",),
)
_ADDS_UP = "The steps of the two boards differ a little, and the error adds up from tail to tail."
_STEPS = Cause(
    "steps-differ",
    4,
    _ADDS_UP,
    "Put it together from the other edge: where the steps differ, the tails that bind are then at "
    "the first edge; a tail "
    "that binds both ways was cut wrong by itself. Across about {tails} tails {d} is {per_step} a "
    "step.",
    "Leave the bit alone. Set each stop of both boards by itself, as the list of stops has it, on "
    "one scale: then no error adds up.",
    ("d", "tails_n", "per_step_mm"),
    (("by-scale", 1.5), ("by-spacer", 0.0), ("many-tails", 1.5)),
)
_SPACER = Cause(
    "spacer-differs",
    2,
    _ADDS_UP,
    _STEPS.test,
    "Leave the bit alone. Step both boards with the same spacer, clean, against the same face: it "
    "must hold {per_step}. Or set each stop by itself, as the list of stops has it.",
    ("d", "tails_n", "per_step_mm"),
    (("by-scale", 0.0), ("many-tails", 1.5)),
)
_OPPOSITE = Cause(
    "opposite-edges",
    2,
    "The two boards had opposite edges against the fence, so that their steps run against each "
    "other.",
    "Mark the edge that touched the fence on both boards: put together, the marks must lie on the "
    "same side. Opposite "
    "edges add the two boards' errors: {d} in all is then {half} on each.",
    "Mark one reference edge a board and keep it at the fence (or its stop) for both; then cut a "
    "new pair.",
    ("d", "half_mm"),
    (("many-tails", 1.3),),
)
_MOISTURE = Cause(
    "moisture",
    1,
    "The two boards have swollen or shrunk by different amounts since they were cut.",
    "Measure both boards' widths and those from the day they were cut: across {board} a difference "
    "of {moist} of moisture "
    "is {d} (Wood Handbook: width x C x moisture, C here {coefficient}).",
    "Let both boards lie together until they no longer change, cut both the same day and join them "
    "soon.",
    ("d", "moist_percent"),
    (
        ("moisture-differs", 5.0),
        ("equally-dry", 0.3),
        ("two-woods", 2.0),
        ("wide-board", 1.5),
        ("many-tails", 1.3),
    ),
)
_ACROSS = words("across edge end")

SYMPTOMS = (
    Symptom(
        "middle-tight",
        "middle tight",
        "Only the middle tail (or tails) tight, the others good",
        (words("middle tight"),),
        (_CENTRE_TIGHT, _BOWED),
        words("only"),
        "the difference in clearance",
        0.1,
    ),
    Symptom(
        "middle-loose",
        "middle loose",
        "Only the middle tail (or tails) loose, the others good",
        (words("middle loose"),),
        (_CENTRE_LOOSE, _WIDENED, _BOWED),
        words("only"),
        "the difference in clearance",
        0.1,
    ),
    Symptom(
        "far-tail-tight",
        "last tail only tight",
        "Only the last tail tight, the one away from the fence, the others good",
        (words("last only tight"),),
        (_FAR_TIGHT, _OFF_ITS_STOP, _MOISTURE),
        words("edge far"),
        "the difference in clearance",
        0.1,
    ),
    Symptom(
        "far-tail-loose",
        "last tail only loose",
        "Only the last tail loose, the one away from the fence, the others good",
        (words("last only loose"),),
        (_FAR_LOOSE, _OFF_ITS_STOP, _MOISTURE),
        words("edge far"),
        "the difference in clearance",
        0.1,
    ),
    Symptom(
        "last-tails-tight",
        "last tails tight",
        "The first tails fit and the last ones bind, across the board",
        (words("last tight"), words("across tight")),
        (_STEPS, _SPACER, _OPPOSITE, _MOISTURE),
        _ACROSS,
        "the change of clearance from the first tail to the last",
        0.1,
    ),
    Symptom(
        "last-tails-loose",
        "last tails loose",
        "The first tails fit and the last ones are loose, across the board",
        (words("last loose"), words("across loose")),
        (_STEPS, _SPACER, _MOISTURE, _OPPOSITE),
        _ACROSS,
        "the change of clearance from the first tail to the last",
        0.1,
    ),
    Symptom(
        "first-tails-tight",
        "first tails tight",
        "The first tails bind and the last ones fit",
        (words("first tight"),),
        (_STEPS, _SPACER, _OPPOSITE, _MOISTURE),
        words("across edge end"),
        "the change of clearance from the first tail to the last",
        0.1,
    ),
)
