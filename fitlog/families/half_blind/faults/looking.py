"""What the log shows and the causes of what was seen, for one set-up or for none."""

from __future__ import annotations

from collections.abc import Sequence

from ....advice.history import History
from ....domain import SetUp
from ...faults import Faults
from ..cautions import FULL
from .diagnosis import Bench
from .table import SYMPTOMS
from .words import parse_symptoms

_CAUTIONS = ("unplug", "one-pass", "new-height")  # every test and cure is about the bit or a cut


def looked_for(
    setup: SetUp | None, past: History | None, words: Sequence[str], units: str
) -> Faults:
    """See `families.faults.Faulty`."""
    seen = parse_symptoms(words, units=units)
    if setup is None or past is None:
        return Faults(None, (), (), SYMPTOMS, ())
    at = Bench(setup, past)
    asked = at.diagnose(seen)
    cautions = tuple(c for c in FULL if c.code in _CAUTIONS) if asked else ()
    return Faults(setup, at.log_shows(gaps=not asked), asked, () if asked else SYMPTOMS, cautions)
