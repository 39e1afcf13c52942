"""The use cases: start, record, retract, advise, finish, review. Nothing prints, asks or parses."""

from __future__ import annotations

import json
import os
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime
from typing import Literal

from .. import defaults
from ..advice import advise
from ..advice.bits import BitLaw, bit_law
from ..advice.craft import craft_for, craft_of
from ..advice.history import History
from ..advice.spoken import scales
from ..advice.wear import Wear, wear_of
from ..document import advice_document
from ..domain import Advice, Bit, Machine, Note, Plan, Remark, SetUp, Stock, TrialCut
from ..errors import FitlogError, Refused, nearest
from ..families.wanted import Wanted
from ..language.units import Ruler, quoted
from ..log import Absence, Log, Stamp
from . import undoing
from .asked import Answer, Drafted, Reported, Shown, Words
from .ending import closable, none_open, short_of_ready, undone
from .firstly import before_the_first
from .found import since_last_here, with_as_found
from .home import current_at, require_here
from .told import trial_cut

__all__ = ["Answer", "Reported", "Wanted", "Workbench"]


class Workbench:
    """One person at one log. What was learnt for a set-up is kept until the log may tell more of
    finished ones.
    """

    def __init__(
        self,
        log: Log,
        by: str,
        ruler: Ruler,
        home: Machine | None = None,
        key: str | None = None,
    ) -> None:
        """home: the person's own machine, where the current set-up is sought; None: the log's last
        is current. key: of the first deed; each has one of its own without.
        """
        self._key = key
        self.log, self.by, self.ruler, self.home = log, by, ruler, home
        self._learnt: tuple[object, History] | None = None
        self._advised: tuple[History, SetUp, Advice] | None = None

    def under(self, key: str) -> Workbench:
        """Return it with a key for its next deed, by which that is found again."""
        self._key = key
        return self

    def forget(self) -> None:
        """Learn anew what set-ups teach: somebody else at this log ended one or took one back."""
        self._learnt = None

    def start(self, wanted: Wanted, notes: Sequence[Note] = ()) -> Answer:
        """Open a set-up; a ready one with the same bit is finished first. notes: written down about
        it with that. Raises Refused while one is tuning.
        """
        return self.begin(self.draft(wanted), notes)

    def draft(self, wanted: Wanted) -> Drafted:
        """Work out what `start` opens, and write nothing. Raises Refused as it does."""
        with self.log.at_one_moment():
            clear = closable(self, wanted.bit)
            earlier = self._earlier(
                wanted.bit, wanted.machine, (wanted.stock, wanted.pin_stock), {self.by}, also=clear
            )
        past = History(earlier)
        plan = self.plan(wanted, earlier, past)
        first = craft_of(plan).first_settings(plan, past, self.by)
        first = first.changed(**wanted.first)
        stamp = self.stamp(plan.machine)
        draft = SetUp(0, plan, first, first, stamp.at, self.by, sharpenings=plan.bit.sharpenings)
        advice = self._advise(draft, past)
        return Drafted(replace(draft, shown=advice.settings), advice, stamp, clear)

    def begin(self, drafted: Drafted, notes: Sequence[Note] = ()) -> Answer:
        """Open a set-up as it was drafted, one transaction. Raises Refused as `Log.start`."""
        draft, advice, stamp, clear = drafted
        draft = replace(draft, notes=tuple(notes))
        number = self.log.start(
            draft.plan,
            draft.first,
            lambda n: _kept(replace(draft, number=n), advice, self.ruler),
            stamp,
            advice.settings,
            finishes=clear,
            notes=notes,
        )
        if clear is not None:
            self._learnt = None
        setup = replace(draft, number=number)
        told, closed = advice_document(setup, advice, self.ruler), clear.number if clear else None
        return Answer(setup, advice, told, closed)

    def plan(self, wanted: Wanted, earlier: Sequence[SetUp], past: History) -> Plan:
        """Return the plan of a set-up: what was said, then what is repeated, then what follows from
        the boards and the bit.
        """
        same = [setup for setup in earlier if setup.plan.joint == wanted.joint]
        return craft_for(wanted.joint).plan_of(wanted, same, past, self.by)

    def record(self, setup: SetUp, told: Reported) -> TrialCut:
        """Log a trial cut, one transaction; what it says is on disk when this returns. Raises
        Refused.
        """
        if told.after is None:
            self.require_open(setup)
        cut = trial_cut(setup, told)
        at, new = self.stamp(setup.plan.machine), not told.later
        entry = self.log.record(
            setup.number, cut, at, new_piece=new, seen=setup.newest, advice=setup.advice
        )
        return replace(cut, entry=entry)

    def answer(self, number: int) -> Answer:
        """Return the advice on a set-up as it stands, and keep it as the one last shown."""
        with self.log.at_one_moment():
            setup = self.log.setup(number, self.by)
            past, absence = self.past(setup), since_last_here(self.log, setup)
        return self._present(setup, past, absence)

    def look_at(self, setup: SetUp) -> Answer:
        """Return the advice on a set-up just read from the log, and keep it as the one
        last shown.
        """
        with self.log.at_one_moment():
            past, absence = self.past(setup), since_last_here(self.log, setup)
        return self._present(setup, past, absence)

    def steps(self, setup: SetUp) -> tuple[Remark, ...]:
        """Return how to cut the next test piece at the settings last shown."""
        return craft_of(setup.plan).recipe(setup.plan, setup.shown)

    def before_spoiling(self, setup: SetUp) -> tuple[Remark, ...]:
        """Return what is to be minded before what is shown last, which spoils the last piece."""
        return craft_of(setup.plan).before_spoiling(setup, self.past(setup))

    def undo(
        self, setup: SetUp, piece: int | None = None, *, whole: bool = False
    ) -> tuple[str, Answer]:
        """Take back the newest entry of a set-up, or all about one piece; return what was taken
        back.

        whole: its start, too, and with it the whole set-up. Raises Refused as `undoing.take_back`.
        """
        what = self.take_back(setup, piece, whole=whole)
        return what, self.answer(setup.number)

    def take_back(self, setup: SetUp, piece: int | None = None, *, whole: bool = False) -> str:
        """Do what `undo` does, without working out the advice."""
        self._learnt = None
        return undoing.take_back(
            self.log, setup, piece, self.stamp(setup.plan.machine), whole=whole
        )

    def only_started(self, setup: SetUp) -> bool:
        """Tell whether an undo would take back the whole of a set-up."""
        return undoing.is_start(self.log, setup)

    def redo(self, setup: SetUp) -> tuple[str, Answer]:
        """Bring back what was last taken back of a set-up; return what that is. Raises Refused as
        `undoing.bring_back`.
        """
        self._learnt = None
        what = undoing.bring_back(self.log, setup, self.stamp(setup.plan.machine))
        return what, self.answer(setup.number)

    def redoable(self, number: int | None = None) -> SetUp:
        """Return set-up `number`, or the one that a redo here is about: the current one, or one
        undone after it was used.
        """
        if number is None:
            number = self.log.redoable(self.home.name if self.home else None)
        return self.current(number)

    def finish(
        self,
        setup: SetUp,
        *,
        abandon: bool = False,
        as_it_is: bool = False,
        notes: Sequence[Note] = (),
    ) -> Answer:
        """End a set-up; one that has ended like that is left as it is, but for the notes.

        Raises Refused: undone-setup; already-ended otherwise than now asked; not-ready short of
        ready, unless that is what is meant: as_it_is.
        """
        if setup.undone:
            raise undone(setup.number)
        outcome: Literal["abandoned", "finished"] = "abandoned" if abandon else "finished"
        if setup.outcome != outcome:
            short = None
            if not (abandon or setup.outcome):
                short = short_of_ready(setup, self._advise(setup, self.past(setup)))
            if short is not None and not as_it_is:
                raise short
            self.log.close(
                setup.number,
                outcome,
                self.stamp(setup.plan.machine),
                as_it_is=short is not None,
                seen=setup.newest,
                notes=notes,
            )
            self._learnt = None
        elif notes:
            self.log.note(setup.number, notes, self.stamp(setup.plan.machine))
        return self.answer(setup.number)

    def choose(self, number: int) -> Answer:
        """Make a set-up the current one."""
        setup = self.log.setup(number)
        if setup.undone:
            raise undone(number)
        require_here(self.home, setup)
        self.log.choose(number, self.stamp(setup.plan.machine))
        return self.answer(number)

    def current(self, number: int | None = None) -> SetUp:
        """Return set-up `number`, or the one last started or chosen at one's own machine; raises
        Refused without one.
        """
        return (
            self.log.setup(number, self.by)
            if number is not None
            else current_at(self.log, self.home, self.by)
        )

    def shown(self, number: int | None) -> Shown:
        """Return set-up `number`, or the current one, with every entry about it."""
        setup = self.current(number)
        cuts, found = self.log.cut_entries(setup.number), self.log.found_entries(setup.number)
        return Shown(setup, self.status(setup), cuts, found)

    def words(self, person: str | None) -> Words:
        """Return how a person, the one at work by default, uses their words, and who else has
        logged a cut.

        Raises Refused for a name that nobody has logged a cut under.
        """
        known = self.log.people()
        name = self.by if person is None else person
        if name != self.by and name not in known:
            raise Refused(
                "unknown-name",
                "nobody has logged a cut as {name}",
                "{advised}",
                name=quoted(name),
                advised=nearest(name, known) or "leave --person out for your own words",
            )
        past = History(self.log.finished_by(name, defaults.VOICE_MEETINGS[1]))
        others = [other for other in known if other != name]
        return Words(name, others, self.log.count_finished(), scales(name, past))

    def bit_figures(self, bit: Bit) -> tuple[BitLaw, Wear]:
        """Return what a bit really measures and how it wears, by its newest finished set-ups and
        the log's newest.
        """
        found = self.log.finished_with(bit.name, defaults.BIT_NEWEST, defaults.HISTORY_PIECES)
        wear = wear_of(bit, self.log.joints_cut(bit.name), found)
        return bit_law(bit, History(found)), wear

    def status(self, setup: SetUp) -> str:
        """Return where a set-up stands: tuning, ready, finished, abandoned or undone."""
        if setup.undone:
            return "undone"
        return setup.outcome or self._advise(setup, self.past(setup)).status

    def require_open(self, setup: SetUp) -> None:
        """Refuse ("no-open-setup") a set-up that has ended or was undone."""
        if setup.undone or setup.outcome is not None:
            raise none_open(setup)

    def _present(self, setup: SetUp, past: History, absence: Absence | None) -> Answer:
        advice = with_as_found(self._advise(setup, past), setup, absence, self.by)
        document = advice_document(setup, advice, self.ruler)
        unkept: FitlogError | None = None
        kept: int | None = None
        try:
            kept = self.log.show(
                setup.number,
                advice.settings,
                _kept(setup, advice, self.ruler),
                self.stamp(setup.plan.machine),
                setup.shown,
            )
        except FitlogError as error:  # a log that can only be read still gives its advice
            unkept = error
        seen = replace(setup, shown=advice.settings, advice=kept, other=None)
        return Answer(seen, advice, document, unkept=unkept)

    def _advise(self, setup: SetUp, past: History) -> Advice:
        # What was shown, and to whom, changes nothing of it: so a screen is advised as the one
        # before, unless something was said between.
        asked = replace(setup, shown=setup.first, advice=None, other=None)
        if self._advised is None or self._advised[0] is not past or self._advised[1] != asked:
            advice, said = advise(asked, past), before_the_first(asked, past, self.by)
            advice = replace(advice, notices=(*advice.notices, *said))
            self._advised = past, asked, advice
        return self._advised[2]

    def past(self, setup: SetUp) -> History:
        """What was learnt before a set-up; learnt anew once this process ended a set-up or another
        one wrote.
        """
        plan, people = setup.plan, {self.by, setup.by, *(cut.by for cut in setup.cuts)}
        about = setup.number, people
        if self._learnt is None or self._learnt[0] != (self.log.written_by_others(), *about):
            # What others wrote since they were last asked about may be in it already; it is never
            # missed.
            key = self.log.known_of_others, *about
            earlier = self._earlier(
                plan.bit, plan.machine, (plan.stock, plan.pin_stock), people, before=setup.number
            )
            self._learnt = key, History(earlier)
        return self._learnt[1]

    def _earlier(
        self,
        bit: Bit,
        machine: Machine | None,
        stocks: tuple[Stock, Stock],
        people: set[str],
        *,
        before: int | None = None,
        also: SetUp | None = None,
    ) -> list[SetUp]:
        """The newest finished set-ups that share the bit, the machine, a wood or a person, oldest
        first.

        before: only those with a smaller number.  also: a ready one that is about to be finished.
        """
        at = machine.name if machine else None
        found = self.log.finished(
            bit=bit.name,
            machine=at,
            stocks=[s.name for s in stocks],
            people=people,
            before=before,
            newest=defaults.HISTORY_NEWEST,
            pieces=defaults.HISTORY_PIECES,
        )
        return found if also is None else [*found, also]

    def stamp(self, machine: Machine | None) -> Stamp:
        """Return who does something now, at a machine, under a key by which it is found again."""
        key, self._key = self._key or os.urandom(16).hex(), None
        return Stamp(self.by, datetime.now(UTC), machine.name if machine else None, key)


def _kept(setup: SetUp, advice: Advice, ruler: Ruler) -> str:
    """Return an advice as the log keeps it."""
    return json.dumps(advice_document(setup, advice, ruler))
