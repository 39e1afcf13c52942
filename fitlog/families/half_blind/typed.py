"""What of a half-blind dovetail is typed in, and what it can be: see `families.typed`."""

from __future__ import annotations

from ...domain import Bit, Plan
from ...errors import Clause, Mm
from ...language.limits import Limit
from ..typed import Count, Figure, First, OneOf, Size, Taken, YesNo
from .names import DEPTH, FENCE, HALF_BLIND, HEIGHT
from .plan import dovetail, tail_count
from .speech import PULL_GAP_LIMIT

ANY_PITCH = Limit("the pitch", 3, 200, "any pitch")
HALF_PIN = Limit("the thinnest half-pin", 0.5, 100, "any half-pin")
ROD = 50.0  # mm: no rod is thicker
_READING = 200.0  # mm: anything on a test piece is smaller


def pitch(bit: Bit) -> Limit:
    """The pitches that a bit can space."""
    why = Clause("what a {diameter} bit can space", diameter=Mm(bit.diameter))
    return Limit("the pitch", bit.diameter, 2 * bit.diameter, why)


def spacing(bit: Bit) -> Limit:
    """The spacings of slots whose tails are wider than the pins."""
    return Limit("the spacing of the slots", bit.diameter, 2000, "any board")


def setting(bit: Bit, name: str) -> Limit:
    """The values of a setting that are believed, as true lengths."""
    length = bit.cutting_length
    why = Clause("this bit's cutting length of {length}", length=Mm(length))
    return {
        HEIGHT: Limit("the bit height", 0.5, length, why),
        FENCE: Limit("the fence offset", 0.5, 2000.0, "any fence"),
        DEPTH: Limit("the socket depth", 0.1, 100.0, "any board's thickness"),
    }[name]


def least_thickness(plan: Plan) -> float:
    """A test piece has a rabbet like the board's."""
    return dovetail(plan).rabbet_depth


FIGURES: dict[str, Figure] = {
    "height": First(HEIGHT),
    "pitch": Size("pitch", pitch, lambda bit, _, __: 2 * bit.diameter),
    "rabbet": Size(
        "rabbet_depth",
        lambda _: Limit("the rabbet", 0.5, 100, "any rabbet"),
        lambda bit, _, __: bit.diameter / 2,
    ),
    "rabbet-bit": OneOf("rabbet_bit", ("same", "straight")),
    "proud": Size("wanted_step", lambda _: Limit("the wanted step", -3, 3, "any wanted step")),
    "by-eye": YesNo("by_eye"),
    "spacer": YesNo("spaced"),
    "many-tails": YesNo("many_tails"),
    "tails": Count("tails", tail_count),
    "spacing": Size("spacing", spacing),
}
READINGS: dict[str, Taken] = {
    kind: Taken((f"the {kind.replace('_', ' ')}",), (_READING,))
    for kind, second in HALF_BLIND.readings.items()
    if not second
} | {
    "pull_gap": Taken(("the pull gap",), (PULL_GAP_LIMIT,)),
    "between_rods": Taken(("the width between rods", "the rods"), (_READING, ROD)),
    "over_rods": Taken(("the width over rods", "the rods"), (_READING, ROD)),
    "walls": Taken(
        ("the wall at the fence", "the far wall"),
        (_READING, _READING),
        "walls {value} at the fence, {other} far",
    ),
}
