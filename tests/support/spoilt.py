"""Exports of a small log with some of their values or characters replaced, and what must hold when
they come in.
"""

from __future__ import annotations

import io
import json
import sqlite3
import tempfile
from contextlib import closing
from copy import deepcopy
from pathlib import Path
from typing import Any

from hypothesis import strategies as st
from shop import BIT, STOCK, Shop

from fitlog.domain import SetUp
from fitlog.errors import FitlogError
from fitlog.exchange.document import rows_of
from fitlog.log import Log, open_log
from fitlog.log.digests import advice_said, chained
from fitlog.service.exchange import read_log, write_log

NOISE = "0123456789.,-+ \t\"'=eE\x1b\x00\u202e\n\ud800"


def an_export() -> dict[str, Any]:
    """The document of a small log, made once by the real commands."""
    with tempfile.TemporaryDirectory() as folder:
        shop = Shop(Path(folder))
        shop.run("bit", "add", "marsh", *BIT, "--db", str(shop.db))
        shop.run("stock", "add", "elm", *STOCK, "--db", str(shop.db))
        for line in (
            "start",
            "cut tight, gap far 0.4 --mouth 9 --note n",
            "undo",
            "cut good, centred, flush",
            "finish",
            "prefer --units inch",
        ):
            shop.run(*line.split(), "--db", str(shop.db))
        out = io.StringIO()
        with open_log(shop.db, create=False) as log:
            write_log(log, out.write)
    found: dict[str, Any] = json.loads(out.getvalue())
    before = ""
    for row in found["rows"]:
        if advice := row.get("advice"):
            advice["document"] = "{}"
            before = advice["digest"] = chained(before, advice_said(advice))
    return found


JUNK = (
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=6)
    | st.sampled_from(
        [
            "",
            -1,
            0,
            1e300,
            2**63,
            "x" * 3000,
            "\x1b[2J",
            "\u202e",
            [],
            {},
            [[]],
            "9999-99-99T00:00:00.000000Z",
            "tight",
            "start",
        ]
    )
)


class Exports:
    """Exports with some values replaced, imported into logs in memory's place: a file in a
    temporary folder.
    """

    def __init__(self) -> None:
        self.folder = tempfile.TemporaryDirectory()
        self.text = json.dumps(an_export())
        self.empty = Path(self.folder.name) / "empty.db"
        with open_log(self.empty, create=True):
            pass

    def strategy(self) -> st.SearchStrategy[tuple[str, bool]]:
        """An export as text, and whether it goes into a log that has the unspoilt one already."""
        return st.tuples(self.spoilt(), st.booleans())

    def spoilt(self) -> st.SearchStrategy[str]:
        """The text of the export, a few of its values replaced, or some of its characters."""

        @st.composite
        def made(draw: st.DrawFn) -> str:
            if draw(st.integers(0, 3)) == 0:
                at = draw(st.integers(0, len(self.text)))
                return (
                    self.text[:at]
                    + draw(st.text(NOISE + '{}[]":', max_size=3))
                    + self.text[at + draw(st.integers(0, 9)) :]
                )
            document = json.loads(self.text)
            if draw(st.booleans()):  # as an older fitlog wrote it: nothing tells what was changed
                document["version"] = 3  # the last one without
                for (row,) in (row.values() for row in document["rows"]):
                    del row["digest"]
            for _ in range(draw(st.integers(1, 3))):
                place: Any = document
                while isinstance(place, dict | list) and place:
                    keys = sorted(place) if isinstance(place, dict) else list(range(len(place)))
                    key = draw(st.sampled_from(keys))
                    if (
                        not isinstance(place[key], dict | list)
                        or not place[key]
                        or draw(st.integers(0, 9)) == 0
                    ):
                        if draw(st.integers(0, 4)) == 0:
                            del place[key]
                        else:
                            place[key] = deepcopy(draw(JUNK))
                        break
                    place = place[key]
            return json.dumps(document)

        return made()

    def check(self, case: tuple[str, bool]) -> None:
        """All is stored and every row of it can be read, or nothing is."""
        text, twice = case
        path = Path(self.folder.name) / "log.db"
        for end in ("", "-wal", "-shm"):
            path.with_name(path.name + end).unlink(missing_ok=True)
        path.write_bytes(self.empty.read_bytes())
        with open_log(path, create=False) as log:
            if twice:
                read_log(log, rows_of(io.StringIO(self.text)), "me")
            before = dump(path)
            try:
                read_log(log, rows_of(io.StringIO(text)), "me")
            except FitlogError as error:
                assert error.message.isprintable() and error.hint, (
                    error.code,
                    error.message,
                    error.hint,
                )
                assert dump(path) == before
                return
            read_all(log)
        with closing(sqlite3.connect(path)) as plain:
            assert plain.execute("PRAGMA foreign_key_check").fetchall() == []


def read_all(log: Log) -> list[SetUp]:
    """Every row of a log as a value of the domain."""
    found = log.setups()
    for items in (log.bits(retired=True), log.stocks(retired=True), log.machines(retired=True)):
        assert items is not None
    for setup in found:
        for logged in log.cut_entries(setup.number):
            assert all(c.isprintable() for c in logged.cut.note + logged.cut.heard + logged.cut.by)
    write_log(log, lambda _: None)
    return found


def dump(path: Path) -> list[str]:
    """Every row of a log."""
    with closing(sqlite3.connect(path)) as plain:
        return list(plain.iterdump())
