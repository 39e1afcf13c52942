"""The tool against general libraries on the same simulated joints: `python
tests/benchmarks/bench_peers.py [--seeds N]`.

Fit only, nothing known from before; the same hidden truth, person, rounding and stopping rule for
everybody, and at most 30 pieces. The peers are development dependencies (`pip install -e
'.[peers]'`); a missing one is left out.

- Maximum information: `adopy` places the next piece where its verdict is worth most about the
  offset. It is given the tool's own prior and the exact chances of everything the simulated person
  can say, without slips (there are none). It takes no continuous responses: a gap that was read is
  handed over in bins as wide as the feeler is good. Two fairer variants use its posterior and
  choose the height with the best chance of `good`, after one piece or from the start; that rule is
  the tool's own.
- Bayesian optimiser: `bayesian-optimization` maximises -|clearance - middle of good| within 3 sd of
  the prior, from the tool's own first guess, no random start, equal points allowed (the machine's
  steps make them). The clearance is the middle of the word's band, or the one read. It is not told
  that the clearance falls in a straight line.

Heights lie on the machine's 0.01 mm. Nothing is asserted: the table is there to be read. Times are
medians of the advices that proposed a piece, in one process and in turn, so that a machine that
slows down slows everybody.
"""

from __future__ import annotations

import argparse
import io
import math
import os
import statistics
import sys
import time
import warnings
from collections.abc import Callable, Sequence
from contextlib import redirect_stdout
from dataclasses import dataclass, field
from importlib.util import find_spec

from peers import Information, Optimiser

from fitlog.domain import Plan, Settings, SetUp
from fitlog.simulation import Advised, Method, Person, Truth, run, year

BITS = ("wren", "robin")  # invented, 8 and 14 degrees
MODES = {"words only": True, "with a feeler": False}
SEEDS = 400
LIBRARIES = {"adopy": "adopy", "bayes_opt": "bayesian-optimization"}


@dataclass(frozen=True)
class Entry:
    """A way of working. module: the library it needs; share: of the seeds it is run on, words only
    and with a feeler.
    """

    name: str
    make: Callable[[int], Method]
    module: str = "fitlog"
    share: tuple[float, float] = (1.0, 1.0)


OURS = "this tool"
ENTRIES = (
    Entry(OURS, lambda _: Advised(remembers=False)),
    Entry("maximum information", lambda _: Information(), "adopy", (0.3, 0.2)),
    Entry(
        "one piece for information, then best chance", lambda _: Information(1), "adopy", (0.3, 0.2)
    ),
    Entry(
        "best chance from the start, on its posterior",
        lambda _: Information(0),
        "adopy",
        (0.3, 0.2),
    ),
    Entry("Bayesian optimiser as it comes", Optimiser, "bayes_opt", (0.06, 0.06)),
    Entry(
        "Bayesian optimiser told of the noise",
        lambda seed: Optimiser(seed, noisy=True),
        "bayes_opt",
        (0.06, 0.06),
    ),
)


@dataclass
class Timed:
    """A method with a watch on it: seconds of each advice that proposed a piece."""

    method: Method
    opened: list[float] = field(default_factory=list)
    later: list[float] = field(default_factory=list)

    def first(self, plan: Plan) -> Settings:
        begun = time.perf_counter()
        settings = self.method.first(plan)
        self.opened.append(time.perf_counter() - begun)
        return settings

    def after(self, setup: SetUp) -> tuple[Settings, bool]:
        begun = time.perf_counter()
        settings, ready = self.method.after(setup)
        if not ready:
            self.later.append(time.perf_counter() - begun)
        return settings, ready

    def finished(self, setup: SetUp) -> None:
        self.method.finished(setup)


@dataclass
class Tally:
    """Pieces by (seed, bit), and the times of all advices, s."""

    pieces: dict[tuple[int, str], int] = field(default_factory=dict)
    opened: list[float] = field(default_factory=list)
    later: list[float] = field(default_factory=list)


def joint_for(seed: int, bit: str, words_only: bool) -> Plan:
    """The first joint that a year makes with this bit."""
    plans = (
        p for setups in (10, 100) for p in year(seed, setups, words_only=words_only)
    )  # rarely more than ten
    return next(p for p in plans if p.bit.name == bit)


def tune(entry: Entry, seed: int, plan: Plan, tally: Tally) -> None:
    """Set one joint up and note how it went."""
    timed = Timed(entry.make(seed))
    with (
        warnings.catch_warnings(),
        redirect_stdout(io.StringIO()),
    ):  # the libraries have much to say
        warnings.simplefilter("ignore")
        (outcome,) = run(Truth(seed), Person(seed, words_only=plan.words_only), timed, [plan])
    tally.pieces[seed, plan.bit.name] = outcome.pieces
    tally.opened += timed.opened
    tally.later += timed.later


def race(entries: Sequence[Entry], seeds: int) -> dict[tuple[str, str], Tally]:
    """Run every entry on its share of the seeds, one seed after the other, and return the tallies
    by mode and name.
    """
    tallies = {(mode, entry.name): Tally() for mode in MODES for entry in entries}
    for seed in range(seeds):
        for index, (mode, words_only) in enumerate(MODES.items()):
            for plan in (joint_for(seed, bit, words_only) for bit in BITS):
                for entry in entries:
                    if seed < math.ceil(seeds * entry.share[index]):
                        tune(entry, seed, plan, tallies[mode, entry.name])
    return tallies


def mean_and_error(by_seed: dict[int, list[int]]) -> str:
    """The mean and its standard error; the joints of one seed share causes and count as one."""
    means = [statistics.mean(v) for v in by_seed.values()]
    error = statistics.stdev(means) / math.sqrt(len(means)) if len(means) > 1 else math.inf
    return f"{statistics.mean(means):.2f} ± {error:.2f}"


def line(mode: str, name: str, tally: Tally, ours: Tally) -> str:
    """One row of the table; pairs are joints of the same seed."""
    by_seed: dict[int, list[int]] = {}
    more: dict[int, list[int]] = {}
    for (seed, bit), pieces in tally.pieces.items():
        by_seed.setdefault(seed, []).append(pieces)
        more.setdefault(seed, []).append(pieces - ours.pieces[seed, bit])
    bits = [statistics.mean(p for (_, b), p in tally.pieces.items() if b == bit) for bit in BITS]
    over = statistics.mean(p > 3 for p in tally.pieces.values())
    times, base = [[middle(t.opened), middle(t.later)] for t in (tally, ours)]
    cells = [
        mode,
        name,
        str(len(by_seed)),
        mean_and_error(by_seed),
        *(f"{m:.2f}" for m in bits),
        "-" if tally is ours else mean_and_error(more),
        f"{100 * over:.0f} %",
        *(f"{t:.1f}" for t in times),
        *(f"{t / b:.1f}" for t, b in zip(times, base, strict=True)),
    ]
    return f"| {' | '.join(cells)} |"


def middle(seconds: Sequence[float]) -> float:
    """The median in milliseconds."""
    return 1000 * statistics.median(seconds) if seconds else math.nan


def installed(entries: Sequence[Entry]) -> list[Entry]:
    """Leave out, with a line, what cannot run here."""
    for module, name in LIBRARIES.items():
        if find_spec(module) is None:
            print(f"{name} is not installed and left out: pip install -e '.[peers]'")
    return [e for e in entries if find_spec(e.module) is not None]


HEAD = (
    "with",
    "method",
    "seeds",
    "pieces",
    "8 deg",
    "14 deg",
    "more than this tool, same seeds",
    "over 3",
    "first advice, ms",
    "later, ms",
    "first, times ours",
    "later, times ours",
)


def main(words: Sequence[str] | None = None) -> None:
    """Run the bench and print its table."""
    parser = argparse.ArgumentParser(
        description="The tool against general libraries on the same simulated joints."
    )
    parser.add_argument(
        "--seeds",
        type=int,
        default=SEEDS,
        help="seeds of the fast methods; slow ones run on a share",
    )
    seeds = max(2, parser.parse_args(words).seeds)
    entries = installed(ENTRIES)
    tallies = race(entries, seeds)
    print(f"| {' | '.join(HEAD)} |\n|{' --- |' * len(HEAD)}")
    for (mode, name), tally in tallies.items():
        print(line(mode, name, tally, tallies[mode, OURS]))


if __name__ == "__main__":
    if (
        "OPENBLAS_NUM_THREADS" not in os.environ
    ):  # read when numpy is loaded: start again with one thread for everybody
        os.execve(
            sys.executable, [sys.executable, *sys.argv], {**os.environ, "OPENBLAS_NUM_THREADS": "1"}
        )
    main()
