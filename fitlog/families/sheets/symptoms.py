"""What goes wrong with cuts for a sheet that no setting cures: symptoms, causes, a test and a cure
each.

Common practice, no source, but for how a sheet's thickness scatters (published undersizes; within
one sheet 0.6 mm by a plywood maker's table).
"""

from __future__ import annotations

from ..faults import Cause, Symptom, words

# Lengths that every table speaks of, mm.
FIGURES = {"within": 0.6, "batches": 0.4}

VARIES = Cause(
    "sheet-varies",
    4,
    "The sheet is not equally thick: within one it may differ by {within}, from batch to batch by "
    "{batches} and more.",
    "Turn the sheet end for end: the tight place goes with it. Measure it at both ends of the "
    "joint.",
    "Sort the sheets and cut for the thickest; sand its end, or give the shelf a tongue that goes "
    "into a housing of one pass.",
    ("within",),
)
CUPPED = Cause(
    "side-cupped",
    3,
    "The side was cupped, or the router lifted: the cut is shallower where the board stood off.",
    "Run a depth rod along the cut.",
    "Hold the side down and take both passes again in full at the same settings.",
)
CHIPS = Cause(
    "chips-below",
    1,
    "Chips lie at the bottom, or the corner at a stopped end is still round.",
    "Scrape it clean and try again.",
    "Clean it; square a round end with a chisel, or cut the sheet's corner back.",
)
LEANS = Cause(
    "cut-leans",
    3,
    "The cut leans: the router or the table is not square to the side.",
    "Hold a square into the cut, and to the bit beside it.",
    "Square it; then cut afresh.",
)
END_OUT = Cause(
    "end-out-of-square",
    2,
    "The sheet's end is sawn out of square.",
    "Turn the sheet over: the gap changes its side.",
    "Saw the end square again; the settings stay.",
)
NOT_SCORED = Cause(
    "not-scored",
    3,
    "Nothing cut the face's fibres before the bit lifted them.",
    "Only edges across the grain of the face splinter.",
    "Score both lines first, or press a strip of waste on the face.",
)
DULL = Cause(
    "dull",
    2,
    "The bit is dull, or pulls the chips up out of the face.",
    "It burns, or feels rough along the grain too.",
    "A sharp bit, best one that cuts downward; a new bit is another width, so cut one slot first.",
)
SLIPPED = Cause(
    "slipped",
    4,
    "The straightedge or the board slipped in the second pass.",
    "Measure the width at both ends: the near wall is straight, the far one runs off.",
    "Clamp both ends, the same edge to the fence in both passes.",
)
TWO_WAYS = Cause(
    "other-edge",
    2,
    "Another edge, or the other face, was at the fence for the second pass.",
    "Its place from the edge differs from side to side.",
    "Mark one reference edge on every side, and keep it to the fence.",
)

SYMPTOMS = (
    Symptom(
        "one-edge",
        "one edge",
        "It fits at one edge only",
        (words("one edge"), words("one end"), words("some")),
        (VARIES, SLIPPED),
    ),
    Symptom(
        "wont-bottom",
        "gap bottom",
        "The sheet won't go to the bottom, or wobbles",
        (words("bottom"), words("wobble")),
        (CUPPED, CHIPS),
    ),
    Symptom(
        "gap-lean",
        "gap lean",
        "A gap on one face",
        (words("lean"), words("one face"), words("gap face")),
        (LEANS, END_OUT),
    ),
    Symptom(
        "splintered",
        "splintered",
        "Splintered edges",
        (words("splinter"),),
        (NOT_SCORED, DULL),
    ),
    Symptom(
        "wider-end",
        "wider end",
        "The cut is wider at one end",
        (words("wide one end"), words("wide end"), words("wide")),
        (SLIPPED, TWO_WAYS),
    ),
)
_SAME = """
one single
edge edges
end ends
some others
face faces side
lean leans leaning tilts tilted
gap gaps open
bottom bottoms seat seats
wobble wobbles wobbly
splinter splintered splinters torn tearout chipped furry
wide wider widens taper tapers tapered
"""
NAMES = {name: row.split()[0] for row in _SAME.strip().splitlines() for name in row.split()}
PLACES = {"bottom": "wont-bottom", "lean": "gap-lean"}
CAUSES = {c.code: c for s in SYMPTOMS for c in s.causes}
