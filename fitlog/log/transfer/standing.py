"""Which entries stand and which set-ups have ended, as a log has it and as a merge goes on with it:
what that adds is not in the log yet.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from sqlalchemy import Select, select

from ..entries import LIVE, OUTCOMES
from ..schema import ENTRY, REDO, RETRACTION

Ask = Callable[[Select[Any]], list[Any]]  # gives the first column of what a query finds


class Standing:
    """Follows starts, ends, what is taken back and what is brought back; a number after the `last`
    is that of an entry which is to be added. Memory: some 100 bytes for each of them.
    """

    def __init__(self, ask: Ask, last: int) -> None:
        self._ask, self._last = ask, last
        self._stands: dict[int, bool] = {}
        self._starts: dict[int, int] = {}  # set-up -> its entry, of those that are added
        self._ends: dict[int, set[int]] = {}  # set-up -> its ends that stand, once asked
        self._end_of: dict[int, int | None] = {}  # entry -> the set-up that it ends, None: none
        self._retracted: dict[int, int] = {}  # taking back -> the entry taken back
        self._redone: set[int] = set()

    def start(self, setup: int, entry: int) -> None:
        """Note that a set-up is started."""
        self._starts[setup], self._ends[setup] = entry, set()

    def end(self, setup: int, entry: int) -> None:
        """Note that a set-up is ended."""
        self._end_of[entry] = setup
        self._ends_of(setup).add(entry)

    def retract(self, entry: int, retracted: int) -> None:
        """Note that an entry takes another one back."""
        self._retracted[entry] = retracted
        self._turn(retracted, False)

    def redo(self, redone: int) -> None:
        """Note that what a taking back took away stands again."""
        self._redone.add(redone)
        self._turn(self.retracted_by(redone), True)

    def stands(self, entry: int) -> bool:
        """Tell whether an entry stands."""
        if entry not in self._stands and entry <= self._last:
            self._stands[entry] = bool(
                self._ask(select(ENTRY.c.id).where(ENTRY.c.id == entry, LIVE))
            )
        return self._stands.get(entry, True)

    def is_redone(self, retraction: int) -> bool:
        """Tell whether a taking back holds no longer."""
        there = select(REDO.c.entry).where(REDO.c.redone == retraction)
        return retraction in self._redone or (retraction <= self._last and bool(self._ask(there)))

    def retracted_by(self, retraction: int) -> int:
        """Return the entry that was taken back by another one."""
        if retraction not in self._retracted:
            what = select(RETRACTION.c.retracted).where(RETRACTION.c.entry == retraction)
            (self._retracted[retraction],) = self._ask(what)
        return self._retracted[retraction]

    def is_end(self, entry: int) -> bool:
        """Tell whether an entry is the end of a set-up."""
        return self._ended_by(entry) is not None

    def has_ended(self, setup: int) -> bool:
        """Tell whether an end of a set-up stands."""
        return bool(self._ends_of(setup))

    def still_open(self) -> tuple[int, ...]:
        """Return the set-ups that are added and neither ended nor taken back, in order."""
        starts = sorted(self._starts.items())
        return tuple(n for n, entry in starts if self.stands(entry) and not self._ends[n])

    def _turn(self, entry: int, stands: bool) -> None:
        self._stands[entry] = stands
        if (setup := self._ended_by(entry)) is not None:
            ends = self._ends_of(setup)
            (ends.add if stands else ends.discard)(entry)

    def _ended_by(self, entry: int) -> int | None:
        if entry not in self._end_of and entry <= self._last:
            ended = select(ENTRY.c.setup).where(ENTRY.c.id == entry, ENTRY.c.kind.in_(OUTCOMES))
            self._end_of[entry] = next(iter(self._ask(ended)), None)
        return self._end_of.get(entry)

    def _ends_of(self, setup: int) -> set[int]:
        if setup not in self._ends:
            ends = select(ENTRY.c.id).where(
                ENTRY.c.setup == setup, ENTRY.c.kind.in_(OUTCOMES), LIVE
            )
            self._ends[setup] = set(self._ask(ends))
        return self._ends[setup]
