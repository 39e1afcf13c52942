"""What the log shows and the causes of what was seen, for one set-up or for none."""

from __future__ import annotations

from collections.abc import Sequence

from ....advice.history import History
from ....domain import SetUp
from ..cautions import FULL
from .diagnosis import Bench
from .table import SYMPTOMS
from .told import Faults
from .words import parse_symptoms

_CAUTIONS = ("unplug", "one-pass", "new-height")  # every test and cure is about the bit or a cut


def looked_for(
    setup: SetUp | None, past: History | None, words: Sequence[str], units: str
) -> Faults:
    """Return the causes of what was typed for a set-up, or all symptoms when nothing was typed.

    past: what was learnt before it; units: preferred unit of bare numbers. Raises NotUnderstood or
    Refused for words that name no symptom.
    """
    seen = parse_symptoms(words, units=units)
    if setup is None or past is None:
        return Faults(None, (), (), SYMPTOMS, ())
    at = Bench(setup, past)
    asked = at.diagnose(seen)
    cautions = tuple(c for c in FULL if c.code in _CAUTIONS) if asked else ()
    return Faults(setup, at.log_shows(gaps=not asked), asked, () if asked else SYMPTOMS, cautions)
