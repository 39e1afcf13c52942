"""What of every part cut from both faces is typed in: see `families.typed`."""

from __future__ import annotations

from ...domain import Bit
from ...errors import Clause, Mm
from ...language.limits import Limit
from ..typed import Figure, First, OneOf
from . import figures
from .names import HEIGHT, STOP

LEAST_SCRAP = 6.0  # mm thick: less leaves nothing between two faces
PLAY_LIMIT = 3.0  # mm: more is no joint
SOLID = 100.0  # mm: any mortise, tenon, groove or tongue is narrower

SHARED: dict[str, Figure] = {
    "height": First(HEIGHT),
    "stop": First(STOP),
    "height-by": OneOf("height_by", ("gauge", "eye")),
}


def setting_of(bit: Bit) -> dict[str, Limit]:
    """Return the values that are believed of the settings that every such part has."""
    length = bit.cutting_length
    why = Clause("this bit's cutting length of {length}", length=Mm(length))
    return {
        HEIGHT: Limit("the height", 0.1, length, why),
        STOP: Limit("the stop", 0.5, figures.LONGEST, "any stop"),
    }


def depth(what: str) -> Limit:
    """Return between which lengths a depth is believed. what: it is of."""
    return Limit(what, figures.LEAST_LENGTH, figures.LONGEST, "any such part")
