"""Housings and rabbets by the tool, by the habit of the trade and by a notebook: cuts, places cut
and minutes until a joint is good, and how often the real ones then are.

    python tests/benchmarks/bench_sheets.py --seeds 60

A fresh cut costs 10 minutes, another one in the same place 3 (common practice, no source). The
habit begins with what is measured at the sheet (the spacer is the sheet less the bit, with the play
that is wanted) and goes on by what was said, with its number where there is one, on all that is
off at once. The notebook begins where the last set-up with the same bit was good. Paired seeds; the
shop's truth is drawn from the stated priors. Everything is invented.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from statistics import fmean

import beside  # noqa: F401

from fitlog import defaults
from fitlog.domain import Machine
from fitlog.domain.machines import Part
from fitlog.families.names import family_of
from fitlog.simulation import Advised, Habit, Method, Notebook, Person, Truth, one_joint, run

FRESH, AGAIN = 10.0, 3.0  # minutes
FREE = Machine("dial")
MARKS = {"pass": 0.05, "exposure": 0.1, "height": 0.1}  # mm
COARSE = Machine("marks", {p: Part(step=s) for p, s in MARKS.items()})
WAYS: dict[str, Callable[[], Method]] = {
    "fitlog": Advised,
    "habit": lambda: Habit(uses_numbers=True, uses_gap=True, by_degree=True, together=True),
    "notebook": lambda: Notebook(uses_numbers=True, uses_gap=True, by_degree=True, together=True),
}


def measured(joint: str, seeds: int, setups: int, machine: Machine, *, words: bool) -> None:
    """Print one cell: first set-ups and later ones with the same bit, sheets and machine."""
    aspects = family_of(joint).aspects
    for name, make in WAYS.items():
        rows: list[list[tuple[float, ...]]] = [[], []]
        for seed in range(seeds):
            plans = [
                one_joint(seed, machine, aspects, words, nth=n + 1, joint=joint)
                for n in range(setups)
            ]
            person = Person(seed, words_only=words, rule=None if words else defaults.CALIPER)
            for number, out in enumerate(run(Truth(seed), person, make(), plans)):
                cuts = len(out.setup.cuts)
                ends = len({piece.own_end for piece in out.setup.pieces()})
                minutes = FRESH * ends + AGAIN * (cuts - ends)
                rows[number > 0].append((cuts, ends, minutes, out.within))
        for when, found in zip(("first", "later"), rows, strict=True):
            cuts, ends, minutes, within = (fmean(x) for x in zip(*found, strict=True))
            print(
                f"  {name:9} {when}: {cuts:5.2f} cuts {ends:5.2f} places {minutes:5.1f} min, "
                f"real joints inside {within:4.0%}",
                flush=True,
            )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", type=int, default=60)
    parser.add_argument("--setups", type=int, default=3)
    parser.add_argument("--only", default="")
    given = parser.parse_args()
    for joint in ("housing", "rabbet"):
        for where, machine in (("dial", FREE), ("coarse marks", COARSE)):
            for how, words in (("with readings", False), ("words alone", True)):
                cell = f"{joint}, {where}, {how}"
                if given.only in cell:
                    print(f"{cell}: {given.seeds} shops of {given.setups} set-ups", flush=True)
                    measured(joint, given.seeds, given.setups, machine, words=words)


if __name__ == "__main__":
    main()
