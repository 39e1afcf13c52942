"""Invented values, places and helpers for the tests of the log."""

from __future__ import annotations

import os
import re
import sqlite3
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import forked
import pytest
from postgres import Server
from shop import ROOT, Shop
from tables import table

from fitlog.domain import Bit, Fault, Note, Reading, Stock, TrialCut
from fitlog.errors import FitlogError
from fitlog.exchange.document import VERSION
from fitlog.families.half_blind.names import judged, say, set_to
from fitlog.families.half_blind.plan import DovetailPlan
from fitlog.log import Log, Stamp, layout

T0 = datetime(2031, 3, 4, 5, 6, 7, 890123, tzinfo=UTC)
STAMP = Stamp("mira", T0, "the table")
BIT = Bit("Green 8", 12.6, 8.0, 11.5, measured=True, neck=8.5)
OAK = Stock("red oak", "oak (invented)", 18.4, 140.0)
ASH = Stock("ash", "ash (invented)", 12.2, 139.0)
TABLE = table(
    "the table",
    height_step=0.02,
    height_turn=1.5,
    fence_step=0.05,
    backlash=0.1,
    height_zero=0.31,
    fence_zero=-0.4,
)
FIRST = set_to(8.7, 70.2, 9.1)
PLAN = DovetailPlan(
    BIT,
    OAK,
    ASH,
    TABLE,
    pitch=20.1,
    board_width=138.5,
    tail_thickness=18.3,
    pin_thickness=12.1,
    rabbet_depth=6.2,
    rabbet_bit="straight",
    wanted_step=0.2,
    in_play=("seat", "fit"),
    words_only=True,
    by_eye=True,
    spaced=True,
    many_tails=True,
    scrap="pine offcuts",
    piece_width=90.5,
    piece_thickness=17.9,
)
FULL = TrialCut(
    0,
    1,
    set_to(8.71, 70.25, 9.15),
    judged(
        say("fit", "slightly loose", 0.4),
        say("centre", "gap far", 0.3),
        say("seat", "proud", 0.25),
        (Fault("baseline", 0.2), Fault("unplaced")),
    ),
    (
        Reading("pull_gap", 0.41),
        Reading("between_rods", 3.3, rod=2.0),
        Reading("over_rods", 9.9, rod=2.0),
        Reading("walls", 63.1, other=63.9),
        Reading("mouth", 10.1),
        Reading("tail_width", 10.05),
    ),
    ("bit_height", "socket_depth"),
    FIRST,
    "slightly loose 0.4, gap far 0.3",
    "a note; DROP TABLE entry",
    "poplar",
    {"width": 88.0, "thickness": 17.5},
)
PLAIN = TrialCut(0, 1, FIRST, judged(fit=say("fit", "tight")))
TABLES = {table.name for table in layout.APPEND_ONLY}
CATALOGUE = {"bit", "stock", "machine"}
# Columns that hold a JSON object, and texts that are none.
OBJECTS = {"figures", "settings", "advised", "sizes", "zeros", "parts"}
NO_OBJECTS = [
    "",
    "{",
    "[]",
    '"x"',
    "3",
    "{'a': 1}",
    '{"a": NaN}',
    '{"a": Infinity}',
    '{"a": 1} {}',
    '{"a": "' + "x" * 4000 + '"}',
]


@dataclass(frozen=True)
class Place:
    """Where a log is kept, and how to look into it past fitlog. server: None for a file."""

    location: str
    server: Server | None = None

    def plain(self) -> Any:
        """A connection of the driver alone, each statement stored at once; for a `with` block."""
        if self.server is None:
            return raw(Path(self.location))
        import psycopg

        return psycopg.connect(self.server.way(self.location), autocommit=True)

    def rows(self, query: str) -> list[tuple[Any, ...]]:
        """The rows of a query."""
        with self.plain() as plain:
            return [tuple(row) for row in plain.execute(query).fetchall()]

    def child(self, code: str, **more: str) -> forked.Popen:
        """A process of its own that runs `code` with the location of this place as `path`; more:
        for its environment.
        """
        command = [sys.executable, "-c", CHILD + code, self.location]
        environment = {**os.environ, "PYTHONPATH": str(ROOT), **more}
        return forked.Popen(command, env=environment)


def make_place(kind: str, request: pytest.FixtureRequest, folder: Path) -> Place:
    """Return where a log of this kind, "file" or "server", can be made."""
    if kind == "file":
        return Place(str(folder / "deep" / "er" / "log.db"))
    running: Server = request.getfixturevalue("server")
    return Place(running.place(), running)


def undigested(text: str) -> str:
    """An export as a fitlog without digests would have written it, so that a row can be another."""
    today = f'"fitlog": "log", "version": {VERSION}'
    older = text.replace(today, '"fitlog": "log", "version": 3', 1)
    return re.sub(r', "digest": (null|"[^"]*")', "", older)


def stock_up(log: Log) -> Log:
    """Put the bit, the stocks and the machine in the catalogue."""
    log.add_bit(BIT)
    for stock in (OAK, ASH):
        log.add_stock(stock)
    log.add_machine(TABLE)
    return log


def fill(log: Log) -> Log:
    """Put at least one row in every table."""
    log.prefer("mira", units="in", at=T0)
    log.sharpen(BIT.name, 12.4, STAMP)
    number = log.start(replace(PLAN, bit=log.bit(BIT.name)), FIRST, '{"a": 1}', STAMP)
    log.retract(log.record(number, FULL, STAMP), STAMP)
    log.record(number, FULL, STAMP)
    log.retract(log.log_found(number, {"bit_height": 8.6}, STAMP), STAMP)
    log.redo(number, STAMP)
    log.note(number, [Note("title", "chest (invented)")], STAMP)
    return log


def refused(code: str, call: Any, *args: Any, **options: Any) -> FitlogError:
    """Expect a refusal with this code, one sentence, a hint, and nothing of the machinery."""
    with pytest.raises(FitlogError) as caught:
        call(*args, **options)
    assert caught.value.code == code
    assert caught.value.hint and "\n" not in caught.value.message
    assert "sqlalchemy" not in caught.value.message.lower()
    return caught.value


def raw(path: Path) -> Any:
    """A plain connection of sqlite3, each statement stored at once; closed at the end of a `with`
    block.
    """
    return closing(sqlite3.connect(path, isolation_level=None))


@contextmanager
def ordinary_user() -> Iterator[None]:
    """Work as a user whom permissions bind; root is bound by none."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


CHILD = """
import os, signal, sys
from datetime import datetime, UTC
from dataclasses import replace
from sqlalchemy import event
from sqlalchemy.engine import Engine
from fitlog.domain import *
from fitlog.errors import Refused
from fitlog.families.half_blind.names import *
from fitlog.log import Log, Preferences, Stamp, engine, entries, open_log
path = sys.argv[1]
stamp = Stamp("child", datetime.now(UTC))
said = judged(say("fit", "tight"), say("centre", "centred"), say("seat", "flush"))
cut = TrialCut(0, 1, set_to(8.7, 70.2, 9.1), said, (Reading("mouth", 10.0),))
def die_at(start):
    def look(connection, cursor, statement, *rest):
        if f";\\n{statement}".find(f";\\n{start}") >= 0:  # a request may be several statements
            os.kill(os.getpid(), signal.SIGKILL)
    event.listen(Engine, "before_cursor_execute", look)
"""


def beside(shop: Shop) -> set[str]:
    """The files beside the log, hidden ones too; -wal and -shm are the log's own."""
    return {p.name for p in shop.home.iterdir() if p.is_file()} - {
        "log.db",
        "log.db-wal",
        "log.db-shm",
    }
