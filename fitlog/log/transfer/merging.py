"""Another log's rows put into this one, none twice, all in one transaction of the caller.

An entry is the same as one that is here when its moment, its person, its kind and all that it says
are the same, at the same set-up; a set-up is the same as one that is here when its start is. What
is new is appended in the order of the other log, under new numbers. An empty log gets the numbers
of the other one, and so becomes identical to it.

Memory: some 32 bytes an entry of the file, for what its numbers became, and as many an entry of
this log, for its moment; what is here already is looked up in the log.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence

from sqlalchemy import Connection, Table, insert, select

from ...texts import tell
from .. import digests
from ..entries import LIVE, OUTCOMES
from ..schema import ADVICE, ENTRY, PREFERENCE, READING, REDO, RETRACTION, SETUP, TRIAL_CUT, VERDICT
from . import bulk
from .bulk import Item
from .digesting import MEASURED, SAID, Values
from .identity import PLACES, Merged, Moments, Numbers, content, taken_keys
from .landing import Landing


class Merge:
    """Takes checked rows one after another with `add`, and stores them by the thousand; `end`
    stores the rest.

    refused: makes the refusal of the row being added from a reason.
    """

    def __init__(self, connection: Connection, refused: Callable[[str], Exception]) -> None:
        self._connection, self._refused = connection, refused
        self.fresh = bulk.is_empty(connection) and bulk.keeps_numbers(connection)
        self.done = Merged()
        self._rows: dict[str, list[Values]] = defaultdict(list)
        self._batch: list[Item] = []
        self._preferences: list[Values] = []
        self._landing = Landing(connection, self._rows, self.done, self.fresh)
        self._entries, self._advices = Numbers("entry"), Numbers("advice")
        self._setups: dict[int, int] = {}
        # Set-ups that were here -> a bit for each of its pieces that the file has.
        self._old_setups: dict[int, int] = {}
        self._pieces: dict[tuple[int, int], int] = {}
        self._have: dict[int, set[int]] = {}  # the pieces that such a set-up has here, once asked
        self._taken: set[int] = set()
        tables = (ENTRY, SETUP, ADVICE, VERDICT, READING)
        self._last = {table.name: bulk.highest(connection, table) for table in tables}
        self._before = {**self._last, "preference": bulk.highest(connection, PREFERENCE)}
        of = () if self.fresh else (ENTRY, ADVICE)
        self._there = {table.name: Moments(connection, table) for table in of}

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
        """Store what is still held; return what was done."""
        try:
            self._flush()
            self._landing.rest()
            for row in self._preferences:
                self._preference(row)
        except ValueError as error:
            raise self._refused(str(error)) from error
        bulk.put(self._connection, self._rows)
        return self.done

    def _flush(self) -> None:
        here = {} if self.fresh else self._candidates()
        # A key that is taken here, by another set-up of the same number, is not needed twice.
        named = [row for kind, row in self._batch if kind == "entry" and row["key"] is not None]
        taken = taken_keys(self._connection, [row["key"] for row in named])
        for row in named:
            row["key"] = None if row["key"] in taken else row["key"]
        for kind, row in self._batch:
            if kind == "entry":
                self._entry(row, here.get(("entry", row["at"]), ()))
            else:
                self._advice(row, here.get(("advice", row["at"]), ()))
        self._batch.clear()
        bulk.put(self._connection, self._rows)

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
        if kind == "entry":
            return bulk.entries(self._connection, numbers)
        rows = self._connection.execute(
            select(ADVICE).where(ADVICE.c.id.in_(numbers)).order_by(ADVICE.c.id)
        )
        return (dict(row._mapping) for row in rows)

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
            self._old_setups[one["setup"]] = 0
            self._landing.known(row["started"], one["started"])
        elif row["kind"] == "cut" and not row["cut"]["slot"] and one["setup"] in self._old_setups:
            self._old_setups[one["setup"]] |= 1 << min(one["cut"]["piece"], 10_000)
            self._pieces[one["setup"], row["cut"]["piece"]] = one["cut"]["piece"]
            if row["cut"]["piece"] == one["cut"]["piece"]:
                del self._pieces[
                    one["setup"], row["cut"]["piece"]
                ]  # as nearly always: nothing to remember

    def _no_room(self, row: Values, setup: int, back: int | None) -> str | None:
        """Return why a new entry cannot be appended to a set-up that was here already, or None."""
        if row["kind"] not in ("retract", "redo", *OUTCOMES):
            return None
        bulk.put(self._connection, self._rows)
        if row["kind"] == "retract":
            stands = select(ENTRY.c.id).where(ENTRY.c.id == back, LIVE)
            if back == 0 or self._connection.execute(stands).first() is None:
                return tell(
                    "taking back an entry of set-up {setup} that is taken back here already, "
                    "or was left out",
                    setup=setup,
                )
        if row["kind"] == "redo":
            known = select(REDO.c.entry).where(REDO.c.redone == back)
            if back == 0 or self._connection.execute(known).first() is not None:
                return tell(
                    "bringing back an entry of set-up {setup} that was brought back here "
                    "already, or was left out",
                    setup=setup,
                )
        if self._kind(row, back) in OUTCOMES and setup in self._old_setups:
            ended = select(ENTRY.c.id).where(
                ENTRY.c.setup == setup, ENTRY.c.kind.in_(OUTCOMES), LIVE
            )
            if self._connection.execute(ended).first() is not None:
                said = "the {kind} of set-up {setup}, which has ended here by itself"
                return tell(said, kind=row["kind"], setup=setup)
        return None

    def _kind(self, row: Values, back: int | None) -> str:
        """Return the kind of an entry, or of the one that a redo brings back."""
        if row["kind"] != "redo":
            return str(row["kind"])
        what = (
            select(ENTRY.c.kind)
            .join(RETRACTION, RETRACTION.c.retracted == ENTRY.c.id)
            .where(RETRACTION.c.entry == back)
        )
        return str(self._connection.execute(what).scalar_one())

    def _new(self, row: Values, number: int, setup: int, _back: int | None) -> None:
        plain = {name: row[name] for name in ("kind", "at", "by", "key", "role", "digest")}
        machine = self._landing.machine_name(row["machine"])
        self._rows["entry"].append({"id": number, "setup": setup, "machine": machine, **plain})

    def _new_start(self, row: Values, number: int, _setup: int, back: int | None) -> None:
        setup = self._setups[row["setup"]] = self._number(SETUP, row["setup"])
        self.done.setups.append(setup)
        references = self._landing.references(row["started"])
        self._new(row, number, setup, back)
        self._rows["setup"].append({**row["started"], **references, "id": setup, "entry": number})

    def _new_cut(self, row: Values, number: int, setup: int, back: int | None) -> None:
        cut = row["cut"]
        piece = (self._next_piece if cut["slot"] else self._piece)(setup, cut["piece"])
        if setup in self._have and not cut["slot"]:
            self._have[setup].add(piece)
        self._new(row, number, setup, back)
        advice = self._advices.get(cut["advice"])
        lists = {name: cut.pop(name) for name in ("verdicts", "readings")}
        end = cut["recut_of"] and self._piece(setup, cut["recut_of"])
        here = {"entry": number, "advice": advice, "piece": piece, "recut_of": end}
        self._rows["trial_cut"].append({**cut, **here})
        for name, table in (SAID, MEASURED):
            for one in lists[name]:
                self._rows[table.name].append(
                    {**one, "id": self._number(table, one["id"]), "cut": number}
                )

    def _new_found(self, row: Values, number: int, setup: int, back: int | None) -> None:
        self._new(row, number, setup, back)
        self._rows["found"].append(
            {**row["found"], "entry": number, "advice": self._advices.get(row["found"]["advice"])}
        )

    def _new_retract(self, row: Values, number: int, setup: int, back: int | None) -> None:
        if self._rows[
            "redo"
        ]:  # of the same entry, perhaps: it has to stand before it can be taken back again
            bulk.put(self._connection, self._rows)
        self._new(row, number, setup, back)
        self._rows["retraction"].append({"entry": number, "retracted": back})

    def _new_redo(self, row: Values, number: int, setup: int, back: int | None) -> None:
        self._new(row, number, setup, back)
        self._rows["redo"].append({"entry": number, "redone": back})

    def _piece(self, setup: int, piece: int) -> int:
        """Return the number of a new cut's piece: another one where this log has gone on with a
        piece of that number.
        """
        if setup not in self._old_setups:
            return piece
        if (setup, piece) in self._pieces:
            return self._pieces[setup, piece]
        if self._old_setups[setup] >> min(piece, 10_000) & 1:
            return piece
        there = self._there_are(setup)
        new = piece if piece not in there else max(there) + 1
        self._pieces[setup, piece] = new
        return new

    def _next_piece(self, setup: int, piece: int) -> int:
        """Return the number of the piece after a new slot; a slot has none of its own."""
        return (
            piece if setup not in self._old_setups else max(self._there_are(setup), default=0) + 1
        )

    def _there_are(self, setup: int) -> set[int]:
        """Return the numbers of the pieces that a set-up here has or had."""
        if setup not in self._have:
            bulk.put(self._connection, self._rows)
            wanted = select(TRIAL_CUT.c.piece).join(ENTRY, ENTRY.c.id == TRIAL_CUT.c.entry)
            cuts = wanted.where(ENTRY.c.setup == setup, TRIAL_CUT.c.slot == 0)
            self._have[setup] = set(self._connection.execute(cuts).scalars())
        return self._have[setup]

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
        bulk.put(self._connection, self._rows)
        if row["key"] == "machine":
            row = {**row, "value": self._landing.machine_name(row["value"])}
        same = (PREFERENCE.c.login == row["login"], PREFERENCE.c.key == row["key"])
        there = [
            dict(one._mapping) for one in self._connection.execute(select(PREFERENCE).where(*same))
        ]
        if any(one["value"] == row["value"] and one["at"] == row["at"] for one in there):
            self.done.found["preference"] += 1
        elif any(one["id"] <= self._before["preference"] for one in there):
            said = "the {key} that {login!r} prefers there: this log's own stands"
            self.done.left_out.append(tell(said, key=row["key"], login=row["login"]))
        else:
            new = {**row, "id": bulk.highest(self._connection, PREFERENCE) + 1}
            new["digest"] = digests.after_last(PREFERENCE, digests.said_of(new))
            self._connection.execute(insert(PREFERENCE).values(new))
            self.done.added["preference"] += 1


def _about(row: Values) -> int | None:
    """Return the number of the entry that an entry takes back or brings back, None for
    any other.
    """
    if row["kind"] == "retract":
        return int(row["takes_back"]["retracted"])
    return int(row["brings_back"]["redone"]) if row["kind"] == "redo" else None
