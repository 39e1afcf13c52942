"""Faults of box joints on a sled that no setting cures: see `families.faults.Faulty`."""

from __future__ import annotations

from collections.abc import Sequence

from ...advice.history import History
from ...domain import SetUp
from ..faults import Faults
from ..fingers import symptoms as shared
from ..fingers.geometry import out_of_square
from ..symptoms import Table
from .craft import cautions
from .names import GAP
from .plan import BoxPlan

SYMPTOMS = (*shared.symptoms(shared.PUSHES, shared.CHIPS), shared.FIRST_EDGE)
TABLE = Table(SYMPTOMS, shared.NAMES, shared.PLACES)
VOCABULARY = TABLE.vocabulary


def looked_for(
    setup: SetUp | None, past: History | None, words: Sequence[str], units: str
) -> Faults:
    """See `families.faults.Faulty`."""
    if setup is None:
        return TABLE.looked_for(None, words, units, {}, ())
    plan, pieces = setup.plan, setup.pieces()
    assert isinstance(plan, BoxPlan)
    at, cutter = pieces[-1].settings if pieces else setup.shown, plan.bit.diameter
    thick = plan.figures(pieces[-1].sizes if pieces else None)["met"]
    figures = {
        **shared.FIGURES,
        "key_play": max(0.0, cutter - plan.key_width),
        "thick": thick,
        "half_degree": out_of_square(thick, shared.HALF_DEGREE),
        "gap": at[GAP],
        "slot": cutter,
        "between": (at[GAP] + cutter) / 2,
        "cutter": cutter,
    }
    return TABLE.looked_for(setup, words, units, figures, cautions(plan, None)[:2])
