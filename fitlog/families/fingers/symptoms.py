"""What goes wrong with box joints that no setting cures: symptoms, causes, a test and a cure each.

Common practice, no source, but for what a cutter out of square takes (T tan(phi), geometry) and how
a board moves with its moisture (Wood Handbook).
"""

from __future__ import annotations

import math

from ..faults import Cause, Symptom, words

# A length that every table speaks of, mm.
FIGURES = {"scatter": 0.05}
HALF_DEGREE = math.radians(0.5)

PUSHES = Cause(
    "pushes-differ",
    4,
    "The boards were pressed now one way, now the other: each push that differs moves the fingers "
    "on by what the key is narrower than its slot, {key_play}.",
    "The creep grows evenly from finger to finger. Measure from the first finger to the last on "
    "both boards, from the same sides: the difference is the creep.",
    "Press the same way at every step; a key that fills its slot leaves nothing to differ.",
    ("key_play",),
)
CHIPS = Cause(
    "chips-or-sled",
    2,
    "Chips between board and key, or a sled that moves in its slot: the steps scatter.",
    "The difference is not even from finger to finger. Push the sled sideways in its slot.",
    "Brush after every cut; take up the runner's play.",
)
STEPS = Cause(
    "steps-scatter",
    4,
    "The steps of the fence are not alike: read off a scale they scatter by about {scatter} each.",
    "Measure from the first slot to each other one on both boards: the differences scatter.",
    "Step with a spacer or a block, and always come to it from the same side.",
)
MOVED = Cause(
    "wood-moved",
    1,
    "A wide board has moved since it was cut: flat-sawn maple by a three-hundredth of its width "
    "for one per cent of moisture.",
    "Only wide boards do it, and the error grows evenly from one edge.",
    "Cut both boards the same day from wood that has lain together; put them together at once.",
)
OUT_OF_SQUARE = Cause(
    "out-of-square",
    3,
    "Cutter and fence are not square to each other: through a board {thick} thick, half a degree "
    "takes {half_degree} of the play.",
    "The fit is tight at the fingers' tips or on one face only. Hold a square to the cutter and to "
    "the fence's face.",
    "Square the fence, or the cutter, and leave the settings alone.",
    ("half_degree",),
)
FURRY = Cause(
    "furry-edges",
    1,
    "The arris of the fingers is furry and binds until it is rubbed off.",
    "It goes easier the second time.",
    "Break the arris with a file, not the cheeks; judge the first assembly of a fresh pair.",
)
NOT_DOWN = Cause(
    "not-down",
    3,
    "The board did not stand down at every cut: chips under it, or it rode up on the key.",
    "Depths of the slots differ: measure the shallowest and the deepest.",
    "Brush the base, press down, let the key be lower than the slot.",
)
CUPPED = Cause(
    "cupped",
    2,
    "A cupped board stands off the fence in its middle, and its slots come out uneven.",
    "Lay a straightedge across the board.",
    "Take a flat board, or clamp it to the fence.",
)
GRIND = Cause(
    "tooth-grind",
    3,
    "The teeth are not ground flat, or the parts of a stack differ: the slot's bottom has ridges.",
    "Look along the bottom of one slot against the light.",
    "Another cutter with flat teeth; meanwhile pare the corners.",
)
CHIPS_IN_CORNER = Cause(
    "chips-in-corner",
    1,
    "Chips sit in the corners of the slots.",
    "Scrape one slot clean and try again.",
    "Clean every slot before the joint is tried.",
)
STARTER_OUT = Cause(
    "starter-outside",
    3,
    "The starter is narrower than the key gap (a sliver is left) or wider than the slot (a step is "
    "forced): it has to lie between {gap} and {slot}.",
    "Measure it; the sliver or the step is what it is out.",
    "A starter of about {between}.",
    ("between",),
)
RUNOUT = Cause(
    "runout",
    3,
    "The cutter runs out: a bent shank, dirt in the collet, a spacer caught in the thread.",
    "Compare a slot in waste with the cutter: {d} more than its printed {cutter}.",
    "Reseat it clean; the slots are then another width, so cut a new pair.",
    ("d",),
)
WANDERS = Cause(
    "board-wanders",
    2,
    "The board is pushed through twice, or moves while it is cut.",
    "The slot is wider at one end than at the other.",
    "Clamp it, or hold it against the backing; draw back only when the cutter stands.",
)
OLD_BACKING = Cause(
    "old-backing",
    3,
    "The backing is worn: wood at the exit has nothing behind it.",
    "Look at the hole in the backing: it is wider than the slot.",
    "Fresh backing at each set-up; a light first pass.",
)
DULL = Cause(
    "dull",
    1,
    "The cutter is dull.",
    "It burns or tears in the entry, too.",
    "Sharpen or change it; a new cutter means a new pair.",
)
FIRST_EDGE = Symptom(
    "first-edge",
    "step at first edge",
    "A sliver or a step at the first edge only",
    (words("first edge"), words("sliver"), words("step edge")),
    (STARTER_OUT,),
)


def symptoms(*creeping: Cause) -> tuple[Symptom, ...]:
    """Return the symptoms of every box joint. creeping: what makes its last fingers bind."""
    return (
        Symptom(
            "last-bind",
            "last fingers bind",
            "The first fingers fit, the last ones bind",
            (words("last"), words("creep")),
            (*creeping, MOVED),
            size="the creep at the last finger",
            typical=0.2,
        ),
        Symptom(
            "tight-across",
            "tight across",
            "Tight at the fingers' tips, or across the thickness",
            (words("tight tip"), words("tight across"), words("square")),
            (OUT_OF_SQUARE, FURRY),
        ),
        Symptom(
            "ends-uneven",
            "ends uneven",
            "The ends of the fingers stand unevenly along the joint",
            (words("end uneven"), words("uneven")),
            (NOT_DOWN, CUPPED),
        ),
        Symptom(
            "corner-open",
            "gap corner",
            "The bottoms of the slots stay open",
            (words("ridge"), words("gap corner"), words("bottom open"), words("gap bottom")),
            (GRIND, CHIPS_IN_CORNER),
        ),
        Symptom(
            "slots-wide",
            "slots wide",
            "The slots are wider than the cutter",
            (words("slot wide"), words("runout")),
            (RUNOUT, WANDERS),
            size="how much wider they are",
            typical=0.1,
        ),
        Symptom(
            "torn-exit",
            "torn exit",
            "Torn out where the cutter comes out",
            (words("torn"),),
            (OLD_BACKING, DULL),
        ),
    )


_SAME = """
creep creeps creeping crept
last
bind binds binding stuck
finger fingers
tip tips
end ends
uneven unequal irregular ragged
ridge ridges ridged
corner corners
bottom bottoms
open opens stays
gap gaps
slot slots
wide wider oversize widened
torn tear tears tearout chipped splintered blowout
edge edges
sliver slivers
step steps stepped
square squared
runout
tight binds
"""
NAMES = {name: row.split()[0] for row in _SAME.strip().splitlines() for name in row.split()}
PLACES = {"creep": "last-bind", "corner": "corner-open"}
CAUSES = {c.code: c for s in (*symptoms(PUSHES, CHIPS, STEPS), FIRST_EDGE) for c in s.causes}
