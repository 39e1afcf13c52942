"""Two logs merged each way end alike, up to numbers and names; what was edited in one of them is
kept apart.
"""

from __future__ import annotations

import io
import json
import random
import shutil
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from logs import BIT, FIRST, OAK, PLAIN, PLAN, T0, stock_up
from sqlalchemy import event

from fitlog.domain import Bit
from fitlog.errors import Refused
from fitlog.exchange.document import rows_of
from fitlog.families.half_blind.names import judged, say, set_to
from fitlog.log import Log, Stamp, open_log
from fitlog.log.rows import catalogue_values, plan_values
from fitlog.service.exchange import Imported, read_log, write_log


def exported(log: Log) -> str:
    out = io.StringIO()
    write_log(log, out.write)
    return out.getvalue()


def merged(into: Log, text: str) -> Imported:
    return read_log(into, rows_of(io.StringIO(text)), "me")


def at(minute: int) -> Stamp:
    return Stamp("mira", T0 + timedelta(minutes=minute), "the table")


def held(log: Log) -> dict[str, list[str]]:
    """What a log holds, without its numbers and without the names of the catalogue: set-ups as they
    were started, cuts as they stand, and the figures of the catalogue.
    """
    own = ("bit", "stock", "pin_stock", "machine", "name", "retired")
    setups = [log.setup(number) for number in range(1, 1 + len(log.every_number()))]
    catalogue = [*log.bits(True), *log.stocks(True), *log.machines(True)]
    return {
        "set-ups": sorted(
            str((s.started, s.by, s.undone, sorted(plan_values(s.plan, s.first).items(), key=str)))
            for s in setups
        ),
        "cuts": sorted(
            str((s.started, one.retracted, one.cut.at, one.cut.settings, one.cut.verdict))
            for s in setups
            for one in log.cut_entries(s.number)
        ),
        "catalogue": sorted(
            str({k: v for k, v in catalogue_values(item).items() if k not in own})
            for item in catalogue
        ),
    }


class Numbered(Log):
    """A log that tells the numbers of its set-ups."""

    def every_number(self) -> list[int]:
        """The numbers of all set-ups, undone ones too."""
        with self._store.reading() as connection:
            found = connection.exec_driver_sql("SELECT id FROM setup ORDER BY id")
            return [row[0] for row in found]


class Shopkeeper:
    """Does things to a log by its commands, at random; minutes are its own."""

    def __init__(self, log: Log, chance: random.Random, minutes: Sequence[int]) -> None:
        self.log, self.chance, self.minutes = log, chance, iter(minutes)

    def stamp(self) -> Stamp:
        return at(next(self.minutes))

    def open_one(self) -> int | None:
        found = [s.number for s in self.log.setups() if s.outcome is None]
        return self.chance.choice(found) if found else None

    def cut(self) -> None:
        number = self.open_one()
        if number is None:
            return
        last = self.log.setup(number).last_piece()
        word = self.chance.choice(("tight", "loose", "good"))
        cut = replace(
            PLAIN,
            piece=1 + (last.number if last else 0),
            settings=set_to(8 + self.chance.randrange(9) / 10, 70, 9),
            verdict=judged(fit=say("fit", word)),
        )
        self.log.record(number, cut, self.stamp())

    def start(self) -> None:
        names = {one.plan.bit.name for one in self.log.setups() if one.outcome is None}
        free = [bit for bit in self.log.bits() if bit.name not in names and bit.neck is not None]
        if free:
            bit = self.chance.choice(free)
            stock = self.chance.choice(self.log.stocks())
            plan = replace(
                PLAN, bit=bit, stock=stock, pin_stock=stock, machine=self.log.machine("the table")
            )
            self.log.start(plan, FIRST, "{}", self.stamp())

    def finish(self) -> None:
        if (number := self.open_one()) is not None:
            self.log.close(number, "finished", self.stamp())

    def undo(self) -> None:
        if (number := self.open_one()) is None:
            return
        entry, kind = self.log.newest_live(number) or (0, "")
        if kind == "cut":
            self.log.retract(entry, self.stamp())

    def bit(self) -> None:
        size = 12.6 + self.chance.randrange(4) / 10
        self.log.add_bit(Bit(f"bit {self.chance.randrange(4)}", size, 8.0, 11.5, neck=8.5))

    def edit_bit(self) -> None:
        bit = self.chance.choice(self.log.bits())
        self.log.edit_bit(bit.name, diameter=12 + self.chance.randrange(9) / 10)

    def rename_bit(self) -> None:
        bit = self.chance.choice(self.log.bits())
        self.log.edit_bit(bit.name, name=f"bit {self.chance.randrange(9)}")

    def sharpen(self) -> None:
        bit = self.chance.choice(self.log.bits())
        self.log.sharpen(bit.name, bit.diameter - 0.1, self.stamp())

    def edit_stock(self) -> None:
        stock = self.chance.choice(self.log.stocks())
        self.log.edit_stock(stock.name, thickness=15.0 + self.chance.randrange(4))

    def live(self, deeds: int) -> None:
        doings = (self.cut, self.cut, self.cut, self.start, self.finish, self.undo, self.bit)
        for _ in range(deeds):
            rare = (self.edit_bit, self.rename_bit, self.sharpen, self.edit_stock)
            try:
                self.chance.choice((*doings, *rare))()
            except Refused as refused:  # a name that is taken, a bit whose set-up is open
                assert refused.code in ("name-taken", "still-tuning", "bad-bit"), refused.code


@pytest.mark.parametrize("seed", range(24))
def test_two_logs_merged_each_way_end_alike(tmp_path: Path, seed: int) -> None:
    """Seeded, so that it has no false alarms. Half of the pairs have a past in common."""
    chance = random.Random(seed)
    paths = [tmp_path / name for name in ("a.db", "b.db")]
    with open_log(paths[0], create=True) as first:
        stock_up(first)
        if seed % 2:
            Shopkeeper(first, chance, range(0, 100)).live(12)
    shutil.copy(paths[0], paths[1])
    texts, before = [], []
    for path, minutes in zip(paths, (range(101, 500, 2), range(102, 500, 2)), strict=True):
        with Numbered(open_log(path, create=False).store) as log:
            Shopkeeper(log, chance, minutes).live(14)
            texts.append(exported(log))
            before.append(held(log))
    both = []
    for path, text in zip(paths, texts[::-1], strict=True):
        with Numbered(open_log(path, create=False).store) as log:
            merged(log, text)
            both.append(held(log))
            assert merged(log, text).merged.added == {}, "it came in twice"
            assert held(log) == both[-1]
    assert both[0] == both[1]
    once = {what: {*before[0][what], *before[1][what]} for what in before[0]}
    assert {*both[0]["set-ups"]} == once["set-ups"] and {*both[0]["cuts"]} <= once["cuts"]
    # A bit that was sharpened in one of them is so here: as it was before, nothing is left.
    assert {*both[0]["catalogue"]} <= once["catalogue"]


def test_a_bit_that_was_edited_in_one_of_two_logs_is_kept_apart(tmp_path: Path) -> None:
    here, there = tmp_path / "here.db", tmp_path / "there.db"
    with open_log(here, create=True) as log:
        stock_up(log)
        number = log.start(PLAN, FIRST, "{}", at(1))
        log.close(number, "finished", at(2))
    shutil.copy(here, there)
    with open_log(there, create=False) as log:
        edited = log.edit_bit(BIT.name, diameter=14.3)
        log.start(replace(PLAN, bit=edited), FIRST, "{}", at(3))
        text = exported(log)
    with open_log(here, create=False) as log:
        done = merged(log, text).merged
        assert done.renamed == [("bit", BIT.name, f"{BIT.name} (2)")]
        assert [log.bit(n).diameter for n in (BIT.name, f"{BIT.name} (2)")] == [12.6, 14.3]
        assert [log.setup(n).plan.bit.diameter for n in (1, 2)] == [12.6, 14.3]
        again = merged(log, text).merged
        assert again.added == {} and again.renamed == []
        log.add_stock(replace(OAK, name="more"))  # and the log goes on


def test_a_key_that_is_taken_here_is_left_out(tmp_path: Path) -> None:
    """Two logs whose set-ups of one number had the same table: keys are unique in a log."""
    texts = []
    for name, minute in (("a", 1), ("b", 2)):
        with open_log(tmp_path / f"{name}.db", create=True) as log:
            stock_up(log)
            number = log.start(PLAN, FIRST, "{}", at(minute))
            log.record(number, PLAIN, replace(at(minute + 10), key="line:1"))
            log.close(number, "finished", at(minute + 20))
            texts.append(exported(log))
    with open_log(tmp_path / "a.db", create=False) as log:
        assert merged(log, texts[1]).merged.added["entry"] == 3
        keys = [row["entry"]["key"] for row in rows(exported(log)) if "entry" in row]
        assert keys.count("line:1") == 1 and len(keys) == 7  # and the choice that keeps the current
        assert merged(log, texts[1]).merged.added == {}


def rows(text: str) -> list[dict[str, Any]]:
    return list(json.loads(text)["rows"])


def test_many_bits_of_one_name_are_matched_in_few_questions(tmp_path: Path) -> None:
    """Twice as many bits, twice as many statements: each table of the catalogue is read once."""
    asked = []
    for count in (40, 80):
        with open_log(tmp_path / f"{count}.db", create=True) as log:
            log.add_bit(BIT)
            (row,) = rows(exported(log))
            plain = {k: v for k, v in row["bit"].items() if k != "digest"}
            bits = [{"bit": {**plain, "id": n, "diameter": 20 + n / 100}} for n in range(1, count)]
            older = {**json.loads(exported(log)), "version": 3}  # without digests
            text = json.dumps({**older, "rows": bits, "count": len(bits)})
            seen: list[str] = []

            def note(*told: Any, seen: list[str] = seen) -> None:
                seen.append(told[2])

            event.listen(log.store._connection, "before_cursor_execute", note)
            assert merged(log, text).merged.added == {"bit": count - 1}
            asked.append(len(seen))
            assert len(log.bits()) == count
    assert asked[1] - asked[0] <= 40 + 4


def test_what_is_wrong_is_found_before_it_is_the_turn_to_write(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nobody waits for the checks."""
    with open_log(tmp_path / "a.db", create=True) as log:
        stock_up(log)
        log.start(PLAN, FIRST, "{}", at(1))
        text = exported(log).replace('"board_width": 138.5', '"board_width": -1')
        monkeypatch.setattr("fitlog.service.exchange.together", None)
        with pytest.raises(Refused, match="row"):
            merged(log, text)
