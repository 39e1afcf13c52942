"""The rivals as a sensible person works: their options, chosen for the fewest pieces on seeds kept
for that alone.

`python tests/benchmarks/bench_pieces.py --only tune --seeds 150` chose them, one option after the
other, twice round.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from .methods import Method
from .rivals import Habit, Notebook

SENSIBLE: Mapping[str, Any] = {"uses_numbers": True, "marks": True}


def _options(
    step: float,
    fence_step: float,
    depth_step: float,
    by_degree: bool,
    uses_gap: bool,
    together: bool,
    **more: Any,
) -> Mapping[str, Any]:
    moves = {"step": step, "fence_step": fence_step, "depth_step": depth_step}
    return {**moves, "by_degree": by_degree, "uses_gap": uses_gap, "together": together, **more}


_MEAN: Mapping[str, Any] = {"memory": "mean of bit", "start_bias": 0.14}
# By base shop and what is read: first moves of bit height, fence and depth in mm; by degree, the
# gap used, all at once.
HABITS: Mapping[tuple[str, str], Mapping[str, Any]] = {
    ("fine mm", "numbers"): _options(0.3, 0.2, 0.2, True, True, True),
    ("fine mm", "words"): _options(0.4, 0.1, 0.3, True, False, True),
    ("1/64 in", "numbers"): _options(0.3, 0.2, 0.2, True, True, True),
    ("1/64 in", "words"): _options(0.2, 0.2, 0.2, True, False, True),
}
NOTEBOOKS: Mapping[tuple[str, str], Mapping[str, Any]] = {
    ("fine mm", "numbers"): _options(0.25, 0.2, 0.2, True, True, True, **_MEAN),
    ("fine mm", "words"): _options(0.2, 0.1, 0.2, True, False, True, **_MEAN),
    ("1/64 in", "numbers"): _options(0.2, 0.2, 0.2, True, True, True, **_MEAN),
    ("1/64 in", "words"): _options(0.15, 0.2, 0.2, True, False, True, **_MEAN),
}


def rivals(base: str, words_only: bool) -> dict[str, Callable[[], Method]]:
    """Return the rivals of a base shop by name, each to be made anew for a season."""
    key = (base, "words" if words_only else "numbers")
    return {
        "habit": lambda: Habit(**SENSIBLE, **HABITS[key]),
        "notebook": lambda: Notebook(**SENSIBLE, **NOTEBOOKS[key]),
    }


def first_moves(words_only: bool) -> tuple[float, float, float]:
    """Return the habit's first moves of bit height, fence and depth where `fitlog rehearse`
    compares, mm.
    """
    options = HABITS["fine mm", "words" if words_only else "numbers"]
    return options["step"], options["fence_step"], options["depth_step"]
