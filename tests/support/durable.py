"""Processes that log until they are killed, and what must be true of their log afterwards."""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import time
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from fitlog.domain import Bit, Fault, Note, Reading, Stock, TrialCut
from fitlog.families.half_blind.names import judged, say, set_to
from fitlog.families.half_blind.plan import DovetailPlan
from fitlog.log import Log, Stamp, open_log
from fitlog.log.care import rebuilding

ROOT = Path(__file__).resolve().parents[2]
BIT = Bit("invented 8", 12.6, 8.0, 16.0)
STOCK = Stock("invented oak", "oak (invented)", 17.0, 150.0)
FIRST = set_to(8.7, 70.2, 9.1)
PLAN = DovetailPlan(
    BIT,
    STOCK,
    STOCK,
    None,
    pitch=22.6,
    board_width=150.0,
    tail_thickness=17.0,
    pin_thickness=17.0,
    rabbet_depth=6.3,
)
# Five verdicts and three readings: nine rows in four tables, which must come together or not at
# all.
CUT = TrialCut(
    0,
    1,
    FIRST,
    judged(
        say("fit", "tight", 0.2),
        say("centre", "gap far", 0.3),
        say("seat", "proud", 0.25),
        (Fault("baseline", 0.2), Fault("unplaced")),
    ),
    (
        Reading("pull_gap", 0.41),
        Reading("between_rods", 3.3, rod=2.0),
        Reading("walls", 63.1, other=63.9),
    ),
)
# What comes with the start and with the end of a set-up, in one transaction each.
TITLE, KEPT, SAID = Note("title", "chest"), Note("kept", "shelf"), Note("note", "a knot")
PARTS = {"verdict": 5, "reading": 3}
Tell = Callable[[str], None]


class Lost(AssertionError):
    """Something acknowledged is not there, or something half written is."""


def now() -> Stamp:
    """Who and when."""
    return Stamp("bench", datetime.now(UTC))


def new_log(path: Path, bits: int = 1) -> None:
    """Lay out a log with `bits` bits and a stock."""
    with open_log(path, create=True) as log:
        for number in range(bits):
            log.add_bit(
                Bit(
                    f"another {number}" if number else BIT.name,
                    BIT.diameter,
                    BIT.angle,
                    BIT.cutting_length,
                )
            )
        log.add_stock(STOCK)


def recorder(path: Path, draw: random.Random) -> Callable[[Tell], None]:
    """Return what a process does: log one thing after another, for ever, and tell each after it is
    stored.
    """

    def work(tell: Tell) -> None:
        with open_log(path, create=False) as log:
            tell("ready")
            while True:
                tell(step(log, draw))

    return work


def step(log: Log, draw: random.Random) -> str:
    """Do one thing that a person does; return what was stored."""
    opened = log.open_setups(BIT.name)
    if not opened:
        return f"start {log.start(PLAN, FIRST, '{}', now(), notes=[TITLE])}"
    number, chance = opened[0].number, draw.random()
    if chance < 0.08:
        return f"end {log.close(number, 'finished', now(), notes=[KEPT])}"
    if chance < 0.16 and opened[0].cuts:
        entry = opened[0].cuts[-1].entry
        log.retract(entry, now())
        return f"back {entry}"
    if chance < 0.3:
        log.show(number, set_to(8.0 + draw.random(), 70.2, 9.1), "{}", now())
        return "shown"
    if chance < 0.4:
        return f"note {log.note(number, [SAID], now())}"
    return f"cut {log.record(number, CUT, now())}"


def killed(work: Callable[[Tell], None], wait: float, after_ready: bool) -> list[str]:
    """Run `work` in a process of its own, kill it `wait` seconds after its start or its first line;
    return its lines.
    """
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(reading)
            work(lambda line: (os.write(writing, (line + "\n").encode()), None)[1])
        finally:
            os._exit(0)
    os.close(writing)
    told = os.read(reading, 1) if after_ready else b""
    time.sleep(wait)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    with os.fdopen(reading, "rb") as rest:
        return (told + rest.read()).decode().splitlines()


def undisturbed(work: Callable[[Tell], None], remove: Path | None = None) -> float:
    """Seconds that `work` takes in a process of its own; afterwards its file `remove` is
    removed.
    """
    began = time.monotonic()
    child = os.fork()
    if child == 0:
        try:
            work(lambda line: None)
        finally:
            os._exit(0)
    os.waitpid(child, 0)
    taken = time.monotonic() - began
    if remove is not None:
        remove.unlink()
    return taken


def sound(path: Path) -> None:
    """Check a log from outside with SQLite's own means, then row by row from inside."""
    with closing(sqlite3.connect(path)) as plain:
        found = [
            *plain.execute("PRAGMA integrity_check"),
            *plain.execute("PRAGMA foreign_key_check"),
        ]
        if found != [("ok",)]:
            raise Lost(f"SQLite finds {found[:3]}")
        for table, parts in PARTS.items():
            wrong = (
                f"SELECT t.entry FROM trial_cut t LEFT JOIN {table} p ON p.cut = t.entry "
                "GROUP "
                "BY 1 HAVING count(p.id) <> ?"
            )
            if half := plain.execute(wrong, (parts,)).fetchall():
                raise Lost(f"cut {half[0][0]} has not its {parts} rows of {table}")
    with open_log(path, create=False) as log, log.store.reading() as connection:
        for fault in rebuilding.faults(connection):
            raise Lost(fault)


def stored(path: Path) -> set[str]:
    """Everything in the log, in the words of `step`."""
    asked = {
        "start": "SELECT id FROM setup",
        "cut": "SELECT entry FROM trial_cut",
        "note": "SELECT entry FROM note WHERE about = 'note'",
        "back": "SELECT retracted FROM retraction",
        "end": "SELECT id FROM entry WHERE kind IN ('finish', 'abandon')",
    }
    with closing(sqlite3.connect(path)) as plain:
        return {
            f"{what} {number}"
            for what, query in asked.items()
            for (number,) in plain.execute(query)
        }


def noted(path: Path) -> None:
    """Check that every start of `step` has its title, and every end its sample's place."""
    with closing(sqlite3.connect(path)) as plain:
        for kind, about in (("start", "title"), ("finish", "kept")):
            (kinds,) = plain.execute(
                "SELECT count(*) FROM entry WHERE kind = ?", (kind,)
            ).fetchone()
            (notes,) = plain.execute(
                "SELECT count(*) FROM note WHERE about = ?", (about,)
            ).fetchone()
            if kinds != notes:
                raise Lost(f"{kinds} entries of kind {kind} have {notes} notes about {about}")


def pieces(path: Path) -> int:
    """How many trial cuts there are."""
    with closing(sqlite3.connect(path)) as plain:
        return int(plain.execute("SELECT count(*) FROM trial_cut").fetchone()[0])
