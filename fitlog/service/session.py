"""One person at one log: whose units, whose name, whose machine, and the doors to the use cases."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from ..domain import LIFT, Bit, Machine, SetUp, Stock, clean_name
from ..domain.adjusters import adjuster
from ..errors import Clause, FitlogError, Mm, NotUnderstood, Refused
from ..families.names import first_joint
from ..language.inches import marks_for
from ..language.units import MM_PER_INCH, Ruler, preference
from ..log import Log, Preferences, Stamp, open_log
from ..texts import tell
from .bench import Workbench
from .held import Held
from .reader import Reader
from .reader.lengths import Asks

if TYPE_CHECKING:
    from .catalogue import AnyShelf, Kind, Shelf

LONGEST_KEY = 100  # characters, as the log keeps one


class Session:
    """One person at one log. at: the machine said for this session, before the one preferred;
    asks: how that person is asked, None where nobody can be.
    """

    def __init__(
        self,
        log: Log,
        login: str,
        at: str | None = None,
        asks: Asks | None = None,
    ) -> None:
        self.log, self.login = log, login
        self._key: str | None = None
        preferences = log.preferences(login)
        self.by, self.unreadable = preferences.name or login, preferences.unreadable
        self.own_machine, self._said = at or preferences.machine, bool(at)
        self._reader = Reader(preferences.units, asks, preferences.words)

    @property
    def reader(self) -> Reader:
        """What this person types is read by it. Raises Refused "damaged-log" where a preference
        makes no sense: 5 could be any length, and a cut anybody's.
        """
        for damage in self.unreadable.values():
            raise damage
        return self._reader

    def ruler(self, machine: Machine | None = None) -> Ruler:
        """How lengths are shown to this person; a machine with a known lift adds its turns."""
        if machine is None:
            return Ruler(self._reader.units)
        steps = (adjuster(machine, part).step / MM_PER_INCH for part in machine.parts)
        lift = machine.part(LIFT)
        marks = marks_for(steps)
        return Ruler(self._reader.units, lift.turn, marks, lift.dial, lift.turn_parts)

    def bench(self, machine: Machine | None = None) -> Workbench:
        """Return the use cases of set-ups, speaking this person's units."""
        return Workbench(self.log, self.by, self.ruler(machine), self.home(), self._key)

    def given_again(self, key: str | None, *kinds: str) -> int | None:
        """Return the set-up of a deed of one of these kinds that was done already under its `key`;
        else the next one of this person is done under that. Raises NotUnderstood (bad-key), Refused
        (known-key).
        """
        if key is None:
            return None
        if not key.isprintable() or not key.strip() or len(key) > LONGEST_KEY:
            raise NotUnderstood(
                "bad-key",
                "{key!r} is no key: 1 to {most} characters",
                "give a word that no other deed has",
                key=key[:60],
                most=LONGEST_KEY,
            )
        self._key = key
        return self.log.done(key, *kinds)

    def at(self, number: int | None = None) -> tuple[SetUp, Workbench]:
        """Return set-up `number`, or the current one, and its use cases, which speak in turns of
        its machine's lift. Raises Refused: no-setup, unknown-setup.
        """
        bench = self.bench()
        setup = bench.current(number)
        bench.ruler = self.ruler(setup.plan.machine)
        return setup, bench

    @property
    def bits(self) -> Shelf[Bit]:
        """The bits of the catalogue."""
        from . import catalogue

        return catalogue.bits(self.log)

    @property
    def stocks(self) -> Shelf[Stock]:
        """The kinds of board of the catalogue."""
        from . import catalogue

        return catalogue.stocks(self.log)

    @property
    def machines(self) -> Shelf[Machine]:
        """The machines of the catalogue."""
        from . import catalogue

        return catalogue.machines(self.log)

    def shelf(self, kind: Kind) -> AnyShelf:
        """Return all of one kind."""
        if kind == "machine":
            return self.machines
        return self.bits if kind == "bit" else self.stocks

    def sharpen(self, name: str, diameter: float | None) -> Bit:
        """Note that a bit was sharpened, and return it."""
        from . import catalogue

        return catalogue.sharpen(self.log, name, diameter, Stamp(self.by, datetime.now(UTC)))

    def home(self) -> Machine | None:
        """Return the machine that this person said to be at; None without. Raises Refused:
        unknown-name; damaged-log where nobody knows, since the set-up of another would be meant.
        """
        if not self._said:
            for key in self.unreadable.keys() & {"machine", ""}:
                raise self.unreadable[key]
        if not self.own_machine:
            return None
        try:
            return self.log.machine(self.own_machine)
        except Refused as error:
            raise Refused(
                error.code,
                "{told}",
                "{hint}; FITLOG_MACHINE names it: say another with fitlog prefer --machine NAME, "
                'or "" for none'
                if self._said
                else "{hint}; your preference names it: say another with fitlog prefer --machine "
                'NAME, or "" for none',
                told=error.message,
                hint=error.hint,
            ) from None

    def machine(self, name: str | None) -> Machine | None:
        """Return the machine that is named, else the person's own, else the only one there is; None
        among several.
        """
        if name is not None:
            return self.log.machine(name)
        if (own := self.home()) is not None:
            return own
        found = self.log.machines()
        return found[0] if len(found) == 1 else None

    def boards(self, stock: str | None, pin_stock: str | None) -> tuple[Stock, Stock]:
        """Return the tail board's stock, named or the only one, and the pin board's, the same
        unless another is named.
        """
        tail = self.stocks.only(stock)
        return tail, self.log.stock(pin_stock) if pin_stock else tail

    def held(self) -> Held:
        """Return the log as one that is held open all day."""
        return Held(self.log)

    def preferences(self) -> Preferences:
        """Return what this person prefers."""
        return self.log.preferences(self.login)

    def prefer(
        self, units: str | None = None, name: str | None = None, machine: str | None = None
    ) -> None:
        """Keep what this person prefers; None leaves it, a machine of "" means none.

        Raises NotUnderstood (unknown-units), Refused (bad-name, unknown-name).
        """
        self.log.prefer(
            self.login,
            units=None if units is None else preference(units),
            name=None if name is None else clean_name("name", name),
            machine=machine and self.log.machine(machine).name,
            at=datetime.now(UTC),
        )
        self.unreadable = self.preferences().unreadable

    def add_word(self, text: str) -> tuple[str, str]:
        """Keep a phrase of this person's own, typed as PHRASE = MEANING; return both. Raises as
        `own_word` does.
        """
        from .reader.own import own_word

        phrase, meaning = own_word(text, self.reader.speech(first_joint()))
        self.log.call(self.login, phrase, meaning, datetime.now(UTC))
        return phrase, meaning

    def remove_word(self, text: str) -> str:
        """Take back a phrase of this person's own; return it. Raises Refused (unknown-phrase)."""
        from .reader.own import own_phrase

        phrase = own_phrase(text, self.preferences().words)
        self.log.call(self.login, phrase, None, datetime.now(UTC))
        return phrase


@contextmanager
def opened(place: str, *, create: bool, login: str = "") -> Iterator[tuple[Log, str]]:
    """Open a log and close it after; yield it with what was done to bring it up to date, "" for
    nothing. login: in whose units a refusal that leaves it tells lengths; "": in mm.
    """
    with open_log(place, create=create) as log:
        done, told = log.upgraded, ""
        if done is not None:
            told = tell(
                "The log was brought from layout {found} to {now}; as it was before it is in "
                "{backup}.",
                found=done.found,
                now=done.now,
                backup=done.backup,
            )
        try:
            yield log, told
        except FitlogError as error:
            if login and any(isinstance(value, Mm | Clause) for value in error.values.values()):
                with suppress(FitlogError):  # where the log cannot tell, mm
                    ruler = Ruler(log.preferences(login).units)
                    error.length = ruler.told if ruler.units != "mm" else None
            raise
