"""The matrix: the tool and its rivals in every cell of `matrix_cells`, on the same shops, days and
pieces.

A set-up given up counts as its 30 pieces, and as real boards that are not inside. Which rival is
the better one was chosen by fewer pieces on seeds of its own. Of every cell two things are asked:
no more pieces than that rival, no smaller share inside; all of them together are held under one
bound of 5 % (Sidak), one-sided.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import NormalDist, fmean, stdev
from typing import Any

from matrix_cells import Cell, cells

from fitlog.errors import Refused
from fitlog.families.half_blind.names import HALF_BLIND
from fitlog.simulation import MOST, Advised, Method, Undeterred, run
from fitlog.simulation.tuned import rivals

# seeds from here on choose the rivals and their options, so that nothing is chosen on what it is
# judged by
TUNING = 10_000
BOUND = 0.05
TOOL = "fitlog"
Spread = Callable[[Any, Sequence[Any]], list[Any]]


@dataclass(frozen=True)
class Went:
    """How one set-up went: its pieces, real boards inside, given up, whether each second pass
    snatched at the fence.

    first: that of the first piece, None where it was not turned.
    """

    pieces: int
    inside: bool
    given_up: bool
    snatched: tuple[bool, ...]
    first: bool | None


def went(job: tuple[Cell, Callable[[], Method] | str, int]) -> Went:
    """Work the season of one seed in a cell, and return how its last set-up went."""
    cell, way, seed = job
    make = made(cell, way) if isinstance(way, str) else way
    told = cell.conditions
    last = run(told.truth(seed), told.person(seed), Undeterred(make()), cell.plans(seed), MOST)[-1]
    first = last.snatched[0] if last.turns[0] is not None else None
    return Went(last.pieces, last.within, not last.solved, last.snatched, first)


def made(cell: Cell, name: str) -> Callable[[], Method]:
    """The way of working of that name in a cell."""
    if name == TOOL:
        return Advised
    return rivals(HALF_BLIND.name, cell.base, cell.conditions.words_only)[name]


# --- what a cell shows ----------------------------------------------------------------------------


@dataclass(frozen=True)
class Found:
    """A cell's results by method, in the order of the seeds. rival: the better one."""

    cell: Cell
    rival: str
    by_method: dict[str, list[Went]]

    def pieces(self, name: str) -> list[float]:
        """Pieces of each set-up."""
        return [float(w.pieces) for w in self.by_method[name]]

    def inside(self, name: str) -> list[float]:
        """1 where the real boards came out inside."""
        return [float(w.inside) for w in self.by_method[name]]

    def more(self, what: str) -> list[float]:
        """By seed, how much more of "pieces" or "inside" the tool had than the better rival."""
        ours, theirs = getattr(self, what)(TOOL), getattr(self, what)(self.rival)
        return [a - b for a, b in zip(ours, theirs, strict=True)]


def matrix(seeds: int, chosen: Sequence[Cell], spread: Spread) -> list[Found]:
    """Run the cells: the better rival on tuning seeds, then all three ways on the seeds
    0, 1, ...
    """
    names = ("habit", "notebook")
    trials = spread(went, [(c, n, TUNING + s) for c in chosen for n in names for s in range(seeds)])
    jobs = [(c, n, s) for c in chosen for n in (TOOL, *names) for s in range(seeds)]
    results, found = spread(went, jobs), []
    for i, cell in enumerate(chosen):
        taken = [fmean(w.pieces for w in _part(trials, 2 * i + k, seeds)) for k in range(2)]
        by_method = {
            name: _part(results, 3 * i + k, seeds) for k, name in enumerate((TOOL, *names))
        }
        found.append(Found(cell, names[taken.index(min(taken))], by_method))
    return found


def _part(values: Sequence[Went], n: int, size: int) -> list[Went]:
    return list(values[n * size : (n + 1) * size])


def sidak(tests: int) -> float:
    """How many standard errors one of `tests` one-sided tests may be off, so that all together err
    in 5 % at most.
    """
    return NormalDist().inv_cdf((1 - BOUND) ** (1 / tests))


def verdict(values: Sequence[float], z: float, worse: int) -> str:
    """What a paired difference says. worse: +1 where more is worse, -1 where less is."""
    mean, se = fmean(values) * worse, _se(values)
    if mean - z * se > 0:
        return "WORSE"
    return "better" if mean + z * se < 0 else "no worse" if mean <= 0 else "not shown"


def _se(values: Sequence[float]) -> float:
    return stdev(values) / math.sqrt(len(values)) if len(values) > 1 else math.nan


def mean_se(values: Sequence[float], digits: int = 2) -> str:
    """A mean with its standard error."""
    return f"{fmean(values):.{digits}f} +- {_se(values):.{digits}f}"


def share_se(values: Sequence[float]) -> str:
    """A share with its standard error, per cent."""
    return f"{100 * fmean(values):.1f} +- {100 * _se(values):.1f}"


def percentile(values: Sequence[float], share: float = 0.99) -> float:
    """The smallest value that at least this share lie at or below."""
    return sorted(values)[math.ceil(share * len(values)) - 1]


# --- the table ------------------------------------------------------------------------------------

HEAD = (
    "cell",
    "fitlog",
    "habit",
    "notebook",
    "inside %: fitlog",
    "habit",
    "notebook",
    "rival",
    "pieces more than rival",
    "",
    "points inside more",
    "",
)


def row(found: Found, z: float) -> str:
    """One cell's row of the table."""
    names = list(found.by_method)
    pieces, inside = found.more("pieces"), [100 * x for x in found.more("inside")]
    parts = [
        found.cell.name,
        *(_pieces(found, n) for n in names),
        *(share_se(found.inside(n)) for n in names),
        found.rival,
    ]
    parts += [mean_se(pieces), verdict(pieces, z, 1), mean_se(inside, 1), verdict(inside, z, -1)]
    return f"| {' | '.join(parts)} |"


def _pieces(found: Found, name: str) -> str:
    values = found.pieces(name)
    up = sum(w.given_up for w in found.by_method[name])
    return f"{mean_se(values)} (99 %: {percentile(values):.0f}{f', given up {up}' * bool(up)})"


def report(found: Sequence[Found]) -> None:
    """Print the table, then what all cells say together."""
    z = sidak(2 * len(cells()))
    print(f"| {' | '.join(HEAD)} |\n|{' --- |' * len(HEAD)}")
    for each in found:
        print(row(each, z), flush=True)
    print(
        f"\nOne bound over {len(cells())} cells, pieces and shares: {z:.2f} standard errors, "
        "one-sided."
    )
    for what, worse, digits in (("pieces", 1, 3), ("inside", -1, 4)):
        differences = [f.more(what) for f in found]
        by_seed = [fmean(column) for column in zip(*differences, strict=True)]
        bad = [f.cell.name for f in found if verdict(f.more(what), z, worse) == "WORSE"]
        more = [f.cell.name for f in found if fmean(f.more(what)) * worse > 0]
        print(
            f"{what}: overall {mean_se(by_seed, digits)} more than the better rival; worse in "
            f"{len(bad)} cells: {bad}; "
            f"not shown to be worse, but on the wrong side, in {len(set(more) - set(bad))}."
        )
    ups = {f.cell.name: sum(w.given_up for w in f.by_method[TOOL]) for f in found}
    print(f"given up by fitlog: { ({n: k for n, k in ups.items() if k}) }")
    print(f"99th percentile above its limit: {[f.cell.name for f in found if not _in_time(f)]}")
    for name in found[0].by_method:
        every = [snatched for f in found for w in f.by_method[name] for snatched in w.snatched]
        first = [
            w.first
            for f in found
            if not f.cell.again
            for w in f.by_method[name]
            if w.first is not None
        ]
        print(
            f"second passes by {name} that shave the fence side by more than 0.1 mm: "
            f"{_share(every)}; "
            f"of the first ones of cold set-ups {_share(first)}"
        )


def _share(values: Sequence[bool]) -> str:
    return f"{100 * fmean(values):.1f} % of {len(values)}" if values else "none made"


def _in_time(found: Found) -> bool:
    """With readings at most 6 pieces in 99 of 100, 8 with 3 % slips, 10 with 10 %; with words the
    better rival's.
    """
    told = found.cell.conditions
    if told.words_only:
        limit = percentile(found.pieces(found.rival))
    else:
        limit = 6 if told.slips == 0 else 8 if told.slips <= 0.03 else 10
    return percentile(found.pieces(TOOL)) <= limit


def named(names: str | None) -> list[Cell]:
    """Return the cells of a list of names with ; between; a name with a * at its end is all that
    begin so.
    """
    every = cells()
    if not names:
        return list(every)
    out: list[Cell] = []
    for name in (n.strip() for n in names.split(";")):
        fits = [
            c
            for c in every
            if c.name == name or (name.endswith("*") and c.name.startswith(name[:-1]))
        ]
        if not fits:
            raise Refused(
                "no-cell",
                f"no cell is called {name!r}",
                f"name some of: {'; '.join(c.name for c in every)}",
            )
        out += [c for c in fits if c not in out]
    return out


def trace(cell: Cell, seed: int) -> None:
    """Print what each way of working set, heard and missed by in one season: for whoever asks why a
    cell is bad.
    """
    told, truth = cell.conditions, cell.conditions.truth(seed)
    for name in (TOOL, "habit", "notebook"):
        method = Undeterred(made(cell, name)())
        for outcome in run(truth, told.person(seed), method, cell.plans(seed), MOST):
            setup, plan = outcome.setup, outcome.setup.plan
            print(
                f"\n{cell.name}, seed {seed}, {name}, set-up {setup.number}: {plan.bit.angle:g} "
                f"deg, {outcome.pieces} pieces"
                f"{', given up' * (not outcome.solved)}, "
                f"{'inside' if outcome.within else 'not inside'}"
            )
            for cut in setup.cuts:
                true = truth.misfits(plan, setup.number, cut.piece, cut.settings)
                at = "  ".join(f"{cut.settings.of(a):8.3f}" for a in plan.in_play)
                off = "  ".join(f"{true[a]:+.3f}" for a in plan.in_play)
                walls = "".join(
                    f", walls {r.value:.2f} {r.other:.2f}"
                    for r in cut.readings
                    if r.other is not None
                )
                print(f"  {cut.piece:2d}  set {at}  truly {off}  {cut.verdict}{walls}")
