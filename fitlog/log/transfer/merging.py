"""Another log's rows matched with this one: what is new is planned, to be put in, none twice.

An entry is the same as one that is here when its moment, its person, its kind and all that it says
are the same, at the same set-up; a set-up is the same as one that is here when its start is. What
is new is appended in the order of the other log, under new numbers. An empty log gets the numbers
of the other one, and so becomes identical to it.

Memory: some 32 bytes an entry of the file, for what its numbers became, and as many an entry of
this log, for its moment; what is here already is looked up in the log, what is new is put aside.

The log is read at many moments, of which nobody waits for one: what is `planned` is stored only if
nothing came since the first that it should have known of.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from typing import IO, Any

from sqlalchemy import Select, Table, select

from ...texts import tell
from ..engine import Store
from ..entries import OUTCOMES
from ..schema import ADVICE, ENTRY, PREFERENCE, SETUP
from . import bulk
from .bulk import Item
from .digesting import MEASURED, SAID, Values
from .identity import PLACES, Merged, Moments, Numbers, content, taken_keys
from .landing import Landing
from .pieces import Pieces
from .planned import Planned
from .standing import Standing


class Merge:
    """Takes checked rows one after another with `add`, and plans them by the thousand; `end` plans
    the rest.

    refused: makes the refusal of the row being added from a reason; aside: where they are put.
    """

    def __init__(self, store: Store, aside: IO[bytes], refused: Callable[[str], Exception]) -> None:
        self._store, self._refused, self.done = store, refused, Merged()
        self._rows: dict[str, list[Values]] = defaultdict(list)
        self._batch: list[Item] = []
        self._preferences: list[Values] = []
        self._entries, self._advices = Numbers("entry"), Numbers("advice")
        self._setups: dict[int, int] = {}
        self._pieces = Pieces(self._ask)
        self._taken: set[int] = set()
        # What each login prefers of a kind, as value and moment; whether it has this log's own.
        self._preferred: dict[tuple[str, str], tuple[set[tuple[str, str]], bool]] = {}
        with store.reading() as connection:
            self.planned = Planned(connection, aside)
            self.fresh = bulk.is_empty(connection) and bulk.keeps_numbers(connection)
            self._landing = Landing(connection, self._rows, self.done, self.planned, self.fresh)
            of = () if self.fresh else (ENTRY, ADVICE)
            self._there = {table.name: Moments(connection, table) for table in of}
        self._last = dict(self.planned.last)
        self.standing = Standing(self._ask, self._last["entry"])

    def add(self, kind: str, row: Values) -> None:
        """Take one row."""
        try:
            if kind in ("entry", "advice"):
                self._batch.append((kind, row))
                if len(self._batch) >= bulk.BATCH:
                    self._flush()
            elif kind == "preference":
                # A machine that is preferred may have another name here.
                self._preferences.append(row)
            else:
                self._landing.take(kind, row)
        except ValueError as error:
            raise self._refused(str(error)) from error

    def end(self) -> Merged:
        """Plan what is still held; return what would be done."""
        try:
            self._flush()
            self._landing.rest()
            for row in self._preferences:
                self._preference(row)
        except ValueError as error:
            raise self._refused(str(error)) from error
        self._put_aside()
        return self.done

    def _put_aside(self) -> None:
        if self._rows:
            self.planned.put(self._rows)

    def _ask(self, query: Select[Any]) -> list[Any]:
        """Return the first column of what a query finds in the log."""
        with self._store.glance() as connection:
            return list(connection.execute(query).scalars())

    def _flush(self) -> None:
        with self._store.reading():
            self._plan()
        self._batch.clear()
        self._put_aside()

    def _plan(self) -> None:
        here = {} if self.fresh else self._candidates()
        # A key that is taken here, by another set-up of the same number, is not needed twice.
        named = [row for kind, row in self._batch if kind == "entry" and row["key"] is not None]
        taken = taken_keys(self._ask, [row["key"] for row in named])
        for row in named:
            row["key"] = None if row["key"] in taken else row["key"]
        for kind, row in self._batch:
            if kind == "entry":
                self._entry(row, here.get(("entry", row["at"]), ()))
            else:
                self._advice(row, here.get(("advice", row["at"]), ()))

    def _candidates(self) -> dict[tuple[str, str], list[Values]]:
        """Return what the log has of the moments in the batch, entries and advices."""
        found: dict[tuple[str, str], list[Values]] = defaultdict(list)
        for kind, there in self._there.items():
            moments = sorted({row["at"] for k, row in self._batch if k == kind})
            numbers = sorted(number for at in moments for number in there.of(at))
            for part in (numbers[i : i + bulk.BATCH] for i in range(0, len(numbers), bulk.BATCH)):
                for row in self._here(kind, part):
                    found[kind, row["at"]].append(row)
        return found

    def _here(self, kind: str, numbers: Sequence[int]) -> Iterator[Values]:
        with self._store.reading() as connection:
            if kind == "entry":
                yield from bulk.entries(connection, numbers)
                return
            wanted = select(ADVICE).where(ADVICE.c.id.in_(numbers)).order_by(ADVICE.c.id)
            yield from (dict(row._mapping) for row in connection.execute(wanted))

    def _entry(self, row: Values, here: Sequence[Values]) -> None:
        kind, setup = row["kind"], self._setups.get(row["setup"])
        if (setup is None) != (kind == "start"):
            said = "set-up {setup} is started twice"
            if setup is None:
                said = "set-up {setup} was not started before it"
            raise ValueError(tell(said, setup=row["setup"]))
        back = self._entries.get(about) if (about := _about(row)) is not None else None
        what = content(row, back) if here else ()
        for one in here:
            if (
                one["id"] not in self._taken
                and setup in (None, one["setup"])
                and content(one, _about(one)) == what
            ):
                self._same(row, one, len(here))
                return
        reason = None if self.fresh or setup is None else self._no_room(row, setup, back)
        if reason is not None:
            self.done.left_out.append(reason)
            self._entries.add(row["id"], 0)
            return
        number = self._number(ENTRY, row["id"])
        self._entries.add(row["id"], number)
        getattr(self, f"_new_{kind}", self._new)(row, number, setup or 0, back)
        self.done.added["entry"] += 1

    def _same(self, row: Values, one: Values, choices: int) -> None:
        """Note that a row is one that is here."""
        self._entries.add(row["id"], one["id"])
        self.done.found["entry"] += 1
        if choices > 1:
            self._taken.add(one["id"])
        if row["kind"] == "start":
            self._setups[row["setup"]] = one["setup"]
            self._pieces.here(one["setup"])
            self._landing.known(row["started"], one["started"])
        elif row["kind"] == "cut" and not row["cut"]["slot"]:
            self._pieces.same(one["setup"], row["cut"]["piece"], one["cut"]["piece"])

    def _no_room(self, row: Values, setup: int, back: int | None) -> str | None:
        """Return why a new entry cannot be appended to a set-up that was here already, or None."""
        if row["kind"] not in ("retract", "redo", *OUTCOMES):
            return None
        if row["kind"] == "retract" and not (back and self.standing.stands(back)):
            return tell(
                "taking back an entry of set-up {setup} that is taken back here already, "
                "or was left out",
                setup=setup,
            )
        if row["kind"] == "redo" and (not back or self.standing.is_redone(back)):
            return tell(
                "bringing back an entry of set-up {setup} that was brought back here "
                "already, or was left out",
                setup=setup,
            )
        ends = self._pieces.was_here(setup) and self._is_end(row, back)
        if ends and self.standing.has_ended(setup):
            said = "the {kind} of set-up {setup}, which has ended here by itself"
            return tell(said, kind=row["kind"], setup=setup)
        return None

    def _is_end(self, row: Values, back: int | None) -> bool:
        """Tell whether an entry ends its set-up, or brings such an end back."""
        if row["kind"] == "redo" and back:
            return self.standing.is_end(self.standing.retracted_by(back))
        return row["kind"] in OUTCOMES

    def _new(self, row: Values, number: int, setup: int, _back: int | None) -> None:
        plain = {name: row[name] for name in ("kind", "at", "by", "key", "digest")}
        machine = self._landing.machine_name(row["machine"])
        self._rows["entry"].append({"id": number, "setup": setup, "machine": machine, **plain})
        if row["kind"] in OUTCOMES:
            self.standing.end(setup, number)
        if row["kind"] == "note":
            self._rows["note"].append({**row["noted"], "entry": number})

    def _new_start(self, row: Values, number: int, _setup: int, back: int | None) -> None:
        setup = self._setups[row["setup"]] = self._number(SETUP, row["setup"])
        self.done.setups.append(setup)
        references = self._landing.references(row["started"])
        self._new(row, number, setup, back)
        self._rows["setup"].append({**row["started"], **references, "id": setup, "entry": number})
        self.standing.start(setup, number)

    def _new_cut(self, row: Values, number: int, setup: int, back: int | None) -> None:
        cut = row["cut"]
        number_of = self._pieces.following if cut["slot"] else self._pieces.number
        piece = number_of(setup, cut["piece"])
        self._new(row, number, setup, back)
        for name, table in (SAID, MEASURED):
            for one in (said := cut.pop(name)):
                one |= {"id": self._number(table, one["id"]), "cut": number}
            self._rows[table.name] += said
        advice = self._advices.get(cut["advice"])
        end = cut["recut_of"] and self._pieces.number(setup, cut["recut_of"])
        here = {"entry": number, "advice": advice, "piece": piece, "recut_of": end}
        self._rows["trial_cut"].append({**cut, **here})

    def _new_found(self, row: Values, number: int, setup: int, back: int | None) -> None:
        self._new(row, number, setup, back)
        own = {"entry": number, "advice": self._advices.get(row["found"]["advice"])}
        self._rows["found"].append({**row["found"], **own})

    def _new_retract(self, row: Values, number: int, setup: int, back: int | None) -> None:
        if self._rows["redo"]:
            # Of the same entry, perhaps: it has to stand before it can be taken back again.
            self._put_aside()
        self._new(row, number, setup, back)
        self._rows["retraction"].append({"entry": number, "retracted": back})
        self.standing.retract(number, back or 0)

    def _new_redo(self, row: Values, number: int, setup: int, back: int | None) -> None:
        self._new(row, number, setup, back)
        self._rows["redo"].append({"entry": number, "redone": back})
        self.standing.redo(back or 0)

    def _advice(self, row: Values, here: Sequence[Values]) -> None:
        setup = self._setups.get(row["setup"])
        if setup is None:
            why = "it is of set-up {setup}, which was not started"
            raise ValueError(tell(why, setup=row["setup"]))
        entry = self._entries.get(row["entry"])
        said = {name: value for name, value in row.items() if name not in PLACES}
        for one in here:
            if one["setup"] == setup and said.items() <= one.items():
                self._advices.add(row["id"], one["id"])
                self.done.found["advice"] += 1
                return
        number = self._number(ADVICE, row["id"])
        self._advices.add(row["id"], number)
        if not self.fresh:
            entry = entry or self._last["entry"]
        self._rows["advice"].append({**row, "id": number, "setup": setup, "entry": entry})
        self.done.added["advice"] += 1

    def _number(self, table: Table, old: int) -> int:
        """Return the number of a new row: its own in an empty log, else the next one."""
        if self.fresh:
            return old
        self._last[table.name] += 1
        return self._last[table.name]

    def _preference(self, row: Values) -> None:
        """Add a preference; in a log where the login has one of the kind already, that
        one stands.
        """
        if self.fresh:
            self._rows["preference"].append(row)
            self.done.added["preference"] += 1
            return
        if row["key"] == "machine":
            row = {**row, "value": self._landing.machine_name(row["value"])}
        whose = row["login"], row["key"]
        said = row["value"], row["at"]
        if whose not in self._preferred:
            same = (PREFERENCE.c.login == whose[0], PREFERENCE.c.key == whose[1])
            columns = PREFERENCE.c.value, PREFERENCE.c.at
            with self._store.glance() as connection:
                there = [tuple(one) for one in connection.execute(select(*columns).where(*same))]
            self._preferred[whose] = set(there), bool(there)
        known, own = self._preferred[whose]
        if said in known:
            self.done.found["preference"] += 1
        elif own:
            why = "the {key} that {login!r} prefers there: this log's own stands"
            self.done.left_out.append(tell(why, key=row["key"], login=row["login"]))
        else:
            known.add(said)
            self._rows["preference"].append({**row, "id": self._number(PREFERENCE, row["id"])})
            self.done.added["preference"] += 1


def _about(row: Values) -> int | None:
    """Return the number of the entry that an entry takes back or brings back, None for
    any other.
    """
    if row["kind"] == "retract":
        return int(row["takes_back"]["retracted"])
    return int(row["brings_back"]["redone"]) if row["kind"] == "redo" else None
