"""A fit that changes from joint to joint through a run. Which cause is likelier is common practice,
no source.
"""

from __future__ import annotations

from ...faults import Cause, Symptom, words

_CREEP_UP = Cause(
    "bit-crept-up",
    3,
    "The bit creeps out of its collet, or the lift climbs: a higher bit tightens.",
    "Unplugged, measure the bit's height at its tip: {h} was set. Tighter by {d} is {lift} of "
    "height.",
    "Unplugged, clean collet and shank, shank fully in, then backed out {back}; tighten, and "
    "mark the shank at the collet. Set {dial} again, lock the lift, cut a test piece.",
    ("d", "lift_mm"),
    (("tighter-log", 4.0), ("looser-log", 0.3)),
)
_SETTLED_DOWN = Cause(
    "lift-sank",
    3,
    "The lift sinks in its play or the bit slides into its collet: a lower bit loosens.",
    "Unplugged, measure the bit's height at its tip: {h} was set. Looser by {d} is {lift} of "
    "height.",
    "Unplugged, collet clean and tight. Go well below {dial} and come up to it, lock the lift, cut "
    "a test piece.",
    ("d", "lift_mm"),
    (("looser-log", 4.0), ("tighter-log", 0.3), ("backlash", 2.0), ("down", 2.0)),
)
_WORN = Cause(
    "bit-worn",
    1,
    "The bit grew dull or loaded with resin: it cuts narrower, and fuzz fills the joint.",
    "Unplugged, look at its edges with a lens and clean it; cut a fresh piece at the same setting. "
    "A bit that cuts {half} narrower tightens by {d}, since both boards lose it.",
    "Clean or sharpen it; after a sharpening say so ({bit_sharpen}) and cut a new test piece.",
    ("half_mm", "d"),
)
_STOP = Cause(
    "fence-or-stop-crept",
    1.5,
    "The fence or a stop crept in its lock, so that the steps of later boards differ.",
    "Unplugged, measure from the fence to the bit again; or measure the two walls beside a cut.",
    "Lock the fence at both ends, clear the stop of chips, and check the distance after every few "
    "boards.",
    (),
    (("centre-drift", 4.0),),
)
_WARM = Cause(
    "wood-changed",
    1,
    "The later boards are thicker, wetter or of another wood, or lay in the sun since the first "
    "ones.",
    "Cut one more joint from the first boards' wood at the same setting: does it fit like the "
    "first ones? "
    "{d} across {board} is {moist} of moisture (Wood Handbook, C {coefficient}).",
    "Keep all boards of a run together for some days; cut a run in one go.",
    ("d", "moist_percent"),
    (("moisture-differs", 2.0), ("two-woods", 2.0), ("other-wood", 1.5)),
)
_LATER = words("first last run start")

SYMPTOMS = (
    Symptom(
        "later-joints-tight",
        "later joints tight",
        "The first joints of a run were good, later ones are tight",
        (words("later tight"), words("run tight")),
        (_CREEP_UP, _WORN, _WARM, _STOP),
        _LATER,
        "the change of clearance",
        0.05,
    ),
    Symptom(
        "later-joints-loose",
        "later joints loose",
        "The first joints of a run were good, later ones are loose",
        (words("later loose"), words("run loose")),
        (_SETTLED_DOWN, _WARM, _STOP),
        _LATER,
        "the change of clearance",
        0.05,
    ),
)
