"""Joints that do not go home, do not line up or do not lie flat. Geometry from `figures`; order:
common practice, no source.
"""

from __future__ import annotations

from ...faults import Cause, Symptom, words

_TWISTED = Cause(
    "board-twisted",
    3,
    "A board is twisted: it lay flat under the hand at the table and springs back.",
    "Lay both boards on a flat table: the one that rocks by about {d} is it; sight along the "
    "board's edges.",
    "Plane or joint it flat, or take another board; leave the settings alone.",
    ("d",),
    (("wide-board", 1.5),),
)
_ENDS_BURRED = Cause(
    "ends-burred",
    3,
    "The tails' end corners are furry or bruised, and bind until they are rubbed off.",
    "Look at the end corners; the second assembly goes easier than the first.",
    "Break the end corners of the tails on the inside with a file, not the flanks; judge the fit "
    "at the first assembly of a "
    "fresh piece.",
)
_SHALLOW_RABBET = Cause(
    "rabbet-too-shallow",
    2,
    "The rabbet is too shallow to clear the sockets' round ends, and the step rides up on them.",
    "Measure its depth: {rabbet} is planned, and less than {least_rabbet} cannot clear them at "
    "this fit.",
    "Deepen the rabbet to {rabbet}, half the bit's diameter unless told otherwise; leave the "
    "height alone.",
    ("rabbet_mm", "least_rabbet_mm"),
    (("shallow-rabbet", 3.0),),
)

SYMPTOMS = (
    Symptom(
        "stands-proud",
        "stands proud",
        "The tails stand proud of the pin board's end",
        (words("proud"),),
        (
            Cause(
                "fit-moved-the-seat",
                3,
                "A tighter fit seats shallower: the tails' corners meet the round ends sooner.",
                "Take the pull-apart gap, or try the neighbour with another fit. From a clearance "
                "of {window_high} to "
                "{window_low} the seat rises by {seat_change}.",
                "Bring the fit right first. Log what is then left as proud, with the "
                "step: the sockets follow it, one to one.",
                ("seat_change_mm",),
                (("tight-now", 3.0), ("loose-now", 0.5)),
            ),
            Cause(
                "socket-too-short",
                2,
                "The sockets are too short: the stop was short, or the board did not reach it.",
                "Measure from the board's end to the deepest point of the mouth: {mouth_reach} at "
                "the depth now set.",
                "Clear the stop of chips and cut another piece.",
                ("d", "mouth_reach_mm"),
                (("proud-now", 2.0), ("shy-now", 0.3)),
                "If the depth is as set, deepen the sockets by {d}, one to one.",
            ),
            _SHALLOW_RABBET,
            Cause(
                "chips-in-the-sockets",
                1,
                "Chips or fuzz lie in the round ends of the sockets.",
                "Clear them with a small chisel and try again: does it close?",
                "Clear the round ends before a piece is judged; the depth stays.",
            ),
        ),
        words("outside bottom end"),
        "the step",
        0.2,
    ),
    Symptom(
        "stands-shy",
        "stands shy",
        "The tails are shy: sunk below the pin board's end",
        (words("shy"),),
        (
            Cause(
                "fit-moved-the-seat",
                3,
                "A looser fit seats deeper: the tails' corners meet the round ends later.",
                "Take the pull-apart gap, or try the neighbour with another fit. From a clearance "
                "of {window_low} to "
                "{window_high} the seat sinks by {seat_change}.",
                "Bring the fit right first. Log what is then left as shy, with the step: "
                "the sockets follow it, one to one.",
                ("seat_change_mm",),
                (("loose-now", 3.0), ("tight-now", 0.5)),
            ),
            Cause(
                "socket-too-long",
                2,
                "The sockets are too long: the stop was set far, or gave way.",
                "Measure from the board's end to the deepest point of the mouth: {mouth_reach} at "
                "the depth now set.",
                "Lock the stop and cut another piece.",
                ("d", "mouth_reach_mm"),
                (("shy-now", 2.0), ("proud-now", 0.3)),
                "If the depth is as set, set the stop {d} shallower, one to one.",
            ),
            Cause(
                "rabbet-too-deep",
                2,
                "The rabbet is deeper than planned: the tails go in further by as much.",
                "Measure its depth: {rabbet} is planned.",
                "Set the rabbet to {rabbet}; sockets shallower by what it is over help boards that "
                "are cut already.",
                ("rabbet_mm",),
            ),
        ),
        words("outside end"),
        "the step",
        0.2,
    ),
    Symptom(
        "one-end-only",
        "one end only",
        "The tails go in at one end of the board only",
        (words("end only"), words("edge only")),
        (
            Cause(
                "steps-do-not-match",
                3,
                "The steps of the two boards differ, and the error adds up towards the other end.",
                "Start it from the other end: if it then goes in there and binds at this one, the "
                "steps differ. Across about "
                "{tails} tails {d} is {per_step} a step.",
                "Leave the bit alone. Set each stop of both boards by itself, as the list of stops "
                "has it, on one scale and from the same marked edge.",
                ("d", "tails_n", "per_step_mm"),
                (("by-scale", 1.5), ("many-tails", 1.5)),
            ),
            Cause(
                "end-tipped",
                2,
                "The tail board stood tipped: its slots are deeper, and its tails looser, at one "
                "end.",
                "Measure the slots' depth at both edges; {d} of clearance is {lift} of height "
                "between them, {tip_lift} over "
                "{board}.",
                "Square the board's end and stand it on a clean table; leave the bit alone.",
                ("lift_mm", "tip_lift_deg"),
            ),
            _TWISTED,
        ),
        words("first last tight loose"),
        "the change of clearance from end to end",
        0.1,
    ),
    Symptom(
        "edges-do-not-meet",
        "edges uneven",
        "The boards' edges don't meet: one stands higher than the other",
        (words("edge uneven"), words("unaligned"), words("higher")),
        (
            Cause(
                "half-step-off",
                3,
                "The half step between the two boards is off: it is half the pitch, {half_pitch}.",
                "Measure the block or the stop that makes the half step: about {d} from "
                "{half_pitch}. No word of the fit "
                "shows it.",
                "Leave the bit alone. Correct the half step and cut a new pair.",
                ("d", "half_pitch_mm"),
                (),
                "It moves by the difference, {d}, one to one, against the board that stands high.",
            ),
            Cause(
                "widths-differ",
                2,
                "The two boards are not equally wide.",
                "Measure both widths: do they differ by {d}? Then one edge meets and the other "
                "does not.",
                "Rip both to one width, or put their reference edges together and plane the other "
                "one.",
                ("d",),
            ),
            Cause(
                "reference-edges-swapped",
                2,
                "The two boards had opposite edges at the fence or the stop.",
                "Mark the edge that touched it: put together, the marks must lie on the same side.",
                "Mark one reference edge a board and keep it at the fence for both.",
            ),
        ),
        words("end edge only"),
        "the difference of the edges",
        0.3,
    ),
    Symptom(
        "starts-tight",
        "tight then loose",
        "Tight at the start, then loose as it goes home (or after a few tries)",
        (words("start tight loose"), words("then tight loose"), words("start tight")),
        (
            _ENDS_BURRED,
            Cause(
                "slots-lean",
                2,
                "The boards leaned when they were cut: tails and sockets taper against each other.",
                "Try a square in a slot across the board's thickness; {d} over {h} is {lean}.",
                "Stand the board flat against a square fence, {lean} out, and cut another piece.",
                ("lean_deg",),
            ),
            Cause(
                "worn-by-trying",
                1,
                "It was tried too often: the fibres of a tight joint are crushed and it stays "
                "loose.",
                "Put the same tail into a fresh socket: tight again?",
                "Judge a piece at its first assembly, and cut a fresh one for the next setting.",
                (),
                (("tight-now", 2.0),),
            ),
        ),
        words("first last then loose later"),
        "the change of clearance",
        0.1,
    ),
    Symptom(
        "rocks",
        "rocks",
        "The joint rocks, or the boards are twisted when it is together",
        (words("rocks"), words("twist")),
        (
            _TWISTED,
            Cause(
                "sockets-uneven",
                2,
                "The sockets' depths differ: the pin board rocked or lifted on the table.",
                "Measure the sockets' depth along the board: they should stay within {step}.",
                "Clean the table, press the board down with a block, and cut another piece.",
            ),
            Cause(
                "play",
                1,
                "The joint is loose: it has too much play.",
                "Take the pull-apart gap with a feeler.",
                "Log it as loose, with the gap, and cut what is then advised; a "
                "joint inside its window does not rock.",
                (),
                (("loose-now", 3.0), ("fit-good", 0.3), ("tight-now", 0.2)),
            ),
        ),
        words("twist rocks"),
        "how far it rocks",
        0.3,
    ),
)
