"""Faults of rabbets that no setting cures: see `families.faults.Faulty`."""

from __future__ import annotations

from collections.abc import Sequence

from ...advice.history import History
from ...domain import SetUp
from ..faults import Faults
from ..sheets.symptoms import FIGURES, NAMES, PLACES, SYMPTOMS
from ..symptoms import Table
from .craft import cautions

TABLE = Table(SYMPTOMS, NAMES, PLACES)
VOCABULARY = TABLE.vocabulary


def looked_for(
    setup: SetUp | None, past: History | None, words: Sequence[str], units: str
) -> Faults:
    """See `families.faults.Faulty`."""
    told = () if setup is None else cautions(setup.plan, None)[:2]
    return TABLE.looked_for(setup, words, units, FIGURES, told)
