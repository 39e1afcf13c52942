"""Large logs of an invented shop, written straight into the tables: 40 bits, 30 stocks, 5 machines,
8 people, 20 years.

Seeded: the same number of set-ups always gives the same rows. Every set-up takes about 20 trial
cuts (12 to 28), each with words, some with numbers and gaps; some cuts are taken back, some set-ups
abandoned or undone. The last one is of the first bit, stock and machine, by `PEOPLE[0]`, three
pieces into its tuning.
"""

from __future__ import annotations

import json
import math
import random
import sqlite3
from bisect import bisect
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, StaticPool, create_engine
from tables import table

from fitlog.advice import advise
from fitlog.advice.history import History
from fitlog.document import advice_document
from fitlog.domain import Bit, Plan, Settings, SetUp, Stock, TrialCut
from fitlog.families import joint_of
from fitlog.families.half_blind import figures
from fitlog.families.half_blind.names import WORDS, judged, say, set_to
from fitlog.families.half_blind.opening import first_settings, pitch_for
from fitlog.families.half_blind.plan import DovetailPlan
from fitlog.language.units import Ruler
from fitlog.log import open_log
from fitlog.log.rows import plan_values
from fitlog.log.transfer import bulk, digesting

PEOPLE = tuple(
    f"{name} (invented)"
    for name in ("Wren", "Rook", "Finch", "Tern", "Swift", "Crake", "Diver", "Knot")
)
SPECIES = ("ash", "beech", "cherry", "elm", "maple", "oak", "pine", "walnut")
BITS = tuple(
    Bit(f"bit {n:02d}", round(9.5 + 0.25 * (n % 26), 2), (7.0, 8.0, 9.0, 14.0)[n % 4], 14.0 + n % 5)
    for n in range(40)
)
STOCKS = tuple(
    Stock(f"stock {n:02d}", SPECIES[n % 8], 15.0 + n % 7, 110.0 + 5 * n) for n in range(30)
)
MACHINES = tuple(table(f"table {n}", height_step=0.05, fence_step=0.05) for n in range(5))
CUTS = (12, 28)
OPENED = datetime(2011, 3, 4, 7, 0, tzinfo=UTC)
YEARS = 20.0
SHARPENED_EVERY = 400  # set-ups of a bit
STATED = "bit_height,fence_offset"
Row = tuple[Any, ...]


@dataclass
class Rows:
    """Rows on their way into the tables, by table; the columns are those named in COLUMNS."""

    held: dict[str, list[Row]] = field(default_factory=lambda: {name: [] for name in COLUMNS})

    def add(self, table: str, *row: Any) -> None:
        """Hold one row."""
        self.held[table].append(row)


COLUMNS = {
    "entry": "id, kind, setup, at, by, machine",
    "advice": "id, setup, entry, at, settings, document",
    "trial_cut": "entry, advice, piece, settings, stated, advised, heard, note, scrap, sizes",
    "verdict": "cut, aspect, word, size",
    "reading": "cut, kind, value",
    "retraction": "entry, retracted",
    "sharpening": "bit, at, by, diameter_before, measured_before, diameter_after",
}


def make(path: Path, setups: int, only_last: bool = False, cuts: tuple[int, int] = CUTS) -> int:
    """Write a log of `setups` set-ups; return its number of trial cuts. only_last: the one left
    open and nothing else.

    cuts: the fewest and the most of a set-up.
    """
    with open_log(path, create=True) as log:
        for bit in BITS:
            log.add_bit(bit)
        for stock in STOCKS:
            log.add_stock(stock)
        for machine in MACHINES:
            log.add_machine(machine)
    with closing(sqlite3.connect(path, isolation_level=None)) as plain:
        for pragma in (
            "journal_mode = OFF",
            "synchronous = OFF",
            "cache_size = -400000",
            "locking_mode = EXCLUSIVE",
        ):
            plain.execute(f"PRAGMA {pragma}")
        guards = plain.execute(
            "SELECT type, name, sql FROM sqlite_master WHERE type IN ('trigger', 'index') AND sql "
            "IS NOT NULL"
        ).fetchall()
        engine = create_engine("sqlite://", creator=lambda: plain, poolclass=StaticPool)
        with engine.connect() as connection:
            plain.execute("BEGIN")
            for kind, name, _ in guards:
                plain.execute(f"DROP {kind} {name}")
            _fill(connection, _Writer(setups, cuts), 1 if only_last else setups)
            for _, _, sql in guards:
                plain.execute(sql)
            plain.execute("COMMIT")
        return int(plain.execute("SELECT count(*) FROM trial_cut").fetchone()[0])


def _fill(connection: Connection, writer: _Writer, setups: int) -> None:
    digest = digesting.heads(connection)
    for number in range(1, setups + 1):
        writer.write(number, last=number == setups)
        if number % 500 == 0 or number == setups:
            rows = {"setup": writer.setups} | {
                table: [dict(zip(COLUMNS[table].split(", "), row, strict=True)) for row in held]
                for table, held in writer.rows.held.items()
            }
            digesting.give(digest, rows)
            bulk.insert(connection, rows)
            writer.empty()


class _Writer:
    """Makes the rows of one set-up after another."""

    def __init__(self, total: int, cuts: tuple[int, int]) -> None:
        self.cuts = cuts
        self.random, self.rows, self.setups = random.Random(20260), Rows(), list[dict[str, Any]]()
        self.entry = self.advice = 0
        self.apart = timedelta(days=365.25 * YEARS / max(1, total))
        self.known: dict[tuple[int, int], tuple[Plan, Settings, float, float]] = {}
        self.used: dict[int, int] = {}
        self.now = OPENED
        self.off = [self.random.gauss(-0.07, 0.03) for _ in BITS]
        self.documents = tuple(_documents())

    def empty(self) -> None:
        """Let go of what was written."""
        self.rows, self.setups = Rows(), []

    def write(self, number: int, *, last: bool) -> None:
        """Add the rows of a set-up."""
        if last:  # the same in a log of any size
            self.random = random.Random(0)
        r = self.random
        bit = 0 if last else int(len(BITS) * r.random())
        stock = 0 if last else int(len(STOCKS) * r.random())
        table, person = (0, PEOPLE[0]) if last else (r.randrange(len(MACHINES)), r.choice(PEOPLE))
        self.now = max(self.now, OPENED + number * self.apart)
        times = self._sharpenings(bit)
        plan, first, slope, wanted = self._planned(bit, stock)
        start = self._entry("start", number, person, table)
        columns = {
            "id": number,
            "entry": start,
            "bit_id": bit + 1,
            "stock_id": stock + 1,
            "pin_stock_id": stock + 1,
            "machine_id": table + 1,
            "sharpenings": times,
            **plan_values(replace(plan, machine=MACHINES[table]), first),
        }
        self.setups.append(columns)
        self._advice(number, first, 0)
        misfit = self.off[bit] - 0.1 * times + r.gauss(0, 0.03) + wanted
        self._cuts(
            number, first, slope, misfit, person, table, 0 if last else r.randint(*self.cuts)
        )
        if not last:
            self._end(number, start, person, table)

    def _cuts(
        self,
        number: int,
        first: Settings,
        slope: float,
        misfit: float,
        person: str,
        table: int,
        count: int,
    ) -> None:
        """Pieces that close in on the good one; what is said follows from how far off each is.
        count 0: three, none good.
        """
        r = self.random
        best = first["bit_height"] - misfit / slope
        for piece in range(1, (count or 3) + 1):
            far = 0.8 ** (piece - 1)
            at = set_to(
                round(best + far * r.gauss(0, 0.25), 3),
                round(first["fence_offset"] + far * r.gauss(0, 0.2), 3),
                round(first["socket_depth"] + far * r.gauss(0, 0.25), 3),
            )
            entry = self._entry("cut", number, person, table)
            self._said(entry, slope * (at["bit_height"] - best) + 0.07, at, first, piece == count)
            self.rows.add(
                "trial_cut",
                entry,
                self.advice,
                piece,
                dict(at),
                STATED,
                dict(first),
                "as logged",
                "",
                "",
                {},
            )
            if r.random() < 0.02 and piece < count:  # a slip, taken back and said again
                back = self._entry("retract", number, person, table)
                self.rows.add("retraction", back, entry)
                entry = self._entry("cut", number, person, table)
                self._said(entry, slope * (at["bit_height"] - best) + 0.07, at, first, False)
                self.rows.add(
                    "trial_cut",
                    entry,
                    self.advice,
                    piece,
                    dict(at),
                    STATED,
                    dict(first),
                    "again",
                    "",
                    "",
                    {},
                )
            self._advice(number, at, piece)

    def _said(self, cut: int, clearance: float, at: Settings, first: Settings, ended: bool) -> None:
        """What was said of a piece: the word of its clearance, sometimes with its gap or its
        number.
        """
        r = self.random
        gap = max(clearance, 0.0) / 0.28
        sized = round(gap, 2) if clearance > 0.02 and r.random() < 0.3 else None
        fit = (
            "good"
            if ended
            else WORDS["fit"][bisect(figures.FIT_EDGES, clearance + r.gauss(0, 0.02))]
        )
        self.rows.add("verdict", cut, "fit", fit, sized or None)
        if r.random() < 0.8 or ended:
            away = at["fence_offset"] - first["fence_offset"]
            word = "centred" if abs(away) < 0.05 or ended else "gap far" if away > 0 else "gap near"
            self.rows.add(
                "verdict",
                cut,
                "centre",
                word,
                None if word == "centred" else round(2 * abs(away), 2),
            )
        if r.random() < 0.8 or ended:
            step = 0.0 if ended else at["socket_depth"] - first["socket_depth"]
            word = WORDS["seat"][bisect(figures.SEAT_EDGES, -step)]
            self.rows.add(
                "verdict",
                cut,
                "seat",
                word,
                None if word == "flush" else max(0.01, round(abs(step), 2)),
            )
        if sized is None and gap > 0.05 and r.random() < 0.1:
            self.rows.add("reading", cut, "pull_gap", round(gap, 2))

    def _end(self, number: int, start: int, person: str, table: int) -> None:
        chance = self.random.random()
        if chance < 0.01:
            self.rows.add("retraction", self._entry("retract", number, person, table), start)
            return
        end = self._entry("abandon" if chance < 0.04 else "finish", number, person, table)
        if chance > 0.995:  # taken back, and ended again
            self.rows.add("retraction", self._entry("retract", number, person, table), end)
            self._entry("finish", number, person, table)

    def _entry(self, kind: str, setup: int, person: str, table: int) -> int:
        self.entry += 1
        self.now += timedelta(seconds=self.random.randrange(60, 180))
        at = _text(self.now)
        self.rows.add("entry", self.entry, kind, setup, at, person, MACHINES[table].name)
        return self.entry

    def _advice(self, setup: int, at: Settings, piece: int) -> None:
        self.advice += 1
        document = self.documents[min(piece, len(self.documents) - 1)].replace(
            '"setup": 1,', f'"setup": {setup},', 1
        )
        when = _text(self.now)
        self.rows.add("advice", self.advice, setup, self.entry, when, dict(at), document)

    def _sharpenings(self, bit: int) -> int:
        used = self.used[bit] = self.used.get(bit, 0) + 1
        times = used // SHARPENED_EVERY
        if used % SHARPENED_EVERY == 0:
            at = _text(self.now)
            self.rows.add("sharpening", bit + 1, at, PEOPLE[0], BITS[bit].diameter, 0, None)
        return times

    def _planned(self, bit: int, stock: int) -> tuple[Plan, Settings, float, float]:
        """A plan, its first settings, the fit's slope, mm a mm, and how far off the first height is
        by the figures.
        """
        if (bit, stock) not in self.known:
            wood = STOCKS[stock]
            plan = DovetailPlan(
                BITS[bit],
                wood,
                wood,
                MACHINES[0],
                pitch=2 * BITS[bit].diameter,
                board_width=wood.width,
                tail_thickness=wood.thickness,
                pin_thickness=wood.thickness,
                rabbet_depth=BITS[bit].diameter / 2,
            )
            plan = replace(plan, pitch=round(pitch_for(plan, 7.5 + stock % 3, History()), 1))
            first = first_settings(plan, History())
            slope = -2 * math.tan(plan.bit.theta)
            nominal = joint_of(plan).nominal("fit", first, plan.boards())
            self.known[bit, stock] = plan, first, slope, 0.07 - nominal
        return self.known[bit, stock]


def _text(at: datetime) -> str:
    return at.replace(tzinfo=None).isoformat(timespec="microseconds") + "Z"


def _documents() -> Iterator[str]:
    """The real documents of one set-up's advice, for nothing, one, two, ... pieces."""
    plan = DovetailPlan(
        BITS[0],
        STOCKS[0],
        STOCKS[0],
        MACHINES[0],
        pitch=17.2,
        board_width=110,
        tail_thickness=15,
        pin_thickness=15,
        rabbet_depth=4.75,
    )
    first = first_settings(plan, History())
    setup = SetUp(1, plan, first, first, OPENED)
    words = (
        ("slightly tight", "gap far", "proud"),
        ("slightly loose", "centred", "shy"),
        ("good", "centred", "flush"),
    )
    for piece in range(4):
        if piece:
            said = [
                say(a, w) for a, w in zip(("fit", "centre", "seat"), words[piece - 1], strict=True)
            ]  # type: ignore[arg-type]
            setup = replace(
                setup, cuts=(*setup.cuts, TrialCut(piece, piece, setup.shown, judged(*said)))
            )
        advice = advise(setup, History())
        setup = replace(setup, shown=advice.settings)
        yield json.dumps(advice_document(setup, advice, Ruler()))
