"""Faults that no setting cures: symptoms in a maker's words, their causes in order, the test and
the cure of each.
"""

from __future__ import annotations

from .looking import looked_for
from .words import VOCABULARY

__all__ = ["VOCABULARY", "looked_for"]
