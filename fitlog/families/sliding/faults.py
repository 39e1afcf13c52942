"""Faults of sliding dovetails that no setting cures: see `families.faults.Faulty`."""

from __future__ import annotations

from collections.abc import Sequence

from ...advice.history import History
from ...domain import SetUp
from ..faults import Faults
from ..symptoms import Table
from .cautions import CUTTING
from .geometry import pulled_gap
from .plan import sliding
from .symptoms import NAMES, SYMPTOMS

TABLE = Table(SYMPTOMS, NAMES, {})
VOCABULARY = TABLE.vocabulary
_LEAST_PLAY, _PAPER = 0.05, 0.1  # mm of play that glue needs; that a tongue clears the floor by


def looked_for(
    setup: SetUp | None, past: History | None, words: Sequence[str], units: str
) -> Faults:
    """See `families.faults.Faulty`."""
    if setup is None:
        return TABLE.looked_for(None, words, units, {}, ())
    plan = sliding(setup.plan)
    figures = {
        "thick": plan.figures()["thickness"],
        "paper": _PAPER,
        "least": pulled_gap(_LEAST_PLAY, plan.bit.theta, plan.faces),
        "play": _LEAST_PLAY,
    }
    return TABLE.looked_for(setup, words, units, figures, CUTTING)
