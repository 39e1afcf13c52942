"""An invented set-up replayed through the use cases, as its script has it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from ..domain import TrialCut
from ..families.wanted import Wanted
from .asked import Answer
from .bench import Workbench
from .catalogue import Shelf, T
from .reader.cuts import CutTyped, reported
from .session import Session

_NO_LENGTH = ("name", "species")


@dataclass(frozen=True)
class Run:
    """One set-up of a script: what is said of each piece, and whether it is finished."""

    cuts: Sequence[str]
    finish: bool


@dataclass(frozen=True)
class Step:
    """What was typed, what it logged and what was answered."""

    typed: str
    answer: Answer
    logged: TrialCut | None = None


def shop(
    session: Session,
    bit: Mapping[str, Any],
    stock: Mapping[str, Any],
    machine: Mapping[str, Any],
) -> Wanted:
    """Put a script's bit, stock and machine into the catalogue; return what its `start` means.
    Sizes are as a user would type them.
    """

    def made(values: Mapping[str, Any]) -> dict[str, Any]:
        return {
            name: value if name in _NO_LENGTH else read(value) for name, value in values.items()
        }

    def read(value: Any) -> Any:
        if isinstance(value, Mapping):
            return made(value)
        return session.reader.length(value, "a size").mm if isinstance(value, str) else value

    def added(shelf: Shelf[T], values: Mapping[str, Any]) -> T:
        item = shelf.make(**made(values))
        shelf.put(item)
        return item

    wood = added(session.stocks, stock)
    return Wanted(added(session.bits, bit), wood, wood, added(session.machines, machine))


def replayed(session: Session, wanted: Wanted, runs: Sequence[Run]) -> Iterator[Step]:
    """Yield every step of a script, each as it is logged."""
    session.own_machine = None  # the script's shop has one machine
    bench = session.bench(wanted.machine)
    for run in runs:
        yield Step("start", bench.start(wanted))
        for words in run.cuts:
            yield _cut(session, bench, words)
        if run.finish:
            yield Step("finish", bench.finish(bench.current()))


def _cut(session: Session, bench: Workbench, words: str) -> Step:
    setup = bench.current()
    told, _ = reported(session.reader, setup, CutTyped((words,)))
    logged = bench.record(setup, told)
    return Step(f"cut {words}", bench.answer(setup.number), logged)
