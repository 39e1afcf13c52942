"""What a cut itself looks like: torn, burnt, stepped, widened, split, or thin. Common practice, no
source.
"""

from __future__ import annotations

from ...faults import Cause, Symptom, words

_DULL = Cause(
    "bit-dull",
    3,
    "The bit is dull or loaded with resin.",
    "Unplugged, look at its edges with a lens and clean it; then cut a fresh piece of the same "
    "wood: is it clean?",
    "Clean or sharpen it. After a sharpening say so ({bit_sharpen}): each {dd} of diameter lost "
    "asks for {dd_sharp} less of "
    "height.",
    ("dd_mm", "dd_sharp_mm"),
)
_NO_WASTING = Cause(
    "not-wasted-first",
    2,
    "The whole slot was cut with the dovetail bit, which clears chips badly.",
    "Cut one slot after a pass with a straight bit: is it clean?",
    "Waste the middle with a straight bit narrower than the mouth of {mouth} and lower than {h}, "
    "then one dovetail pass at "
    "full height.",
    ("mouth_mm", "h"),
)
_LIFTED_OFF = Cause(
    "came-off-the-fence",
    3,
    "The board came off the fence at one end of the pass: its own weight, a short fence, or a "
    "snatch.",
    "Measure the mouth at both ends of the slot: about {d} wider where it came off.",
    "Feed right to left with a push block held in until the bit is past "
    "the board; never let the "
    "bit cut only the wall at the fence; a longer facing on the fence.",
    ("d",),
)
_HEIGHT_BETWEEN = Cause(
    "two-heights",
    3,
    "Two passes ran at two heights: the second was lifted, or the lift moved between them.",
    "Measure the slot's depth along it: the mark is as high as the heights differ, about {d}.",
    "Lock the lift; make one pass at full height, never lift the work off the bit, and keep the "
    "board down.",
    ("d",),
    (("backlash", 1.5), ("fit-drifts", 2.0)),
)
_THIN = Cause(
    "height-too-great",
    4,
    "The bit is too high for this pin board: set to {dial}, a board of {pin} keeps a lap of {lap}.",
    "Measure the pin board's own thickness today, and the lap in front of a socket.",
    "Keep at least {least_lap} of lap: a bit height of {highest} at most in such a board.",
    ("lap_mm", "highest_mm", "lower_mm", "pitch_more_mm"),
    (("thin-lap", 3.0), ("lap-fine", 0.1)),
    "Lowering the bit by {lower} keeps the fit only with a pitch wider by {pitch_more}: that is a "
    "new set-up.",
)
_SOCKETS_DEEP = Cause(
    "bit-crept-up",
    1.5,
    "The bit stands higher than it was set: it crept up in its collet, or the dial was misread.",
    "Measure a socket's depth: it wants {h}.",
    "Unplugged, clean collet and shank, shank fully in, then backed out {back}; tighten, "
    "set {h} at the tip itself, lock the lift, cut a test piece.",
    ("h",),
    (("tighter-log", 2.0), ("backlash", 1.2)),
)

SYMPTOMS = (
    Symptom(
        "ragged",
        "ragged",
        "The cut is ragged or torn out",
        (words("ragged"),),
        (
            _DULL,
            Cause(
                "no-backing",
                3,
                "Nothing backed the board where the bit leaves it.",
                "Is it torn only on the side where the bit comes out?",
                "Back the board with scrap, renewed at each height, or score the line before the "
                "pass.",
            ),
            _NO_WASTING,
        ),
        words("edge slot"),
    ),
    Symptom(
        "burnt",
        "burnt",
        "The cut is burnt",
        (words("burnt"),),
        (
            Cause(
                "fed-too-slowly",
                3,
                "It was fed too slowly, or stopped on the way.",
                "Make one pass in scrap without a stop: are the marks gone?",
                "Keep it moving; not above the bit's own mark, and without one at most {rpm} turns "
                "a minute.",
                ("rpm_n",),
            ),
            _DULL,
            _NO_WASTING,
        ),
        words("slot marks edge"),
    ),
    Symptom(
        "slot-wider",
        "slot wider at one end",
        "A slot is wider at one end than at the other",
        (words("wider end"), words("wider edge"), words("taper")),
        (
            _LIFTED_OFF,
            Cause(
                "board-edge-not-straight",
                2,
                "The board's edge at the fence is not straight.",
                "Lay a straight edge on it: hollow or round by about {d}?",
                "Joint that edge straight and cut another piece.",
                ("d",),
            ),
            Cause(
                "second-pass-shifted",
                2,
                "A second pass ran on another line: the fence moved, or the turn shaved one end.",
                "Measure the slot at both ends and the two walls beside it. Don't pass again to "
                "see: a shaving off the wall at the fence is a climb cut.",
                "Lock the fence at both ends, and make the second pass with the same push as the "
                "first.",
                (),
                (("centre-drift", 2.0), ("centre-off", 1.3)),
            ),
        ),
        words("end edge only"),
        "the difference of the widths",
        0.2,
    ),
    Symptom(
        "pins-split",
        "pins split",
        "The half-pins at the edges split",
        (words("pin split"), words("pin broke"), words("edge split")),
        (
            Cause(
                "joint-too-tight",
                3,
                "The joint is too tight to be driven home.",
                "Does it want a mallet? Good goes together by hand, with {window_low} to "
                "{window_high} of play.",
                "Log it as tight, and cut what is then advised. Ease the tails' "
                "end corners with a file; never drive a joint that binds.",
                (),
                (("tight-now", 4.0), ("fit-good", 0.2), ("loose-now", 0.1)),
            ),
            Cause(
                "half-pins-too-thin",
                2,
                "The half-pins are too thin: what is left beside the outer socket.",
                "Measure the thinnest of them at the face: under {wall} it splits in most woods.",
                "Choose another board width, or start from the middle, so that at least {wall} "
                "stays beside the outer cuts.",
                ("wall_mm",),
                (("slender-pins", 1.5),),
            ),
            Cause(
                "dry-or-short-grain",
                1,
                "Dry wood or short grain: it runs out at the edge.",
                "Look at the grain of the split: does it run out of the edge?",
                "Turn the board or take another; clamp a block against the edge while the joint "
                "is put together.",
                (),
                (("dry-wood", 2.0),),
            ),
        ),
        words("edge end dry outside"),
    ),
    Symptom(
        "flank-marks",
        "step in flank",
        "A step or the bit's marks in the flanks",
        (words("step flank"), words("marks"), words("step slot")),
        (
            _HEIGHT_BETWEEN,
            Cause(
                "stopped-in-the-cut",
                2,
                "The work stopped or rocked in the middle of the pass.",
                "Does the mark lie at the same place in every slot, where the hands changed over?",
                "Lay out the hands and the push block so that the pass needs no stop.",
            ),
            Cause(
                "bit-nicked",
                1,
                "An edge of the bit is nicked: a fine ridge all along every slot.",
                "Unplugged, look at its edges with a lens: the ridge lies at the nick's height.",
                "Have it sharpened and say so ({bit_sharpen}); then a new test piece.",
            ),
        ),
        words("flank middle"),
        "the height of the step",
        0.1,
    ),
    Symptom(
        "lap-thin",
        "lap thin",
        "The lap in front of the sockets is too thin, or shows through",
        (words("lap"),),
        (
            _THIN,
            _SOCKETS_DEEP,
            Cause(
                "pin-board-thinner",
                2,
                "The pin board is thinner there than the set-up says ({pin}).",
                "Measure it beside the sockets.",
                "Start with today's own thickness of the pin board; a thicker board keeps "
                "pitch and height.",
            ),
            Cause(
                "pressed-or-planed",
                1,
                "The face was planed or sanded after the cut, or the table sags under the board.",
                "Measure the lap of a fresh socket, before any planing.",
                "Count what will be planed off to the least lap of {least_lap}.",
                ("least_lap_mm",),
            ),
        ),
        words("outside thin socket only"),
    ),
)
