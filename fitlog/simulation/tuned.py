"""The rivals as a sensible person works: their options, chosen for the fewest pieces on seeds kept
for that alone; the first moves are the family's.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from ..domain import Aspect
from .methods import Method
from .rivals import Habit, Notebook
from .simulated import simulated

BASE = "fine mm"  # the base shop whose options `fitlog rehearse` compares with
SENSIBLE: Mapping[str, Any] = {"uses_numbers": True, "marks": True}


def rivals(joint: str, base: str, words_only: bool) -> dict[str, Callable[[], Method]]:
    """Return the rivals of a base shop by name, each to be made anew for a season."""
    usual = {**SENSIBLE, "by_degree": True, "together": True, "uses_gap": not words_only}
    habit, notebook = (first_moves(joint, way, base, words_only) for way in ("habit", "notebook"))
    bias = simulated(joint).START_BIAS
    return {
        "habit": lambda: Habit(habit, **usual),
        "notebook": lambda: Notebook(notebook, **usual, memory="mean of bit", start_bias=bias),
    }


def first_moves(joint: str, way: str, base: str, words_only: bool) -> Mapping[Aspect, float]:
    """Return the first moves of a way of working by aspect, mm."""
    family = simulated(joint)
    return family.TUNED.get((way, base, "words" if words_only else "numbers"), family.STEPS)
