"""What goes wrong with parts cut from both faces that no setting cures: symptoms with their causes,
a test and a cure each.

Common practice, no source, but for what a lean takes (2 l tan(phi), geometry) and how a spread of
thickness shows (by +1 or -1 after the face that is cut).
"""

from __future__ import annotations

import math

from ..faults import Cause, Symptom, words

HALF_DEGREE = math.radians(0.5)

LIFTED = Cause(
    "board-lifted",
    3,
    "The board lifted at its tip, or dropped into the opening at the bit: snipe.",
    "Measure at the tip and at the shoulder, both edges: it is thicker where it was not down.",
    "Hold it down over the cut with a featherboard or a push block; a plate that closes the "
    "opening round the bit.",
)
LEANS = Cause(
    "fence-leans",
    2,
    "The fence or the bit leans: half a degree from both faces takes {half_degree} from the "
    "shoulder to the tip {long} away.",
    "A square from table to fence, and from table to the bit's flank; the taper is the same on "
    "every piece.",
    "Square it, then begin with a fresh end.",
    ("half_degree",),
)
END_OUT = Cause(
    "end-out-of-square",
    3,
    "The end is out of square, so that the stop meets it elsewhere from the other face.",
    "A square over the end, from the face and from the edge.",
    "Square the ends of all parts, then cut them again from a fresh end.",
)
STOP_MOVED = Cause(
    "stop-moved",
    2,
    "The stop moved between the two faces, or chips lay before it.",
    "Cut one face twice against it: the second pass takes nothing where the stop stands.",
    "One stop for both faces, locked; brush before every pass.",
)
SPREAD = Cause(
    "thickness-spread",
    4,
    "The parts differ in thickness: of two that were cut alike the thicker one is tighter by as "
    "much, since each face was cut from the other.",
    "Measure the parts beside their joints. Thick ones tight: the face on the table was cut; thick "
    "ones loose: the far one was.",
    "Plane all parts together, or sort them by thickness and set each lot by half of what it "
    "differs.",
)
NOT_FLAT = Cause(
    "not-flat",
    2,
    "Some parts are bowed or twisted and were not down, or not at the fence, all along.",
    "Lay a straightedge along them; measure at several places.",
    "Flatten them, or hold them down before and behind the bit.",
)
BOWED = Cause(
    "face-off-the-fence",
    3,
    "A bowed or thin board: its face was not at the fence all along.",
    "The walls differ more at the ends or in the middle of the board than elsewhere.",
    "Featherboards before and behind the bit; straight boards for what shows.",
)
OTHER_FACE = Cause(
    "same-face-twice",
    2,
    "The board was not turned between the two passes, or turned end for end over its edge.",
    "Both walls are as far from their faces as the fence says from one.",
    "Mark both faces; one face to the fence, then the other.",
)
CUPPED = Cause(
    "cupped",
    3,
    "A part is cupped, so that it lay on two lines.",
    "A straightedge across it, at the lap.",
    "Flatten it, or cut the lap with its hollow face up and held down.",
)
BIT_NOT_FLAT = Cause(
    "bit-not-flat",
    2,
    "The bit does not cut flat: its edges differ, or passes beside each other leave steps.",
    "Look along the recess against the light.",
    "Another bit with a flat bottom; a light last pass over all of it.",
)
NO_BACKER = Cause(
    "no-backer",
    3,
    "Nothing stood behind the work where the bit comes out.",
    "It is torn on the far edge alone.",
    "A square backer behind it at every pass, with fresh wood at the exit.",
)
DULL = Cause(
    "dull",
    1,
    "The bit is dull, or took too much at once.",
    "It burns or tears at the entry, too.",
    "Sharpen or change it; several passes.",
)

TAPERED = Symptom(
    "tapered",
    "gap tip",
    "Thicker at the shoulder than at the tip, or the other way",
    (words("tapered"), words("tip thick"), words("tip loose"), words("gap tip")),
    (LIFTED, LEANS),
    size="the taper",
    typical=0.1,
)
CROOKED = Symptom(
    "shoulders-crooked",
    "shoulders not in line",
    "The shoulders of the two faces are not in line",
    (words("shoulder line"), words("one shoulder"), words("gap line")),
    (END_OUT, STOP_MOVED),
    size="the step between them",
    typical=0.3,
)
SOME = Symptom(
    "some-fit",
    "fits some boards only",
    "It fits some boards and not others",
    (words("some"), words("others"), words("not all")),
    (SPREAD, NOT_FLAT),
    size="the spread of the thickness",
    typical=0.1,
)
TORN = Symptom(
    "torn-exit",
    "torn exit",
    "Torn out where the bit comes out",
    (words("torn"),),
    (NO_BACKER, DULL),
)
WALLS = Symptom(
    "walls-unequal",
    "groove walls unequal",
    "The groove's walls are unequal although the board was turned",
    (words("wall unequal"), words("wall thin"), words("groove off")),
    (BOWED, OTHER_FACE),
    size="the difference of the walls",
    typical=0.2,
)
TIP_PROUD = Symptom(
    "tip-proud",
    "flush at shoulder, proud at tip",
    "Flush at the shoulder, proud at the tip",
    (words("proud tip"), words("flush proud")),
    (CUPPED, BIT_NOT_FLAT),
    size="the step at the tip",
    typical=0.2,
)
PLACES = {"tip": "tapered", "line": "shoulders-crooked"}
_SAME = """
tapered taper tapers tapering wedge
tip tips end
thick thicker
loose looser slack
shoulder shoulders
line lines crooked
one
gap gaps
some few
others other
all
torn tear tears tearout chipped splintered blowout
wall walls
unequal uneven differ different
thin thinner
groove grooves
off
proud high
flush level
"""
NAMES = {name: row.split()[0] for row in _SAME.strip().splitlines() for name in row.split()}
CAUSES = {
    cause.code: cause
    for symptom in (TAPERED, CROOKED, SOME, TORN, WALLS, TIP_PROUD)
    for cause in symptom.causes
}
