"""What of every cut for a sheet is typed in: see `families.typed`."""

from __future__ import annotations

from ...domain import Bit
from ...errors import Clause, Mm
from ...language.limits import Limit
from ..typed import Figure, First, OneOf, Size, Taken
from .names import CUT_DEPTH, HEIGHT, SHEET

LEAST_SCRAP = 3.0  # mm thick
SHARED: dict[str, Figure] = {
    "sheet": Size("sheet", lambda _: Limit("the sheet", 1.0, 100.0, "any sheet")),
    "measured": OneOf("measured", ("joint", "once")),
    "height": First(HEIGHT),
}
READINGS: dict[str, Taken] = {
    SHEET: Taken(("the sheet",), (100.0,)),
    CUT_DEPTH: Taken(("the depth of the cut",), (60.0,)),
}


def depth_limit(what: str) -> Limit:
    """Return the depths that are believed. what: as a sentence names it."""
    return Limit(what, 0.5, 50.0, "any side")


def setting_of(bit: Bit) -> dict[str, Limit]:
    """Return the values that are believed of the settings that every such cut has."""
    length = bit.cutting_length
    why = Clause("this bit's cutting length of {length}", length=Mm(length))
    return {HEIGHT: Limit("the bit height", 0.5, length, why)}
