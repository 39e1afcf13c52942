"""The numbers of pieces in set-ups that two logs have: where both went on, those that come in get
numbers of their own.
"""

from __future__ import annotations

from sqlalchemy import select

from ..schema import ENTRY, TRIAL_CUT
from .standing import Ask

_MOST = 10_000  # more pieces of one set-up than that are not told apart


class Pieces:
    """Follows the pieces of the set-ups that were here; those of any other keep their numbers."""

    def __init__(self, ask: Ask) -> None:
        self._ask = ask
        self._both: dict[int, int] = {}  # set-up -> a bit for each of its pieces that both have
        self._new: dict[tuple[int, int], int] = {}  # what numbers became where they are others
        self._have: dict[int, set[int]] = {}  # the pieces that such a set-up has here, once asked

    def here(self, setup: int) -> None:
        """Note that a set-up was here."""
        self._both[setup] = 0

    def was_here(self, setup: int) -> bool:
        """Tell whether a set-up was here."""
        return setup in self._both

    def same(self, setup: int, there: int, here: int) -> None:
        """Note that a piece there is one that is here."""
        if setup not in self._both:
            return
        self._both[setup] |= 1 << min(here, _MOST)
        self._new.pop((setup, there), None)
        if there != here:
            self._new[setup, there] = here

    def number(self, setup: int, piece: int) -> int:
        """Return the number of a new cut's piece: another one where this log has gone on with a
        piece of that number.
        """
        if setup not in self._both:
            return piece
        if (setup, piece) in self._new:
            return self._new[setup, piece]
        if self._both[setup] >> min(piece, _MOST) & 1:
            return piece
        there = self._there_are(setup)
        new = piece if piece not in there else max(there) + 1
        self._new[setup, piece] = new
        there.add(new)
        return new

    def following(self, setup: int, piece: int) -> int:
        """Return the number of the piece after a new slot; a slot has none of its own."""
        return piece if setup not in self._both else max(self._there_are(setup), default=0) + 1

    def _there_are(self, setup: int) -> set[int]:
        """Return the numbers of the pieces that a set-up here has or had."""
        if setup not in self._have:
            wanted = select(TRIAL_CUT.c.piece).join(ENTRY, ENTRY.c.id == TRIAL_CUT.c.entry)
            self._have[setup] = set(
                self._ask(wanted.where(ENTRY.c.setup == setup, TRIAL_CUT.c.slot == 0))
            )
        return self._have[setup]
