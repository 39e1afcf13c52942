"""The use case of `fault`: what the log shows, and the causes of what was seen. The log is only
read.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..advice.cautions import FULL
from ..domain import SetUp
from ..families.half_blind.faults import (
    SYMPTOMS,
    VOCABULARY,
    Bench,
    Diagnosis,
    Faults,
    Likely,
    parse_symptoms,
)
from .bench import Workbench

__all__ = ["VOCABULARY", "Diagnosis", "Faults", "Likely", "at_hand", "faults"]

_CAUTIONS = (
    "unplug",
    "one-pass",
    "new-height",
)  # every test and cure is about the bit or a new cut


def at_hand(bench: Workbench, number: int | None, *, needed: bool) -> SetUp | None:
    """Return set-up `number`, or the current one; None without one, unless it is needed. Raises
    Refused (no-setup, unknown-setup).
    """
    return bench.current(number) if number is not None or needed else bench.log.current()


def faults(bench: Workbench, setup: SetUp | None, words: Sequence[str], units: str) -> Faults:
    """Return the causes of what was typed for a set-up, or all symptoms when nothing was typed.

    units: preferred unit of bare numbers. Raises NotUnderstood or Refused for words that name no
    symptom.
    """
    seen = parse_symptoms(words, units=units)
    if setup is None:
        return Faults(None, (), (), SYMPTOMS, ())
    at = Bench(setup, bench.past(setup))
    asked = at.diagnose(seen)
    cautions = tuple(c for c in FULL if c.code in _CAUTIONS) if asked else ()
    return Faults(setup, at.log_shows(gaps=not asked), asked, () if asked else SYMPTOMS, cautions)
