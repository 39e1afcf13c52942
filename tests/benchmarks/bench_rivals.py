"""The rivals' options, chosen on seeds kept for that alone: what stands in a family's `TUNED`."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product
from statistics import fmean
from typing import Any

from bench_matrix import TUNING, Spread
from matrix_cells import COARSE, FINE, NONE, Cell

from fitlog.families.half_blind.names import ASPECTS
from fitlog.simulation import MOST, Habit, Notebook, Undeterred, run
from fitlog.simulation.tuned import SENSIBLE

STEPS = (0.1, 0.15, 0.2, 0.25, 0.3, 0.4)
STOPS = (0.05, 0.1, 0.2, 0.3, 0.4)  # of fence and depth


def tune(seeds: int, spread: Spread) -> None:
    """Choose the rivals' options, one after the other, for the fewest pieces of a first and a later
    set-up, on tuning seeds.
    """
    for base, words in product((FINE, COARSE), (False, True)):
        shop = base.but("tune", again="later", **(NONE if words else {}))
        for kind in (Habit, Notebook):
            best: dict[str, Any] = {
                "fit": 0.25,
                "centre": 0.2,
                "seat": 0.2,
                "by_degree": True,
                "uses_gap": False,
                "together": True,
            }
            options: dict[str, Sequence[Any]] = {
                "fit": STEPS,
                "by_degree": (False, True),
                "uses_gap": (False,) if words else (False, True),
                "together": (False, True),
                "centre": STOPS,
                "seat": STOPS,
            }
            if kind is Notebook:
                best |= {"memory": "mean of bit", "start_bias": 0.14}
                options |= {
                    "memory": ("same bit", "same bit and stock", "mean of bit"),
                    "start_bias": (0.0, 0.14),
                }
            for _ in range(2):
                for option, values in options.items():
                    ordered = sorted(values, key=lambda v, b=best[option]: v != b)  # type: ignore[misc]  # a draw changes nothing
                    best[option] = _fewest(shop, kind, best, option, ordered, seeds, spread)
            print((shop.base, "words" if words else "numbers"), kind.__name__, best, flush=True)


def _fewest(
    shop: Cell,
    kind: type[Habit],
    best: dict[str, Any],
    option: str,
    values: Sequence[Any],
    seeds: int,
    spread: Spread,
) -> Any:
    jobs = [
        (shop, kind, {**SENSIBLE, **best, option: v}, TUNING + s)
        for v in values
        for s in range(seeds)
    ]
    pieces = spread(_season_pieces, jobs)
    means = [fmean(pieces[i * seeds : (i + 1) * seeds]) for i in range(len(values))]
    return values[means.index(min(means))]


def _season_pieces(job: tuple[Cell, type[Habit], dict[str, Any], int]) -> int:
    shop, kind, options, seed = job
    steps = {aspect: options[aspect] for aspect in ASPECTS}
    others = {k: v for k, v in options.items() if k not in ASPECTS}
    told, method = shop.conditions, Undeterred(kind(steps, **others))
    return sum(
        o.pieces for o in run(told.truth(seed), told.person(seed), method, shop.plans(seed), MOST)
    )
