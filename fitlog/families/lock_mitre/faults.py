"""Faults of lock mitres that no setting cures: see `families.faults.Faulty`."""

from __future__ import annotations

from collections.abc import Sequence

from ...advice.history import History
from ...domain import SetUp, remark
from ..faults import Faults
from ..symptoms import Table
from . import figures
from .craft import OWN
from .names import HEIGHT, OFFSET
from .plan import mitre
from .symptoms import NAMES, PLACES, SYMPTOMS

TABLE = Table(SYMPTOMS, NAMES, PLACES)
VOCABULARY = TABLE.vocabulary


def looked_for(
    setup: SetUp | None, past: History | None, words: Sequence[str], units: str
) -> Faults:
    """See `families.faults.Faulty`."""
    if setup is None:
        return TABLE.looked_for(None, words, units, {}, ())
    plan, last = mitre(setup.plan), setup.last_piece()
    dial = (last.settings if last else setup.shown).on_scale(plan.machine)
    known = {"height": dial[HEIGHT], "fence": dial[OFFSET], "blunt": 2 * figures.BLUNT}
    return TABLE.looked_for(setup, words, units, known, (remark("unplug"), *OWN))
