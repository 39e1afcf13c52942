"""The usual cautions of the shop, and which of them a move makes new.

Common practice as published safety lists have it; local codes, the makers' instructions and
qualified instruction come first.
"""

from __future__ import annotations

import math

from ..domain import Plan, Remark

FULL: tuple[Remark, ...] = (
    Remark(
        "first-of-all",
        "Local codes, the makers' instructions and qualified instruction come before anything "
        "here.",
    ),
    Remark(
        "unplug",
        "Unplug the router before touching the bit; change a setting only with the power off and "
        "the bit "
        "at rest.",
    ),
    Remark("collet", "Shank fully in, then backed out 1.5 to 3 mm; collet clean and tight."),
    Remark(
        "feed",
        "Feed right to left along the fence, against the bit's rotation; never a climb cut, and "
        "never a loose "
        "piece between bit and fence.",
    ),
    Remark(
        "hands",
        "Hands 75 to 100 mm from the bit; push blocks and backing boards; no piece under about 300 "
        "mm "
        "unless it is in a carrier.",
    ),
    Remark("guards", "Eyes, ears and lungs protected; no gloves, no loose sleeves."),
    Remark(
        "one-pass",
        "A dovetail slot is cut at full height in one pass: waste it with a straight bit first, "
        "and never "
        "lift the work off the bit.",
    ),
    Remark("new-height", "A new height means a new test piece."),
)

TURN = Remark(
    "far-shaving",
    "The second pass after the turn pushes the board off the fence: hold it in with a push block.",
    "centre",
)
NEW_HEIGHT = Remark(
    "new-height",
    "Power off before the height is changed; a new height means a new test piece.",
    "fit",
)
FRESH_PIECE = Remark(
    "fresh-piece",
    "Set a smaller fence offset only for a fresh piece, never for one cut already.",
    "centre",
)


def top_speed(plan: Plan) -> int:
    """Return the usual top speed for the bit's diameter, turns a minute."""
    ranges = ((25, 24000), (50, 18000), (63, 16000), (89, 12000))
    return next((rpm for most, rpm in ranges if plan.bit.diameter <= most), 10000)


def speed(plan: Plan) -> Remark:
    """Return the usual top speed for the bit's diameter (a general guideline; the bit's own mark
    comes first).
    """
    top = top_speed(plan)
    rim = math.pi * plan.bit.diameter * top / 60000
    return Remark(
        "speed",
        f"Speed: not above the bit's mark; without one at most {top} rpm (the rim then runs at "
        f"{rim:.0f} m/s).",
    )


def opening(plan: Plan) -> tuple[Remark, ...]:
    """All cautions, for `start`."""
    turn = (TURN,) if "centre" in plan.in_play else ()
    return (*FULL, speed(plan), *turn)


def after_move(moves: dict[str, float] | None) -> tuple[Remark, ...]:
    """Only what a move makes new."""
    if moves is None:
        return ()
    out: list[Remark] = []
    if abs(moves.get("bit_height", 0.0)) > 1e-9:
        out.append(NEW_HEIGHT)
    if moves.get("fence_offset", 0.0) < -1e-9:
        out.append(FRESH_PIECE)
    return tuple(out)
