"""What of every box joint is typed in: see `families.typed`."""

from __future__ import annotations

from ...domain import Bit
from ...errors import Clause, Mm
from ...language.limits import Limit
from ..typed import Count, Figure, First, OneOf, Size, Taken
from .names import HEIGHT
from .plan import finger_count

LEAST_SCRAP = 2.0  # mm thick
PLAY_LIMIT = 3.0  # mm: a joint with more has come apart

SHARED: dict[str, Figure] = {
    "height": First(HEIGHT),
    "fingers": Count("fingers", finger_count),
    "shown": OneOf("shown", ("first", "second")),
    "proud": Size("wanted_step", lambda _: Limit("the wanted step", -3, 3, "any wanted step")),
}
READINGS: dict[str, Taken] = {
    "play": Taken(("the play",), (PLAY_LIMIT,)),
    "slot": Taken(("the slot",), (100.0,)),
    "finger": Taken(("the finger",), (100.0,)),
}


def setting_of(bit: Bit) -> dict[str, Limit]:
    """Return the values that are believed of the settings that every box joint has."""
    length = bit.cutting_length
    why = Clause("this bit's cutting length of {length}", length=Mm(length))
    return {HEIGHT: Limit("the height", 0.5, length, why)}
