"""Use cases that look back: how a set-up converged, how pieces fell over the months. The log is
only read.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from .. import defaults
from ..advice.history import History
from ..advice.months import Months, by_month
from ..advice.progress import BUDGET, Step, steps
from ..domain import SetUp
from .bench import Workbench


@dataclass(frozen=True)
class Converged:
    """How a set-up converged: one step before each piece and one after the last, of a long set-up
    some of them.
    """

    setup: SetUp
    steps: tuple[Step, ...]

    @property
    def status(self) -> str:
        """Where it stands, as `Workbench.status`, which would replay all of it once more."""
        if self.setup.undone:
            return "undone"
        ready = set(self.setup.plan.in_play) <= set(self.steps[-1].settled)
        return self.setup.outcome or ("ready" if ready else "tuning")


@dataclass(frozen=True)
class Over:
    """Pieces over the months. asked: the names it was narrowed to; unfinished, abandoned: set-ups
    of these, not counted.
    """

    months: Months
    asked: dict[str, str]
    unfinished: int
    abandoned: int

    @property
    def uncounted(self) -> dict[str, int]:
        """How many set-ups are not counted, by why."""
        return {
            "open": self.unfinished,
            "abandoned": self.abandoned,
            "without a piece": self.months.pieceless,
        }


def converged(bench: Workbench, setup: SetUp, *, every: bool) -> Converged:
    """Return how a set-up converged, replayed with what had been learnt before it; every: each
    piece, however many.
    """
    return Converged(setup, steps(setup, bench.past(setup), math.inf if every else BUDGET))


def over_months(
    bench: Workbench, bit: str | None = None, stock: str | None = None, machine: str | None = None
) -> Over:
    """Return what finished set-ups took month by month, with a bit, a stock (either board's) or at
    a machine if named.

    Raises Refused (unknown-name) for what is not in the catalogue.
    """
    log, asked = bench.log, {}
    if bit is not None:
        asked["bit"] = log.bit(bit).name
    if stock is not None:
        asked["stock"] = log.stock(stock).name
    if machine is not None:
        asked["machine"] = log.machine(machine).name

    def wanted(setup: SetUp) -> bool:
        plan = setup.plan
        return (
            asked.get("bit", plan.bit.name) == plan.bit.name
            and asked.get("stock", plan.stock.name) in (plan.stock.name, plan.pin_stock.name)
            and (
                "machine" not in asked
                or (plan.machine is not None and plan.machine.name == asked["machine"])
            )
        )

    others: Counter[str | None] = Counter()

    def finished() -> Iterator[SetUp]:
        for setup in log.every():
            if setup.outcome == "finished":
                yield setup
            else:
                others[setup.outcome] += wanted(setup)

    spoken = {
        s.number: s for person in log.people() for s in log.finished_by(person, defaults.BIT_NEWEST)
    }
    found = by_month(finished(), wanted, History([spoken[number] for number in sorted(spoken)]))
    return Over(found, asked, others[None], others["abandoned"])
