"""What the wood does to a joint whose cuts were right. Which cause is likelier is common
practice, no source.
"""

from __future__ import annotations

from ...faults import Cause, Symptom, words

_MOISTURE_TEST = (
    "Measure both boards' widths against those from the day they were cut: {d} across {board} is "
    "{moist} of moisture (Wood Handbook, C {coefficient})."
)

SYMPTOMS = (
    Symptom(
        "tails-broken",
        "tails broke",
        "A tail broke or split",
        (words("tail broke"), words("tail split")),
        (
            Cause(
                "short-grain",
                3,
                "Short grain: the grain runs out of the tail, or a knot is in it.",
                "Look at the break: does it follow the grain to the tail's side?",
                "Take a board with straight grain, or put the tails elsewhere in it. A clean piece "
                "can be glued back.",
                (),
                (("steep", 1.5), ("dry-wood", 1.5)),
            ),
            Cause(
                "no-backing",
                2,
                "Nothing backed the board, and the bit tore the tail out as it left.",
                "Is it broken on the side where the bit comes out?",
                "A backing board behind the last edge, renewed at each height.",
            ),
            Cause(
                "tails-slender",
                1,
                "The tails are slender: {root} at the root for a length of {h}.",
                "Measure one at its root.",
                "Fewer and wider tails ({plan} shows layouts): that is a new set-up.",
                ("root_mm", "h"),
                (("slender-tails", 4.0),),
            ),
            Cause(
                "forced",
                2,
                "It was forced: driven in askew, or levered apart.",
                "Did it break going in or coming apart?",
                "Start all tails together, by hand. Part a tight joint with a block along its "
                "whole width, tapped at both ends in turn.",
                (),
                (("tight-now", 3.0), ("fit-good", 0.5), ("loose-now", 0.2)),
            ),
        ),
        words("end edge first last dry only"),
    ),
    Symptom(
        "board-cupped",
        "board cupped",
        "A board is cupped or bowed",
        (words("cup"), words("warped board cup")),
        (
            Cause(
                "one-face-dried",
                3,
                "One face dried or swelled more than the other.",
                "Lay a straight edge across: hollow by {d}? Turn the hollow side down overnight: "
                "does it come back?",
                "Stand it on edge with air at both faces for some days. Flatten it before it is "
                "cut, never between the tails and the sockets.",
                ("d",),
                (("wide-board", 2.0), ("wet-wood", 2.0)),
            ),
            Cause(
                "stress-freed",
                2,
                "Planing or the rabbet freed a stress in it.",
                "Was it flat before it was planed or rabbeted?",
                "Plane both faces alike, let it lie, plane again to {tail}.",
            ),
            Cause(
                "stored-badly",
                1,
                "It lay on one face, in the sun, or leaned at a wall.",
                "Are the other boards of that stack hollow to the same side?",
                "Stack them with strips between, weighted.",
            ),
        ),
        words("board pin tail socket middle only outside inside edge gap warped"),
        "the hollow",
        0.3,
        "A hollow board is cut wrong where it stands off: press it flat over the bit by a block, "
        "never by a hand above the cutter; one that can't be pressed flat isn't cut.",
    ),
    Symptom(
        "moisture",
        "moisture",
        "The boards swelled or shrank since they were cut",
        (words("moisture"), words("season"), words("board dry")),
        (
            Cause(
                "not-settled",
                3,
                "The boards were not used to the room yet.",
                _MOISTURE_TEST,
                "Let all boards lie together in the room for some days, strips between; then rip, "
                "cut and join them soon.",
                ("d", "moist_percent"),
                (("moisture-differs", 2.0), ("equally-dry", 0.5), ("wet-wood", 2.0)),
            ),
            Cause(
                "two-boards-differ",
                2,
                "The two boards are not equally dry, or not of one wood: they move differently.",
                "A moisture meter on both, beside the joint.",
                "Boards for one joint from one stack. Store what you measured ({store_moisture}).",
                ("moist_percent",),
                (("moisture-differs", 4.0), ("two-woods", 3.0), ("equally-dry", 0.3)),
            ),
            Cause(
                "room-changed",
                1.5,
                "The room changed: a heated winter, a damp summer.",
                "Is it tight in the damp months and loose in the dry ones?",
                "A joint from one stack moves as one: leave it. A finish on both faces alike slows "
                "it.",
                (),
                (("wide-board", 1.5),),
            ),
        ),
        words("board tight loose later gap run edge uneven dry season tail middle across"),
        "the difference of the widths",
        0.3,
    ),
)
