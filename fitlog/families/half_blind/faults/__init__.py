"""Faults that no setting cures: symptoms in a maker's words, their causes in order, the test and
the cure of each.
"""

from __future__ import annotations

from .diagnosis import Bench, Diagnosis, Likely
from .kinds import Cause, Symptom
from .looking import looked_for
from .table import SYMPTOMS
from .told import Faults
from .words import VOCABULARY, Seen, parse_symptoms

__all__ = [
    "SYMPTOMS",
    "VOCABULARY",
    "Bench",
    "Cause",
    "Diagnosis",
    "Faults",
    "Likely",
    "Seen",
    "Symptom",
    "looked_for",
    "parse_symptoms",
]
