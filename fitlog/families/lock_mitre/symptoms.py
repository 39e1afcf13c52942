"""What goes wrong with a lock mitre that no setting cures: each with its causes, their tests and
cures.

Common practice, no source, but for the lean of the fence and the thickness, which geometry bears
out.
"""

from __future__ import annotations

from ..faults import Cause, Symptom, words

SYMPTOMS: tuple[Symptom, ...] = (
    Symptom(
        "varies-along",
        "step varies along",
        "The step varies along the joint",
        (words("step varies"), words("varies along"), words("not alike"), words("one end")),
        (
            Cause(
                "warped",
                2.0,
                "The board is warped: its end did not lie down, or stand to the fence, all along.",
                "Lay the end on a flat surface, press one corner: it rocks.",
                "Featherboards down and in, over the cut; flat boards for what is left.",
            ),
            Cause(
                "lifted",
                1.0,
                "It was not held down over the cut, or rode up on chips.",
                "Pass it once more without moving anything: wood comes off.",
                "Brush table and fence after every pass; press over the bit, not beside it.",
            ),
        ),
        also=words("joint step along"),
        size="the step",
        typical=0.2,
        group="The step",
    ),
    Symptom(
        "batch-steps",
        "all joints step alike",
        "All joints of a batch step alike after a good test piece",
        (words("all step"), words("batch"), words("all joints")),
        (
            Cause(
                "thickness",
                3.0,
                "The boards are not as thick as the test pieces: a board thicker by {d} takes {d} "
                "off both pairs.",
                "Caliper on a board and on a test piece, side by side: they differ by {d}.",
                "Plane them together; or move bit up and fence back by half, {half}, for boards "
                "that are thicker, the other way for thinner ones.",
                amounts=("d",),
            ),
            Cause(
                "slipped",
                1.0,
                "The lift or the fence slipped after the test piece.",
                "Measure the bit's top and its rim: {height} above the table, {fence} out of the "
                "fence.",
                "Lock both, cut one more test piece, then the boards.",
                amounts=("height", "fence"),
            ),
        ),
        also=words("joints alike step"),
        size="the step",
        typical=0.2,
        group="The step",
    ),
    Symptom(
        "not-square",
        "corner not square",
        "The corner is not square",
        (words("square"), words("angle"), words("corner leans")),
        (
            Cause(
                "fence-leans",
                2.0,
                "The fence leans: the corner is off by the same angle.",
                "A square from the table to the fence's face, where the upright stands.",
                "Square the fence, or its tall face, and cut the uprights anew.",
            ),
            Cause(
                "not-home",
                1.0,
                "The joint is not home along its whole length.",
                "Look along the inside: a gap that opens toward one end.",
                "Clean the tongue, push it home, then lay the square on again.",
            ),
        ),
        also=words("corner out"),
        group="The corner",
    ),
    Symptom(
        "open-inside",
        "gap inside",
        "Closed outside, open on the inside",
        (words("inside"), words("heel")),
        (
            Cause(
                "burrs",
                3.0,
                "Burrs or chips hold it off, or the tongue is not home.",
                "Look into the open end against the light, then try it once more, brushed.",
                "Take the burrs off with a stiff brush, never the profile itself; push home.",
            ),
            Cause(
                "worn",
                1.0,
                "The profile is worn, or was not ground alike on both its halves.",
                "Two fresh ends of one board show it too, {d} wide at the same place.",
                "Another bit; the fit is ground into this one.",
                amounts=("d",),
            ),
        ),
        also=words("gap open closed closes outside"),
        size="the gap",
        typical=0.2,
        group="The corner",
    ),
    Symptom(
        "end-bite",
        "bite at the outfeed",
        "A bite at the end of the cut, on the outfeed side",
        (words("bite"), words("snipe"), words("outfeed")),
        (
            Cause(
                "no-bearing",
                3.0,
                "A sharp edge has nothing left to bear on the outfeed side and falls in.",
                "The edge is sharp there: nothing of the old end is left.",
                "A straight sacrificial fence, zero gap about the bit; keep the ends blunt by "
                "about {blunt}: fence forward or bit down by half of that each.",
                amounts=("blunt",),
            ),
        ),
        also=words("end cut"),
        group="The corner",
    ),
    Symptom(
        "torn",
        "torn at the exit",
        "Torn out where the bit leaves the wood",
        (words("torn"), words("tearout"), words("chipped"), words("splintered")),
        (
            Cause(
                "no-backer",
                2.0,
                "There was no backer behind the end, or too much at once.",
                "It is torn at the trailing edge alone.",
                "A fresh backer behind every end, passes by the fence, the last one thin; cut ends "
                "before edges.",
            ),
        ),
        also=words("exit edge out"),
        group="The cut",
    ),
)
CAUSES = {cause.code: cause for symptom in SYMPTOMS for cause in symptom.causes}
PLACES = {"inside": "open-inside"}
NAMES = {
    **dict.fromkeys(("steps", "stepped"), "step"),
    **dict.fromkeys(("vary", "varying", "uneven", "differs"), "varies"),
    **dict.fromkeys(("heels",), "heel"),
    **dict.fromkeys(("bites", "bitten"), "bite"),
    **dict.fromkeys(("tear", "tears", "tearing"), "torn"),
    **dict.fromkeys(("opens", "opening"), "open"),
    **dict.fromkeys(("every", "each"), "all"),
}
