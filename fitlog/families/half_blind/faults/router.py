"""What is wrong with the bit and what holds it. Geometry from `figures`; order: common practice, no
source.
"""

from __future__ import annotations

from ...faults import Cause, Symptom, words

_COLLET_DIRTY = Cause(
    "collet-dirty",
    3,
    "Dust, resin or oil between shank and collet: it holds less than it feels.",
    "Unplugged, take bit and collet out: shiny rings or dust on the shank show it.",
    "Unplugged, clean and dry both, the collet's bore too. Shank fully in, then "
    "backed out {back}; tighten.",
)
_COLLET_WORN = Cause(
    "collet-worn",
    2,
    "The collet is worn or is not made for this shank.",
    "Unplugged, measure the shank and read the collet: the sizes must be the same, not nearly so.",
    "Unplugged, put in another collet of the shank's own size; never a sleeve of tape or paper.",
)

SYMPTOMS = (
    Symptom(
        "slot-oversize",
        "slot wider than the bit",
        "A slot is wider than the bit",
        (
            *(words("wider bit"), words("slot oversize"), words("oversize"), words("runout")),
            *(words("bit bent"), words("shank bent"), words("bit rocks")),
        ),
        (
            Cause(
                "passed-twice",
                3,
                "It was passed twice: a second pass, or a way back along another line, widens it.",
                "Cut one slot in scrap, one pass right through and past the bit, and measure its "
                "mouth: {mouth} at {h}.",
                "One pass, right through and on past the bit. Where a board must come back: "
                "straight, both hands on it, no side pressure, never one hand off to reach a "
                "switch.",
                ("mouth_mm", "h"),
            ),
            Cause(
                "bit-larger-than-stored",
                2,
                "The bit is wider than fitlog has it.",
                "Unplugged, measure across the tip's edges: {diameter} is stored.",
                "Store what you measured ({bit_edit}), or log the mouth of a slot in waste: it is "
                "then reckoned with.",
                ("diameter_mm",),
                (("as-sold", 1.5), ("mouth-wide", 2.0)),
            ),
            Cause(
                "lower-than-set",
                2,
                "The bit stands lower than it was set: lower down it opens wider.",
                "Measure the slot's depth: it wants {h}. Wider by {d} is {lift} of height.",
                "Unplugged, measure the height at the tip and set {h} again from below; lock the "
                "lift, cut a test piece.",
                ("lift_mm", "h"),
                (("backlash", 1.3), ("down", 1.5)),
            ),
            Cause(
                "runout",
                2,
                "The bit runs out of true: a dirty collet, or a bent shank.",
                "Unplugged, a dial indicator on the plain shank just above the collet, turned by "
                "hand: the slot is wider by all that it shows, at most. Turn the bit in its collet "
                "and try again: if the high side goes with the bit, the shank is bent.",
                "Unplugged. A dirty collet: clean it, shank fully in, then backed out {back}. A "
                "bent bit: don't run it again, throw it away.",
            ),
            Cause(
                "came-off-the-fence",
                1,
                "The board came off the fence during the pass.",
                "Measure the mouth at both ends: wider at one end is the board, alike is the bit.",
                "Feed right to left with a push block held in until the bit is past the board.",
            ),
        ),
        words("end slot shank runout rocks bent"),
        "what the slot is too wide by",
        0.1,
    ),
    Symptom(
        "bit-slipped",
        "bit slipped in the collet",
        "The bit slipped in its collet",
        (words("bit slipped"), words("slipped collet"), words("shank slipped")),
        (
            _COLLET_DIRTY,
            Cause(
                "shank-at-the-bottom",
                2.5,
                "The shank stood on the collet's bottom: tightened like that it isn't held.",
                "Unplugged, push the shank right in: does it stop where it stood before?",
                "Unplugged, shank fully in, then backed out {back}; then tighten.",
            ),
            _COLLET_WORN,
            Cause(
                "pulled-out",
                1.5,
                "It was pulled out: all the wood at once, or fed too fast.",
                "Was the slot wasted with a straight bit first? Listen: it drops in speed.",
                "Waste the middle first with a straight bit narrower than {mouth}; feed steadily.",
                ("mouth_mm",),
            ),
        ),
        words("collet run height higher lower"),
        first="Switch off, wait until the bit stands, unplug. A bit that slips can come right out. "
        "Mark the shank at the collet once it is tight. Nothing cut since the height was last "
        "measured counts: set {h} at the tip again and cut a new test piece.",
    ),
    Symptom(
        "bit-broken",
        "bit broke",
        "The bit broke or chipped",
        (words("bit broke"), words("bit split"), words("shank broke"), words("bit ragged")),
        (
            Cause(
                "too-much-at-once",
                3,
                "It took all the wood at once, and the thin neck bore it.",
                "Was the slot wasted with a straight bit first?",
                "Waste the middle with a straight bit narrower than the mouth of {mouth} and lower "
                "than {h}, then one dovetail pass.",
                ("mouth_mm", "h"),
            ),
            Cause(
                "snatched",
                2,
                "The work snatched or was lifted: a climb cut, a loose piece, a board drawn back.",
                "Where in the pass was it: going in, at the end, or on the way back?",
                "Feed right to left; never shave the wall at the fence, never lift the work off "
                "the bit, never trap a piece between bit and fence.",
            ),
            Cause(
                "shank-not-in-far-enough",
                1.5,
                "The shank was not in far enough to be held.",
                "Unplugged, look at the rings on the shank: how far in was it?",
                "Unplugged, shank fully in, then backed out {back}; a height that wants "
                "more is not for it.",
            ),
            Cause(
                "bit-worn-out",
                1,
                "It was dull, had been dropped, or ran above its speed.",
                "Look at the break: a dark old line in it was there before. At most {rpm} turns a "
                "minute without a mark of its own.",
                "A new bit, kept from knocks. It is another bit to the log ({bit_add}): cut a new "
                "test piece.",
                ("rpm_n",),
            ),
        ),
        words("shank collet edge"),
        first="Switch off, wait until all stands, unplug. Find the pieces before the router runs "
        "again, in the board and the fence too. Never run what is left of the bit; look at the "
        "collet before the next one goes in.",
    ),
)
