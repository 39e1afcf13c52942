"""How many test pieces the tool needs, in the simulated shop: `python
tests/benchmarks/bench_pieces.py [--only PART] [--seasons N]`.

Every number comes with its standard error; ways of working are compared on the same seeds, by
paired differences. Nothing is asserted: the tables go into MEASURED.md. Parts: year, whole,
chances, slips, newest, matrix and families (with `--cells 'NAME;NAME*'` only some of these two,
with `--joint NAME` the families of that one), tune (only when named: what chose the rivals'
options).
"""

from __future__ import annotations

import argparse
import math
import os
import statistics
import sys
from collections.abc import Callable, Sequence
from functools import partial
from itertools import product
from multiprocessing import Pool
from typing import Any

import beside  # noqa: F401

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import bench_chances
import bench_families
import bench_matrix
import bench_rivals
from recent import Newest

from fitlog import defaults
from fitlog.advice.history import History
from fitlog.domain import Aspect
from fitlog.families.half_blind.names import ASPECTS
from fitlog.families.names import FAMILIES
from fitlog.simulation import Advised, Habit, Method, Notebook, Person, Truth, run, year

COMPONENTS = ("diameter", "angle", "pitch", "height zero", "species", "stock", "fit day")
# seeds from here on choose the rivals' steps, so that they are not chosen on what they are judged
# by
TUNING = 10_000
STEPS = (0.05, 0.1, 0.15, 0.2, 0.3, 0.4)
MEMORIES = ("same bit", "same bit and stock", "mean of bit")
LATE = slice(30, None)  # the last 30 set-ups of a year


def spread(f: Any, jobs: Sequence[Any]) -> list[Any]:
    """Run the jobs on all cores, in order."""
    with Pool() as pool:
        return pool.map(f, jobs, chunksize=max(1, len(jobs) // 40))


def mean_se(values: Sequence[float]) -> str:
    """A mean with its standard error."""
    return (
        f"{statistics.mean(values):.3f} +- {statistics.stdev(values) / math.sqrt(len(values)):.3f}"
    )


def ratio_se(ours: Sequence[float], theirs: Sequence[float]) -> str:
    """Ratio of two paired means, with its standard error (delta method)."""
    ratio = statistics.mean(ours) / statistics.mean(theirs)
    off = [a - ratio * b for a, b in zip(ours, theirs, strict=True)]
    return (
        f"{ratio:.3f} +- "
        f"{statistics.stdev(off) / math.sqrt(len(off)) / statistics.mean(theirs):.3f}"
    )


# --- a year in the shop ---------------------------------------------------------------------------


def a_year(job: tuple[int, bool, float, Method]) -> tuple[float, float]:
    """Mean pieces of a year's last 30 set-ups, and the share of them that were right at the first
    piece.
    """
    seed, words_only, times, method = job
    truth = Truth(seed, dict.fromkeys(COMPONENTS, times))
    found = run(
        truth, Person(seed, words_only=words_only), method, year(seed, words_only=words_only)
    )[LATE]
    return statistics.mean(o.pieces for o in found), statistics.mean(o.first_good for o in found)


Rival = tuple[str, Callable[[], Method]]


def best_of(methods: Sequence[Rival], words_only: bool, seeds: int) -> Rival:
    """The rival that needs the fewest pieces on seeds of its own."""
    jobs = [(TUNING + s, words_only, 1.0, make()) for _, make in methods for s in range(seeds)]
    found = [pieces for pieces, _ in spread(a_year, jobs)]
    means = [statistics.mean(found[i * seeds : (i + 1) * seeds]) for i in range(len(methods))]
    return methods[means.index(min(means))]


def years(seeds: int) -> None:
    """The tool against one that knows the true variances, and against habit and notebook."""
    print(
        "| a year, last 30 set-ups | true sds | pieces | of the clairvoyant's | right at once, of "
        "the clairvoyant's |"
    )
    print("| --- | --- | --- | --- | --- |")
    ours: dict[bool, list[float]] = {}
    for words_only, times in product((True, False), (1.0, 0.5, 2.0)):
        known = dict.fromkeys(COMPONENTS, times)
        jobs = [(s, words_only, times, Advised()) for s in range(seeds)]
        jobs += [(s, words_only, times, Advised(History(components=known))) for s in range(seeds)]
        found = spread(a_year, jobs)
        mine, sighted = found[:seeds], found[seeds:]
        (pieces, first), (other, other_first) = zip(*mine, strict=True), zip(*sighted, strict=True)
        if times == 1.0:
            ours[words_only] = list(pieces)
        mode = "words only" if words_only else "with a feeler"
        compared = f"{ratio_se(pieces, other)} | {ratio_se(first, other_first)}"
        print(f"| {mode} | x {times:g} | {mean_se(pieces)} | {compared} |", flush=True)
    print(
        "\n| a year, last 30 set-ups | rival | its pieces | ours, of the rival's |\n| --- | --- | "
        "--- | --- |"
    )
    for words_only, (name, rivals) in product(
        (True, False), (("habit", habits()), ("notebook", notebooks()))
    ):
        label, make = best_of(rivals, words_only, max(20, seeds // 8))
        found = [p for p, _ in spread(a_year, [(s, words_only, 1.0, make()) for s in range(seeds)])]
        mode = "words only" if words_only else "with a feeler"
        print(
            f"| {mode} | {name}: {label} | {mean_se(found)} | "
            f"{ratio_se(ours[words_only], found)} |",
            flush=True,
        )


def habits() -> list[Rival]:
    """The habit with every step, with and without degrees."""
    return [
        (
            f"step {step:g} mm{', by degree' * degree}",
            lambda s=step, d=degree: Habit({"fit": s}, by_degree=d),
        )  # type: ignore[misc]
        for step, degree in product(STEPS, (False, True))
    ]


def notebooks() -> list[Rival]:
    """The notebook with every step and memory; its first start knows that bits run small."""
    return [
        (
            f"{memory}, step {step:g} mm{', by degree' * degree}",
            lambda s=step, d=degree, m=memory: Notebook(
                {"fit": s}, by_degree=d, memory=m, start_bias=0.14
            ),
        )  # type: ignore[misc]
        for step, degree, memory in product(STEPS, (False, True), MEMORIES)
    ]


# --- a whole set-up from cold ---------------------------------------------------------------------


def a_setup(job: tuple[int, Person, Method, int, tuple[Aspect, ...]]) -> int:
    """Pieces of a set-up of these aspects: cold, or the same joint for the `times`-th time, on
    another day.
    """
    seed, person, method, times, in_play = job
    return run(Truth(seed), person, method, year(seed, 1, in_play=in_play) * times)[-1].pieces


FIT = ASPECTS[
    :1
]  # what a set-up takes at least whose centre and seat are known by the time that the fit is good
READERS = (  # read to, how unsure besides, for the how-manieth time, slots first, in play
    ("readings to 0.05 mm", 0.05, 0.0, 1, 0, ASPECTS),
    ("readings to 0.1 mm", 0.1, 0.0, 1, 0, ASPECTS),
    ("readings to 0.1 mm that are 0.1 mm unsure", 0.1, 0.1, 1, 0, ASPECTS),
    ("readings to 0.05 mm, the fit alone", 0.05, 0.0, 1, 0, FIT),
    ("readings to 0.05 mm, one slot in waste first", 0.05, 0.0, 1, 1, ASPECTS),
    ("readings to 0.05 mm, two slots in waste first", 0.05, 0.0, 1, 2, ASPECTS),
    ("readings to 0.05 mm, the fit alone, one slot in waste first", 0.05, 0.0, 1, 1, FIT),
    ("readings to 0.05 mm, a repeat", 0.05, 0.0, 2, 0, ASPECTS),
    ("readings to 0.05 mm, a repeat of the fit alone", 0.05, 0.0, 2, 0, FIT),
)


def whole(seeds: int) -> None:
    """Fit, centre and seat together, against one after another."""
    print(
        "| a whole set-up, from cold but where a repeat | pieces | above 3 |\n| --- | --- | --- |"
    )
    for name, step, sd, times, slots, in_play in READERS:
        found = spread(
            a_setup,
            [(s, reader(s, step, sd), Advised(slots=slots), times, in_play) for s in range(seeds)],
        )
        print(
            f"| {name} | {mean_se(found)} | {statistics.mean(n > 3 for n in found):.1%} |",
            flush=True,
        )
    for label, numbers in (
        ("words alone", False),
        ("fence and depth corrected by their numbers", True),
    ):
        rows = []
        for step in STEPS:
            jobs = [
                (s, reader(s, 0.05, 0.0), Habit({"fit": step}, uses_numbers=numbers), 1, ASPECTS)
                for s in range(seeds)
            ]
            rows.append((spread(a_setup, jobs), step))
        found, step = min(rows, key=lambda row: statistics.mean(row[0]))
        over = f"{statistics.mean(n > 3 for n in found):.1%}"
        print(
            f"| by habit, one after another, {label}, best step {step:g} mm | {mean_se(found)} | "
            f"{over} |",
            flush=True,
        )


def reader(seed: int, step: float, sd: float) -> Person:
    """A person who reads gaps and steps to `step`; sd: how unsure the readings are besides, 0 for
    the usual.
    """
    return Person(
        seed,
        gap_step=step,
        rule_step=step,
        gap_sd=sd or defaults.FEELER,
        rule=sd or defaults.CALIPER,
    )


# --- slips ----------------------------------------------------------------------------------------


def slips(seeds: int) -> None:
    """What wrong verdicts cost."""
    print(
        "| cold set-ups | slips | pieces | of those without | more than 10 pieces |\n| --- | --- | "
        "--- | --- | --- |"
    )
    for in_play, words_only in product((ASPECTS[:1], ASPECTS), (True, False)):
        base: list[int] = []
        for rate in (0.0, 0.03):
            found = spread(a_slip, [(s, in_play, words_only, rate) for s in range(seeds)])
            base = base or found
            mode = f"{', '.join(in_play)}, {'words only' if words_only else 'with a feeler'}"
            over = sum(n > 10 for n in found)
            print(
                f"| {mode} | {rate:.0%} | {mean_se(found)} | {ratio_se(found, base)} | {over} of "
                f"{seeds} |",
                flush=True,
            )


def a_slip(job: tuple[int, tuple[Aspect, ...], bool, float]) -> int:
    """Pieces of one cold set-up in which every verdict of an aspect is wrong at this rate."""
    seed, in_play, words_only, rate = job
    plans = year(seed, 1, in_play=in_play, words_only=words_only)
    return run(Truth(seed), Person(seed, words_only=words_only, slip=rate), Advised(), plans)[
        0
    ].pieces


# --- the newest set-ups only ----------------------------------------------------------------------


def a_long_year(job: tuple[int, bool, Method]) -> tuple[float, float]:
    """What `a_year` returns, of the last half of 240 set-ups."""
    seed, words_only, method = job
    found = run(
        Truth(seed),
        Person(seed, words_only=words_only),
        method,
        year(seed, 240, words_only=words_only),
    )[120:]
    return statistics.mean(o.pieces for o in found), statistics.mean(o.first_good for o in found)


def newest_only(seeds: int) -> None:
    """What is lost where only the newest set-ups of each bit, machine, wood and person are
    remembered.
    """
    print(
        "| 240 set-ups, last 120 | remembered | pieces | of those with all | right at once, of "
        "those with all |"
    )
    print("| --- | --- | --- | --- | --- |")
    for words_only in (True, False):
        mode = "words only" if words_only else "with a feeler"
        ways: list[tuple[str, Callable[[], Method]]] = [("all", Advised)]
        ways += [(f"newest {n}", partial(Newest, n)) for n in (8, defaults.HISTORY_NEWEST)]
        base: tuple[Sequence[float], Sequence[float]] | None = None
        for label, make in ways:
            pieces, first = zip(
                *spread(a_long_year, [(s, words_only, make()) for s in range(seeds)]), strict=True
            )
            base = base or (pieces, first)
            compared = f"{ratio_se(pieces, base[0])} | {ratio_se(first, base[1])}"
            print(f"| {mode} | {label} | {mean_se(pieces)} | {compared} |", flush=True)


# --- parts that live beside this file -------------------------------------------------------------


def matrix(seeds: int, names: str | None = None, seed: int | None = None) -> None:
    """The tool and its rivals in every cell; or, of one seed, what each of them did."""
    if seed is not None:
        for cell in bench_matrix.named(names):
            bench_matrix.trace(cell, seed)
        return
    bench_matrix.report(bench_matrix.matrix(seeds, bench_matrix.named(names), spread))


def families(seeds: int, names: str | None = None, joint: str | None = None) -> None:
    """Every joint against its habit, a notebook and who knows the truth."""
    bench_families.families(seeds, spread, names, joint)


def honest(seeds: int) -> None:
    """What the tool says of chances, against what comes."""
    bench_chances.report(seeds, spread)


def tune(seeds: int) -> None:
    """What chose the rivals' options in `rehearsal.tuned`."""
    bench_rivals.tune(seeds, spread)


ASKED_FOR = ("tune",)  # parts that run only when they are named
PARTS: dict[str, tuple[Callable[..., None], int]] = {
    "year": (years, 400),
    "whole": (whole, 4000),
    "chances": (honest, 20_000),
    "slips": (slips, 10_000),
    "newest": (newest_only, 100),
    "matrix": (matrix, 400),
    "families": (families, 60),
    "tune": (tune, 300),
}


if __name__ == "__main__":
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--only", choices=PARTS)
    asked.add_argument("--seasons", "--seeds", type=int, help="shops of each cell")
    asked.add_argument("--joint", choices=FAMILIES, help="of the families: this one alone")
    asked.add_argument(
        "--cells",
        help="of the matrix: names with ; between, a * at the end of one for all that begin so",
    )
    asked.add_argument(
        "--trace",
        type=int,
        metavar="SEED",
        help="of the matrix: print this seed's pieces one by one instead",
    )
    told = asked.parse_args()
    for part, (show, usual) in PARTS.items():
        if told.only == part or (told.only is None and part not in ASKED_FOR):
            count = told.seasons or usual
            print(f"\n{part}: {count} seeds\n", flush=True)
            more = {"matrix": (told.cells, told.trace), "families": (told.cells, told.joint)}
            show(count, *more.get(part, ()))
    sys.exit(0)
