"""The use case of `fault`: what the log shows, and the causes of what was seen. The log is only
read.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..domain import SetUp
from ..families.faults import Faults, faults_of
from ..families.names import first_joint
from .bench import Workbench


def at_hand(bench: Workbench, number: int | None, *, needed: bool) -> SetUp | None:
    """Return set-up `number`, or the current one; None without one, unless it is needed. Raises
    Refused (no-setup, unknown-setup).
    """
    return bench.current(number) if number is not None or needed else bench.log.current()


def faults(bench: Workbench, setup: SetUp | None, words: Sequence[str], units: str) -> Faults:
    """Return the causes of what was typed for a set-up, or all symptoms when nothing was typed.

    units: preferred unit of bare numbers. Raises NotUnderstood or Refused for words that name no
    symptom, or for a joint whose faults nobody told.
    """
    known = faults_of(first_joint() if setup is None else setup.plan.joint)
    return known.looked_for(setup, None if setup is None else bench.past(setup), words, units)
