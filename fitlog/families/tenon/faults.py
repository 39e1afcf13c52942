"""Faults of tenons that no setting cures: see `families.faults.Faulty`."""

from __future__ import annotations

from collections.abc import Sequence

from ...advice.history import History
from ...domain import SetUp
from ..faults import Faults
from ..flip import symptoms as shared
from ..flip.looking import look
from ..symptoms import Table

SYMPTOMS = (shared.TAPERED, shared.CROOKED, shared.SOME, shared.TORN)
TABLE = Table(SYMPTOMS, shared.NAMES, shared.PLACES)
VOCABULARY = TABLE.vocabulary


def looked_for(
    setup: SetUp | None, past: History | None, words: Sequence[str], units: str
) -> Faults:
    """See `families.faults.Faulty`."""
    return look(TABLE, setup, words, units)
