"""Past and present set-ups, newest first, found by what is known of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import NamedTuple

from ..document import fixed
from ..domain import SetUp
from ..log import Log
from .bench import Workbench

AT_ONCE = 51  # set-ups read at a time: one screen of them, and whether there are more
# Boards are called by a size that they have about, and a pitch may be typed as the nearest 1/64 in
# that it is shown as, mm.
WIDTH_WITHIN, PITCH_WITHIN = 0.5, 0.2


@dataclass(frozen=True, slots=True)
class Sought:
    """What set-ups are sought by; None and () for anything.

    stock: of either board. words: each is in the title, a note, a name (of bit, stock, species,
    machine or person). width: of the boards, pitch: mm. year: that it was started in, by the clock
    of this place.
    """

    bit: str | None = None
    stock: str | None = None
    words: Sequence[str] = ()
    width: float | None = None
    pitch: float | None = None
    year: int | None = None

    def fits(self, setup: SetUp) -> bool:
        """Tell whether a set-up is one of them, its bit and its stock left out."""
        plan = setup.plan
        pitch = fixed(plan).get("pitch")
        return (
            (self.year is None or _local(setup).year == self.year)
            and (self.width is None or abs(plan.board_width - self.width) <= WIDTH_WITHIN)
            and (
                self.pitch is None
                or (isinstance(pitch, float) and abs(pitch - self.pitch) <= PITCH_WITHIN)
            )
            and self._worded(setup)
        )

    def _worded(self, setup: SetUp) -> bool:
        if not self.words:
            return True
        plan = setup.plan
        boards = (plan.stock, plan.pin_stock)
        names = [plan.joint, plan.bit.name, *(s.name for s in boards), *(s.species for s in boards)]
        names += [plan.machine.name] if plan.machine else []
        notes = [*(note.text for note in setup.notes), *(cut.note for cut in setup.cuts)]
        told = " \n ".join([*names, setup.by, *notes]).casefold()
        return all(word.casefold() in told for word in self.words)


class Reviewed(NamedTuple):
    """Set-ups with their status, newest first. more: older ones were left out; current: the number
    of the one that is worked on here; None for none.
    """

    rows: Sequence[tuple[SetUp, str]]
    more: bool
    current: int | None


class There(NamedTuple):
    """What set-ups could be found by: how many, their titles, widths and pitches (mm) and
    years, each once.
    """

    setups: int
    titles: Sequence[str]
    widths: Sequence[float]
    pitches: Sequence[float]
    years: Sequence[int]


def review(bench: Workbench, sought: Sought, last: int | None = None) -> Reviewed:
    """Return set-ups that are sought; last: so many of the newest, None for all. Raises Refused:
    unknown-name for a bit or a stock.
    """
    rows: list[tuple[SetUp, str]] = []
    now = bench.log.current(bench.home.name if bench.home else None)
    current = None if now is None else now.number
    for setup in _newest(bench.log, sought):
        if len(rows) == last:
            return Reviewed(rows, True, current)
        rows.append((setup, bench.status(setup)))
    return Reviewed(rows, False, current)


def what_there_is(log: Log) -> There:
    """Return what the set-ups of a log could be found by."""
    setups = list(log.every())
    pitches = {p for s in setups if isinstance(p := fixed(s.plan).get("pitch"), float)}
    return There(
        len(setups),
        list(dict.fromkeys(title for s in reversed(setups) if (title := s.noted("title")))),
        sorted({round(s.plan.board_width, 1) for s in setups}),
        sorted({round(pitch, 2) for pitch in pitches}),
        sorted({_local(s).year for s in setups}),
    )


def _newest(log: Log, sought: Sought) -> Iterator[SetUp]:
    """Yield the set-ups that are sought, newest first."""
    before: int | None = None
    while found := log.setups(bit=sought.bit, stock=sought.stock, before=before, limit=AT_ONCE):
        yield from filter(sought.fits, found)
        before = found[-1].number


def _local(setup: SetUp) -> datetime:
    return setup.started.astimezone()
