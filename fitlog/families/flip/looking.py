"""Faults of parts cut from both faces, as each family's module `faults` hands them on: see
`families.faults.Faulty`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from ...advice.cautions import GENERAL
from ...domain import SetUp
from ..faults import Faults
from ..symptoms import Table
from .names import STOP
from .symptoms import HALF_DEGREE

_CARE = tuple(caution for caution in GENERAL if caution.code in ("unplug", "feed"))


def look(table: Table, setup: SetUp | None, words: Sequence[str], units: str) -> Faults:
    """Return what a family's table tells of a set-up."""
    if setup is None:
        return table.looked_for(None, words, units, {}, ())
    long = (setup.pieces()[-1].settings if setup.pieces() else setup.shown)[STOP]
    figures = {"long": long, "half_degree": 2 * long * math.tan(HALF_DEGREE)}
    return table.looked_for(setup, words, units, figures, _CARE)
