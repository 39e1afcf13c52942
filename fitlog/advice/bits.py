"""What a bit really measures: the catalogue's figures corrected by what finished set-ups taught of
it.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from ..domain import Bit
from ..estimator.posterior import Normal
from ..families.bits import angle, diameter
from .history import History


class BitLaw(NamedTuple):
    """What a bit cuts like. diameter: mm; angle_deg: degrees from its axis; each a mean and one
    standard deviation.

    taught: finished set-ups that spoke of the bit.  fresh: those of them since it was last
    sharpened; the others speak of its angle alone.
    """

    diameter: Normal
    angle_deg: Normal
    taught: int
    fresh: int


def bit_law(bit: Bit, history: History) -> BitLaw:
    """Return the laws of a bit's true diameter and angle; without a set-up that spoke of it, those
    assumed.

    The catalogue's figure plus the law of its error, by the same linear model that the advice uses
    (GUM, JCGM 100:2008, 5.1.2). Set-ups with other bits help too: they tell the bit's error from
    the machine's and the wood's.
    """
    size, turn = (diameter(bit),), (angle(bit),)
    known = history.of(None)
    off, turned = known.law(size), known.law(turn)
    return BitLaw(
        Normal(bit.diameter + off.mean, off.sd),
        Normal(bit.angle + math.degrees(turned.mean), math.degrees(turned.sd)),
        history.taught(None, turn),
        history.taught(None, size),
    )
