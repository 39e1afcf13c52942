"""The rivals as a sensible person works: their options, chosen for the fewest pieces on seeds kept for that alone.

`python tests/bench_pieces.py --only tune` chose them and prints this table anew.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from .methods import Method
from .rivals import Habit, Notebook

SENSIBLE: Mapping[str, Any] = {"uses_numbers": True, "together": True, "marks": True}

# By base shop and what is read: first moves of bit height, fence and depth in mm, by degree, the gap used.
HABITS: Mapping[tuple[str, str], Mapping[str, Any]] = {
    ("fine mm", "numbers"): {"step": 0.25, "fence_step": 0.2, "depth_step": 0.2, "by_degree": True, "uses_gap": True},
    ("fine mm", "words"): {"step": 0.25, "fence_step": 0.2, "depth_step": 0.2, "by_degree": True, "uses_gap": False},
    ("1/64 in", "numbers"): {"step": 0.25, "fence_step": 0.2, "depth_step": 0.2, "by_degree": True, "uses_gap": True},
    ("1/64 in", "words"): {"step": 0.25, "fence_step": 0.2, "depth_step": 0.2, "by_degree": True, "uses_gap": False},
}
NOTEBOOKS: Mapping[tuple[str, str], Mapping[str, Any]] = {
    key: {**options, "memory": "mean of bit", "start_bias": 0.14} for key, options in HABITS.items()
}


def rivals(base: str, words_only: bool) -> dict[str, Callable[[], Method]]:
    """Return the rivals of a base shop by name, each to be made anew for a season."""
    key = (base, "words" if words_only else "numbers")
    return {
        "habit": lambda: Habit(**SENSIBLE, **HABITS[key]), "notebook": lambda: Notebook(**SENSIBLE, **NOTEBOOKS[key]),
    }  # fmt: skip
