"""Gaps: where the joint stays open although the settings were right. No source but the geometry:
common practice.
"""

from __future__ import annotations

from ...faults import Cause, Symptom, words

_LIFTED = Cause(
    "pin-board-lifted",
    3,
    "The pin board lifted while its sockets were cut, so that they came out shallower than the bit "
    "is high.",
    "Measure the sockets' depth near both edges and in the middle: lifted, some are about {d} "
    "shallower than the bit's "
    "height of {h}.",
    "Leave the bit alone. Clean the table and the board's face, press it down all along in its "
    "carrier, and cut another "
    "piece: the gap is the lift, {d}.",
    ("d",),
)
_SHORT_RABBET = Cause(
    "rabbet-too-short",
    2,
    "The rabbet is shorter than the tails are long, and holds the joint off.",
    "Measure the rabbet along the board: it wants {h}, up to {margin} more; here it would be about "
    "{d} short.",
    "Leave the bit alone. Cut the rabbet {h} long, up to {margin} more. Too short by {d} it also "
    "tightens the joint by "
    "{tightens}: what was said of this piece's fit does not count.",
    ("d", "h", "tightens"),
    (("raised", 3.0), ("lowered", 0.5)),
)
_DUST = Cause(
    "chips-in-the-joint",
    1,
    "Chips in the corners of the sockets or fuzz on the tails' ends hold it off.",
    "Brush out both boards, shave the fuzz off, and push it home again: does the gap change?",
    "Clean both boards before they are judged; a dull bit leaves more fuzz.",
)
_UNEQUAL = Cause(
    "unequal-heights",
    1,
    "The two boards were not cut at one height: the bit or its lock moved between them.",
    "Measure a socket's depth and a tail's length: they differ by about the gap.",
    "Lock the lift, cut both boards without touching it, and cut another piece. A piece with "
    "unequal heights is logged at "
    "the larger one, which decides the fit.",
    ("d",),
    (("backlash", 1.5), ("fit-drifts", 2.0)),
)
_LEANED_OUT = Cause(
    "board-leaned-at-the-fence",
    2,
    "The tail board leaned away from the fence or towards it, so that its slots are deeper at one "
    "face.",
    "Set a square on the table against the fence, then measure a slot's depth at both faces: over "
    "{h} of height a gap of "
    "{d} is a lean of {lean}.",
    "Leave the bit alone. Square the fence's face to the table, add a tall facing or a carrier, "
    "keep the board flat "
    "against it, and take out {lean}.",
    ("lean_deg",),
)
_LONG_RABBET = Cause(
    "rabbet-too-long",
    3,
    "The rabbet is longer than the tails, and its step shows in the inside corner.",
    "Measure the rabbet: it wants {h} and at most {margin} more; a gap of {d} there is a rabbet "
    "about {d} too long.",
    "Leave the bit alone. Cut the rabbet {h} long, up to {margin} more; it follows every move of "
    "the height.",
    ("d", "h"),
    (("lowered", 3.0), ("raised", 0.5)),
)
_LEAN = Cause(
    "board-leaned-in-its-plane",
    3,
    "The tail board stood out of square in its own plane, so that its slots lean.",
    "Try a square in a slot against the board's end; or swap the tail board end for end with "
    "another: the open flank "
    "changes sides with a board that leaned. Over {h} a gap of {d} is a lean of {lean}.",
    "Leave the bit alone. Square the board's end, stand it upright in its carrier ({lean} out), "
    "and cut another piece.",
    ("lean_deg",),
)
_END_OFF = Cause(
    "end-not-square",
    2,
    "The board's end is not square to its edge: it stood on the table at that angle.",
    "Try a square on the end from both edges; {lean} is {across} across the {board} board.",
    "Leave the bit alone. Take the {across} off the end where it is high, so that it is square, "
    "and cut another piece.",
    ("lean_deg", "across_mm"),
)
_PUSHED = Cause(
    "pushed-to-one-side",
    1,
    "The joint has play and was judged pushed to one side: one flank then shows all of it.",
    "Push it to the other side: does the gap change flanks?",
    "Judge it pushed to the middle; only the play beyond good is the bit's height.",
    (),
    (("loose-now", 3.0), ("tight-now", 0.3)),
)
_CUPPED = Cause(
    "board-cupped",
    1.5,
    "A board is cupped or twisted: it was flat under the hand at the table and springs back.",
    "Lay a straight edge across both boards; press the joint flat by hand: does the gap close?",
    "Flatten the board or take another one; a clamp across closes a small gap, never a twist.",
    (),
    (("wide-board", 2.0),),
)

SYMPTOMS = (
    Symptom(
        "gap-baseline",
        "gap baseline",
        "An even gap at the baseline, along the whole joint",
        (words("gap baseline"),),
        (_LIFTED, _SHORT_RABBET, _DUST, _UNEQUAL),
        words("across"),
        "the gap",
        0.1,
    ),
    Symptom(
        "gap-one-edge",
        "gap baseline one-edge",
        "A gap at the baseline at one edge only, closed at the other",
        (
            words("gap edge"),
            words("gap baseline edge"),
            words("gap end"),
            words("gap baseline end"),
        ),
        (
            Cause(
                "lifted-at-one-edge",
                3,
                "The pin board lifted at that edge only while it was cut.",
                "Measure the sockets' depth at both edges: about {d} between them.",
                "Leave the bit alone. Press the board down with a block at every socket, right to "
                "the edge; the gap is the "
                "lift, {d}.",
                ("d",),
            ),
            Cause(
                "tipped-in-its-plane",
                2,
                "The tail board stood tipped on its end: its slots grow deeper towards one edge.",
                "Measure the slots' depth at both edges: {d} over the {board} board is {tip}.",
                "Leave the bit alone. Square the board's end ({d} across it) and stand it on a "
                "clean table.",
                ("d", "tip_deg"),
            ),
            _CUPPED,
        ),
        words("only inside last"),
        "the gap",
        0.1,
    ),
    Symptom(
        "gap-inside",
        "gap inside",
        "A gap in the inside corner only",
        (words("gap inside"),),
        (_LONG_RABBET, _LEANED_OUT, _DUST),
        words("only"),
        "the gap",
        0.1,
    ),
    Symptom(
        "gap-outside",
        "gap outside",
        "A gap on the outside, the show face, while the inside corner is closed",
        (words("gap outside"),),
        (
            _LEANED_OUT,
            Cause(
                "pin-end-off-square",
                2,
                "The end of the pin board is not square to its face.",
                "Try a square on the pin board's end across its thickness of {pin}: {d} there is "
                "{pin_lean}.",
                "Leave the bit alone. Square the pin board's end to its face, {pin_lean} off, and "
                "cut another piece.",
                ("d", "pin_lean_deg"),
            ),
            Cause(
                "seats-too-deep",
                2,
                "The tails go in too far: the seat is shy, and the edge of the end shows as a gap.",
                "Lay a straight edge over the end: is the tail board below it?",
                "Log the step that you measure there: shy, with the step. The sockets "
                "then follow it, one to one.",
                (),
                (("shy-now", 3.0), ("proud-now", 0.3)),
            ),
            _CUPPED,
        ),
        words("only"),
        "the gap",
        0.1,
    ),
    Symptom(
        "gap-flank",
        "gap flank",
        "One flank of the tails tight and the other open",
        (words("gap flank"),),
        (_LEAN, _END_OFF, _PUSHED),
        words("tight only end edge loose"),
        "the gap",
        0.1,
    ),
)
