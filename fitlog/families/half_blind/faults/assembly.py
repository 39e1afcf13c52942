"""What goes wrong where the joint is put together: glue, tails too long, a step outside. Which
cause is likelier is common practice, no source.
"""

from __future__ import annotations

from ...faults import Cause, Symptom, words

SYMPTOMS = (
    Symptom(
        "tight-with-glue",
        "tight with glue",
        "It fits dry, but not with glue",
        (words("tight glue"), words("glue notclosing"), words("moisture glue")),
        (
            Cause(
                "wood-swelled",
                3,
                "The glue's water swelled the wood: a close fit has no room for it.",
                "Glue a test joint: does it bind more with every minute it stands?",
                "Now: take it apart or drive it home with clamps and blocks at once, before it "
                "grabs. Next time brush thinly, on the sockets' flanks only, with all at hand. Log "
                "what became of it before the fit is changed for glue.",
                (),
                (("tight-now", 3.0), ("fit-close", 2.0), ("loose-now", 0.3)),
            ),
            Cause(
                "glue-trapped",
                2,
                "Glue is trapped in the sockets' blind ends and holds the tails off.",
                "Does it spring back when the clamp is eased, with glue coming out at the lines?",
                "Now: press slowly and let it flow out; wipe. Next time no glue on the floor and "
                "the round ends of the sockets.",
            ),
            Cause(
                "glue-grabbed",
                2,
                "The glue had begun to set: too long open, too warm, too many tails.",
                "How long was it from the first brush to the clamp? The bottle says how long it "
                "stays open.",
                "A slower glue, one corner at a time, a second pair of hands.",
                (),
                (("many-tails", 1.5),),
            ),
            Cause(
                "tight-dry",
                1,
                "It was tight dry already.",
                "Did it go home dry by hand? Good has {window_low} to {window_high} of play.",
                "Log it as tight, and cut what is then advised.",
                (),
                (("tight-now", 4.0), ("fit-good", 0.3), ("loose-now", 0.1)),
            ),
        ),
        words("dry clamp start later notclosing"),
        first="Wet joints don't wait: clamp or part it now, and read on afterwards.",
    ),
    Symptom(
        "springs-open",
        "joint springs open",
        "The joint creeps open again after it closed",
        (
            *(words("springs"), words("creeps gap"), words("creeps clamp"), words("creeps glue")),
            *(words("slipped clamp"), words("slipped glue")),
        ),
        (
            Cause(
                "ends-bruised",
                2,
                "Bruised corners or chips at the bottom act as springs.",
                "Take it apart: are there shiny or crushed places?",
                "Clear the sockets, break the tails' end corners on the inside with a file.",
            ),
            Cause(
                "board-not-flat",
                2,
                "A cupped or twisted board pulls it open.",
                "Lay a straight edge across both boards: is one hollow by about {d}?",
                "Flatten the board, or hold it flat under a block until the glue is hard.",
                ("d",),
                (("wide-board", 2.0),),
            ),
            Cause(
                "clamps-out-of-line",
                2,
                "The clamps press beside the joint, and wet glue lets it slide.",
                "Ease one clamp: does the joint move to the other side?",
                "Blocks over the tails, clamps in line with the board; look again after five "
                "minutes.",
            ),
            Cause(
                "play",
                1,
                "The joint has too much play to hold by itself.",
                "Does it fall apart dry? Take the pull-apart gap.",
                "Log it as loose, with the gap, and cut what is then advised.",
                (),
                (("loose-now", 3.0), ("fit-good", 0.3), ("tight-now", 0.2)),
            ),
        ),
        words("gap later glue clamp baseline dry"),
        "how far it opens",
        0.2,
    ),
    Symptom(
        "tails-too-long",
        "tails too long",
        "The tails are too long: they bottom out before the shoulder closes",
        (words("tail long"), words("bottom gap"), words("bottom baseline"), words("bottom long")),
        (
            Cause(
                "pin-board-lifted",
                3,
                "The pin board lifted while it was cut: its sockets are shallower than the bit is "
                "high.",
                "Measure the sockets' depth near both edges and in the middle: {h} all along?",
                "Leave the bit alone. Clean the table, press the board down all along, and cut "
                "another piece.",
                ("d", "h"),
            ),
            Cause(
                "unequal-heights",
                2,
                "The tails were cut with the bit higher than the sockets.",
                "Measure a tail's length and a socket's depth: they differ by about {d}.",
                "Lock the lift and cut both boards without touching it. Log such a piece at the "
                "larger height.",
                ("d",),
                (("backlash", 1.5), ("fit-drifts", 2.0), ("looser-log", 1.5)),
            ),
            Cause(
                "chips-in-the-joint",
                1,
                "Chips lie on the sockets' floor.",
                "Brush them out: does it close?",
                "Clean both boards before they are judged.",
            ),
            Cause(
                "rabbet-too-short",
                1,
                "The tails are right, and the rabbet is too short: its shoulder holds off.",
                "Measure the rabbet along the board: it wants {h}, up to {margin} more.",
                "Leave the bit alone. Cut the rabbet {h} long, up to {margin} more.",
                ("h",),
                (("raised", 3.0), ("lowered", 0.5)),
            ),
        ),
        words("gap baseline inside socket"),
        "how far they are too long",
        0.1,
    ),
    Symptom(
        "step-at-face",
        "step at the face",
        "A step between the tails' outside face and the pin board's end",
        (words("step outside"), words("step end"), words("step edge")),
        (
            Cause(
                "depth",
                3,
                "Alike all along: the sockets are too short (proud) or too long (shy).",
                "Lay a straight edge over the end, at both edges: alike within {step}?",
                "Log it with its size, as proud or shy. The sockets then follow it, one "
                "to one, once the fit is right.",
                (),
                (("proud-now", 3.0), ("shy-now", 3.0), ("seat-good", 0.3)),
            ),
            Cause(
                "end-or-stop-askew",
                2,
                "From edge to edge it changes: the pin board's end or its stop is not square.",
                "Try a square on the pin board's end from its edge: {d} over {board} is {tip}.",
                "Leave the depth alone. Square the end, clear the stop of chips, cut another "
                "piece.",
                ("d", "tip_deg"),
                (("seat-good", 1.5),),
            ),
            Cause(
                "thickness-uneven",
                2,
                "The tail board is not equally thick, or its rabbet not equally deep.",
                "Measure what the rabbet leaves at both edges: do they differ by {d}?",
                "Plane the board to one thickness, keep it flat to the fence for the rabbet.",
                ("d",),
            ),
            Cause(
                "board-cupped",
                1,
                "It changes at the middle: a board is cupped or twisted.",
                "Lay a straight edge across both boards.",
                "Flatten the board, or take another.",
                (),
                (("wide-board", 2.0),),
            ),
        ),
        words("outside end edge only proud shy middle"),
        "the step",
        0.2,
    ),
)
