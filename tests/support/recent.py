"""Which finished set-ups a bounded history keeps, said once more in plain Python: the rule that the
log's queries follow.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import replace

from fitlog import defaults
from fitlog.advice.history import History
from fitlog.domain import Plan, Settings, SetUp
from fitlog.simulation import Advised


def recent(
    finished: Sequence[SetUp],
    plan: Plan,
    people: Collection[str],
    newest: int | None,
    pieces: int | None,
) -> list[SetUp]:
    """Return, oldest first, the newest of each relation to a plan, with the newest
    pieces of each.
    """
    species = {plan.stock.species.casefold(), plan.pin_stock.species.casefold()}

    def boards(other: Plan) -> tuple[str, str, str]:
        return other.bit.name, other.stock.name, other.pin_stock.name

    relations: list[Callable[[SetUp], bool]] = [
        lambda s: s.plan.bit.name == plan.bit.name,
        lambda s: (s.plan.machine and s.plan.machine.name) == (plan.machine and plan.machine.name),
        lambda s: boards(s.plan) == boards(plan),
        lambda s: bool(
            species & {s.plan.stock.species.casefold(), s.plan.pin_stock.species.casefold()}
        ),
        *((lambda s, p=person: any(cut.by == p for cut in s.cuts)) for person in people),  # type: ignore[misc]
    ]
    kept = {
        s.number: s
        for shares in relations
        for s in [s for s in finished if shares(s)][-newest if newest else None :]
    }
    return [_cropped(kept[number], pieces) for number in sorted(kept)]


def _cropped(setup: SetUp, pieces: int | None) -> SetUp:
    last = setup.last_piece()
    if pieces is None or last is None:
        return setup
    return replace(setup, cuts=tuple(cut for cut in setup.cuts if cut.piece > last.number - pieces))


class Newest(Advised):
    """The tool as it remembers in a log: of all finished set-ups the newest of each relation, the
    newest pieces of each.
    """

    def __init__(
        self, newest: int = defaults.HISTORY_NEWEST, pieces: int = defaults.HISTORY_PIECES
    ) -> None:
        super().__init__()
        self.all: list[SetUp] = []
        self.newest, self.pieces = newest, pieces

    def first(self, plan: Plan) -> Settings:
        """Look back anew for every set-up."""
        self.past = History(
            recent(
                self.all,
                plan,
                {c.by for s in self.all[-1:] for c in s.cuts},
                self.newest,
                self.pieces,
            )
        )
        return super().first(plan)

    def finished(self, setup: SetUp) -> None:
        """Keep it."""
        self.all.append(setup)
