"""One row that somebody wrote past fitlog, or that a disk changed: it is told with its number and
what to do, and it blocks no more than it must. On a file and on a server alike; the people are
invented.
"""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from logs import BIT as BIT_OF
from logs import FIRST, FULL, OAK, PLAIN, PLAN, STAMP, Place, fill, refused, stock_up
from shop import BIT, STOCK, Shop
from sqlalchemy import Text
from sqlalchemy.types import REAL, Integer
from unguarded import Unguarded, faults

from fitlog.domain import Machine
from fitlog.fronts.bench.table import Table
from fitlog.log import Log, layout, open_log
from fitlog.log.care import upkeep as care
from fitlog.log.columns import Members
from fitlog.service.exchange import write_log
from fitlog.service.session import Session

JAY = {"LOGNAME": "jay", "USER": "jay"}
TABLES = {table.name: table for table in (*layout.CATALOGUE, *layout.APPEND_ONLY)}
AT = "2031-03-04T05:06:07.890123Z"


@pytest.fixture
def begun(place: Place, shop: Shop) -> Iterator[tuple[Place, Shop]]:
    """A shop whose log, wherever it is, has a set-up with a cut."""
    shop.run("bit", "add", "marsh", *BIT, "--db", place.location)
    shop.run("stock", "add", "elm", *STOCK, "--db", place.location)
    shop.run("start", "--db", place.location)
    shop.run("cut", "tight", "--db", place.location)
    yield place, shop


# A preference


def written(place: Place, key: str, value: str) -> None:
    with place.plain() as plain:
        plain.execute(
            "INSERT INTO preference (login, key, value, at) "
            f"VALUES ('jay', '{key}', '{value}', '{AT}')"
        )


def test_a_unit_that_is_none_keeps_nobody_from_the_log(begun: tuple[Place, Shop]) -> None:
    """What only shows goes on, in mm, and says so; what reads a length, which could be any, is
    refused until that person said theirs anew.
    """
    place, shop = begun

    def jay(line: str, code: int = 0) -> str:
        told = shop.run(*line.split(), "--db", place.location, env=JAY, code=code)
        assert code or told.out
        return told.err

    jay("prefer --units inch")
    written(place, "units", "furlong")
    wrong = "preference 2 of the log makes no sense: the units of jay cannot be 'furlong'"
    for line in ("next", "show 1", "review", "prefer", "machine list", "log export -"):
        if line != "log export -":  # no digest vouches for that row
            told = jay(line)
            assert f"{wrong}; it counts as not said" in told, line
            assert "fitlog prefer --units mm" in told
    assert " mm" in shop.run("next", "--db", place.location, env=JAY).out
    for line in ("cut loose", "found --height 9", "bit edit marsh --neck 7", "start --height 9"):
        said = shop.run(*line.split(), "--db", place.location, "--json", env=JAY, code=1)
        assert said.document["error"]["code"] == "damaged-log", line
        assert wrong in said.document["error"]["message"]
        assert "fitlog prefer --units mm" in said.document["error"]["hint"]
    with open_log(place.location, create=False) as log:  # all of a dialogue reads numbers
        assert refused("damaged-log", Table, Session(log, "jay"), 1).message == wrong
    health = shop.run("log", "health", "--db", place.location, "--json", code=1).document["faults"]
    assert wrong in health
    assert jay("prefer --units inch") == ""
    assert "preference" not in jay("cut loose")
    health = shop.run("log", "health", "--db", place.location, "--json", code=1).document["faults"]
    assert not any("furlong" in fault for fault in health)  # said anew, it blocks nothing any more


@pytest.mark.parametrize(("key", "value"), [("name", "\x1b[2J"), ("machine", "\x1b[2J")])
def test_another_preference_that_makes_no_sense_is_told(
    log: Log, place: Place, key: str, value: str
) -> None:
    log.prefer("jay", units="inch", name="Jay", machine="the table", at=STAMP.at)
    written(place, key, value)
    found = log.preferences("jay")
    assert found.units == "inch" and getattr(found, key) is None
    assert list(found.unreadable) == [key]
    assert f"fitlog prefer --{key} " in found.unreadable[key].hint
    assert any(fault.startswith("preference 4 of ") for fault in care.health(log).faults)


def test_at_a_machine_that_nobody_knows_no_other_ones_set_up_is_meant(
    begun: tuple[Place, Shop],
) -> None:
    place, shop = begun
    written(place, "machine", "\x1b[2J")
    for line in ("undo --yes", "next", "finish --abandon"):
        said = shop.run(*line.split(), "--db", place.location, "--json", env=JAY, code=1).document
        assert said["error"]["code"] == "damaged-log"
        assert "fitlog prefer --machine NAME" in said["error"]["hint"]
    shop.run("prefer", "--machine", "", "--db", place.location, env=JAY)
    shop.run("next", "--db", place.location, env=JAY)


# A moment


# Each passes the CHECK of its store.
MOMENTS = [
    ("file", "2031-03-04T24:00:00.000000Z"),
    ("file", "2031-02-30T05:06:07.000000Z"),
    ("file", "9999-12-31T23:59:59.000000Z"),
    ("server", "2031-03-04T24:00:00.000000Z"),
    ("server", "2031-03-04T05:06:60.000000Z"),
    ("server", "9999-12-31T23:59:59.999999Z"),
]
READING = (
    "next",
    "show 1",
    "review",
    "undo --setup 1 --yes",
    "log where",
    "cut loose --setup 1",
)


@pytest.mark.parametrize(("place", "at"), MOMENTS, indirect=["place"])
def test_a_moment_that_no_clock_has_is_named_with_its_row(
    begun: tuple[Place, Shop], at: str
) -> None:
    place, shop = begun
    with place.plain() as plain:
        plain.execute("DROP TRIGGER entry_no_update" + (" ON entry" if place.server else ""))
        plain.execute(f"UPDATE entry SET at = '{at}'")
    for line in READING:
        said = shop.run(
            *line.split(), "--db", place.location, "--json", code=None, env={"TZ": "UTC-9"}
        )
        error = said.document.get("error")
        assert error is not None and error["code"] == "damaged-log", (line, said)
        assert "makes no sense: it holds the impossible time" in error["message"]
        assert at in error["message"]
        assert error["message"].startswith(("set-up 1 ", "entry 2 ")), error
    health = shop.run("log", "health", "--db", place.location, "--json", code=1).document["faults"]
    for entry in (1, 2):
        assert any(fault.startswith(f"entry {entry}: it holds the imp") for fault in health)


def test_health_goes_on_where_the_moment_up_to_which_nobody_vouches_is_none(
    place: Place,
) -> None:
    with open_log(place.location, create=True) as log:
        fill(stock_up(log))
        with place.plain() as plain:
            plain.execute("DROP TRIGGER entry_no_update" + (" ON entry" if place.server else ""))
            plain.execute(f"UPDATE entry SET digest = '~' || digest, at = '{MOMENTS[0][1]}'")
        found = care.health(log)
        assert found.older is not None and found.older[1] is None
        assert any("impossible time" in fault for fault in found.faults)


# A machine's parts


@pytest.mark.parametrize(
    ("parts", "said"),
    [
        ('{"lift": 1}', "nothing is known of a lift by 1"),
        ('{"lift": null}', "nothing is known of a lift by None"),
        ('{"lift": "x"}', "nothing is known of a lift by 'x'"),
        ('{"lift": {"pack": 4}}', "nothing is known of a lift by {'pack': 4}"),
        ('{"lift": {"speed": 4}}', "nothing is known of a lift by {'speed': 4}"),
        ('{"lift": {"between": 0}}', "nothing is known of a lift by {'between': 0}"),
    ],
)
def test_a_part_that_is_none_is_named_with_its_machine(
    place: Place, shop: Shop, parts: str, said: str
) -> None:
    with open_log(place.location, create=True) as log:
        stock_up(log)
        with place.plain() as plain:
            plain.execute(f"UPDATE machine SET parts = '{parts}'")
        error = refused("damaged-log", log.machines)
        assert error.message == f"machine 1 of the log makes no sense: {said}"
        assert "fitlog log health" in error.hint and "restore" in error.hint
        assert f"machine 1 of the log makes no sense: {said}" in care.health(log).faults


# An export


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE trial_cut SET note = 'said later'",
        "UPDATE bit SET diameter = diameter + 0.01",
        "UPDATE advice SET document = '{}' WHERE id = 1",
        f"INSERT INTO preference (login, key, value, at) VALUES ('jay', 'units', 'mm', '{AT}')",
    ],
)
def test_an_export_is_of_what_was_written_and_of_nothing_else(
    place: Place, shop: Shop, statement: str
) -> None:
    with open_log(place.location, create=True) as log:
        fill(stock_up(log))
        shop.run("log", "export", "--db", place.location)
        shop.run("log", "export", "--csv", "--db", place.location)
        with place.plain() as plain:
            for table in ("trial_cut", "advice"):
                on = f" ON {table}" if place.server else ""
                plain.execute(f"DROP TRIGGER {table}_no_update{on}")
            plain.execute(statement)
        (fault, *_) = [f for f in care.health(log).faults if "guard" not in f]
    for more in ((), ("--csv",)):
        target = shop.home / "out"
        said = shop.run(
            "log", "export", str(target), *more, "--json", "--db", place.location, code=1
        ).document["error"]
        assert said["code"] == "damaged-log" and fault in said["message"]
        assert not target.exists()
        assert shop.run("log", "export", *more, "--db", place.location, code=1).out == ""


@pytest.mark.parametrize("place", ["file"], indirect=True)  # a server has no reader's lock
def test_a_refused_export_holds_nothing(filled: Log, place: Place) -> None:
    """While its error is still held, as a dialogue holds it, another may have the file alone."""
    with place.plain() as plain:
        plain.execute("DROP TRIGGER reading_no_delete")
        plain.execute("DROP TRIGGER trial_cut_no_update")
        plain.execute("UPDATE trial_cut SET note = 'said later'")
    error = refused("damaged-log", write_log, filled, lambda _: None)
    assert error.__traceback__ is not None
    filled.store.shut()
    with closing(sqlite3.connect(place.location, timeout=0)) as plain:
        assert plain.execute("PRAGMA journal_mode = DELETE").fetchone() == ("delete",)


# NULL, and nothing


def _nothings() -> list[tuple[str, str, object]]:
    """Each column that may be NULL, with the other value that says nothing to its digest."""
    found: list[tuple[str, str, object]] = []
    for table in TABLES.values():
        for column in table.columns:
            if column.nullable and column.name not in ("digest", "role", "document"):
                kinds: dict[type, object] = {Members: "{}", REAL: 0.0, Integer: 0, Text: ""}
                found.append((table.name, column.name, kinds[type(column.type)]))
    return found


@pytest.fixture(scope="module")
def nothings(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log with a NULL in every column that may have one, and every other nothing there can be."""
    path = tmp_path_factory.mktemp("nothings") / "log.db"
    nobody = replace(STAMP, by="", machine=None)
    with open_log(path, create=True) as log:
        stock_up(log)
        log.add_stock(replace(OAK, name="cold", temperature=0.0, humidity=50.0))
        log.add_bit(replace(BIT_OF, name="plain", neck=None))
        log.add_machine(Machine("bare", {}))
        log.sharpen("plain", None, nobody)
        plan = replace(PLAN, bit=log.bit("plain"), piece_width=None, piece_thickness=None)
        for machine in (log.machine("bare"), None):
            number = log.start(replace(plan, machine=machine), FIRST, "{}", nobody)
            log.record(number, PLAIN, nobody)
            log.record(number, FULL, nobody)
            log.close(number, "abandoned", nobody)
        assert care.health(log).faults == ()
    with closing(sqlite3.connect(path)) as plain:
        plain.execute("PRAGMA journal_mode = DELETE")
    return path


@pytest.mark.parametrize(("table", "column", "nothing"), _nothings())
def test_null_and_another_nothing_are_told_apart_though_their_digest_is_one(
    nothings: Path, tmp_path: Path, table: str, column: str, nothing: object
) -> None:
    """By a rule of the log, or by whoever reads the row; of an advice shown to nobody known, both
    say just that.
    """
    (key,) = (c.name for c in TABLES[table].primary_key)
    with closing(sqlite3.connect(nothings)) as plain:
        rows = plain.execute(f'SELECT {key}, "{column}" FROM {table}').fetchall()
    swapped = {was: number for number, was in rows if was is None or was == nothing}
    assert swapped, "no row says nothing there"
    for was, number in swapped.items():
        copy = tmp_path / "copy.db"
        shutil.copy(nothings, copy)
        Unguarded(copy).put(table, column, nothing if was is None else None, key, number)
        assert bool(faults(copy)) is ((table, column) != ("advice", "by"))
