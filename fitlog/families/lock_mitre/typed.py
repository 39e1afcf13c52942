"""What of a lock mitre is typed in, and what it can be: see `families.typed`."""

from __future__ import annotations

from ...domain import Bit, Plan
from ...errors import Clause, Mm
from ...language.limits import Limit
from ..typed import Figure, First, OneOf, Size, Taken
from .figures import MARKED
from .names import HEIGHT, OFFSET

LEAST_SCRAP = 6.0  # mm thick: no such bit is made for less


def setting(bit: Bit, name: str) -> Limit:
    """The values of a setting that are believed, as true lengths."""
    most = 2 * bit.cutting_length
    why = Clause("twice the profile of this bit, {most}", most=Mm(most))
    called = "the bit height" if name == HEIGHT else "the fence offset"
    return Limit(called, 1.0, most, why)


def least_thickness(plan: Plan) -> float:
    """A test piece is a board that the bit cuts."""
    return LEAST_SCRAP


def _marked(bit: Bit) -> Limit:
    return Limit("a board that the bit is marked for", 3.0, 2 * bit.cutting_length, "this profile")


FIGURES: dict[str, Figure] = {
    "height": First(HEIGHT),
    "fence-offset": First(OFFSET),
    "middle": Size(
        "middle",
        lambda bit: Limit("the middle of the profile", 0.5, bit.cutting_length, "this profile"),
        lambda bit, _, __: bit.cutting_length / 2,
    ),
    "thinnest": Size("thinnest", _marked, lambda bit, _, __: MARKED[0] * bit.cutting_length),
    "thickest": Size("thickest", _marked, lambda bit, _, __: MARKED[1] * bit.cutting_length),
    "set-by": OneOf("set_by", ("gauge", "eye", "blocks")),
}
READINGS: dict[str, Taken] = {}
