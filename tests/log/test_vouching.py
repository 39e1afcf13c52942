"""The digests vouch for every row that fitlog writes, and for no other; whatever a damaged file has
in a column, a command tells which row it is.
"""

from __future__ import annotations

import random
import re
import shutil
import sqlite3
import struct
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from logs import Place, undigested
from session import hold
from shop import ROOT, Shop
from unguarded import Unguarded, faults

from fitlog.log import Log, layout, open_log
from fitlog.log.care import upkeep as care

TABLES = (*layout.CATALOGUE, *layout.APPEND_ONLY)
# Numbers of rows that nothing refers to: as long as their order stays, they say nothing.
PLACES = {("verdict", "id"), ("reading", "id")}
# What belongs to an entry is told with that.
OWN = {"setup": "entry", "verdict": "cut", "reading": "cut"}


@pytest.mark.parametrize(
    "place", ["file", pytest.param("server", marks=pytest.mark.long)], indirect=True
)
def test_every_command_s_rows_are_vouched_for(shop: Shop, place: Place) -> None:
    hold(shop, place.location)
    with open_log(place.location, create=False) as log:
        found = care.health(log)
    assert found.faults == ()
    assert all(found.rows[table.name] for table in TABLES)
    for table in TABLES:
        if "digest" in table.c:
            assert place.rows(f"SELECT count(*) FROM {table.name} WHERE digest IS NULL") == [(0,)]


@pytest.fixture
def full(shop: Shop) -> Shop:
    """A shop with a row of every kind, in one file."""
    made = shop.built(_held)
    with closing(sqlite3.connect(made.db)) as plain:
        plain.execute("PRAGMA journal_mode = DELETE")
        plain.execute("VACUUM")
    return made


def _held(shop: Shop) -> None:
    hold(shop, str(shop.db))


def cells(path: Path) -> Iterator[tuple[str, str, int, str, Any]]:
    """Every value of every row: table, the name of its key, the row's number, column, value."""
    with closing(sqlite3.connect(path)) as plain:
        plain.row_factory = sqlite3.Row
        for table in TABLES:
            key = next(iter(table.primary_key)).name
            for row in plain.execute(f"SELECT * FROM {table.name}").fetchall():
                for column in row.keys():  # noqa: SIM118 - a row has no other way to its names
                    yield table.name, key, row[key], column, row[column]


def other(value: Any) -> Any:
    """Another value of the same kind."""
    if value is None:
        return "x"
    if isinstance(value, str):
        return value.replace("1", "2", 1) if "1" in value else value + "x"
    return value + (1000 if isinstance(value, int) else 1)


@pytest.mark.long  # flips of seed 0, and damaged values, are looked for each time
def test_a_value_that_was_changed_is_found_in_any_column(full: Shop, tmp_path: Path) -> None:
    """One row of each column; an upgrade could not be told from such a change but by its digest."""
    draw, by_column = random.Random(12), dict[tuple[str, str], list[Any]]()
    for table, key, number, column, value in cells(full.db):
        by_column.setdefault((table, column), []).append((key, number, value))
    for (table, column), rows in by_column.items():
        if (table, column) in PLACES:
            continue
        key, number, value = draw.choice(rows)
        copy = tmp_path / "copy.db"
        shutil.copy(full.db, copy)
        Unguarded(copy).put(table, column, other(value), key, number)
        told = faults(copy)
        assert told, f"{table}.{column} of row {number}: {value!r}"
        with closing(sqlite3.connect(full.db)) as plain:
            (own,) = plain.execute(
                f"SELECT {OWN.get(table, key)} FROM {table} WHERE {key} = ?", (number,)
            ).fetchone()
        assert {str(number), str(own)} & set(re.findall(r"\d+", told)) or column == key, told


@pytest.mark.parametrize(
    "seed", [0, *(pytest.param(seed, marks=pytest.mark.long) for seed in range(1, 4))]
)
def test_a_bit_that_flipped_inside_a_row_is_found(full: Shop, tmp_path: Path, seed: int) -> None:
    """30 flips in the bytes of values on their pages, drawn anew for each seed; none may pass."""
    draw, whole = random.Random(seed), full.db.read_bytes()
    told = []
    with closing(sqlite3.connect(full.db)) as plain:  # whose own text is no row of the log
        rules = str(plain.execute("SELECT sql FROM sqlite_master").fetchall())
    found = [
        cell
        for cell in cells(full.db)
        if isinstance(cell[4], str | float) and str(cell[4]) not in rules
    ]
    while len(told) < 30:
        table, _, number, column, value = draw.choice(found)
        inside = value.encode() if isinstance(value, str) else struct.pack(">d", value)
        places = [at for at in range(len(whole)) if whole.startswith(inside, at)]
        if len(inside) < 4 or not places:  # SQLite keeps a whole number shorter
            continue
        spoilt = bytearray(whole)
        spoilt[draw.choice(places) + draw.randrange(len(inside))] ^= 1 << draw.randrange(8)
        copy = tmp_path / "copy.db"
        copy.write_bytes(spoilt)
        told.append((faults(copy), table, column, number, value))
    assert [flip for flip in told if not flip[0]] == []


READING = (
    "next",
    "review",
    "show 1",
    "words",
    "progress",
    "stops --setup 1",
    "prefer",
    "bit list",
    "stock list",
    "machine list",
    "log where",
    "log export -",
    "undo --setup 1",
)


BRIEF = ("bit", "trial_cut")  # one of the catalogue, and one that every command reads
DAMAGE = [
    pytest.param(t.name, whole, marks=[pytest.mark.long] * (whole or t.name not in BRIEF))
    for whole in (False, True)
    for t in TABLES
]


@pytest.mark.parametrize(("table", "whole"), DAMAGE)
def test_a_damaged_value_is_told_with_its_row(full: Shop, table: str, whole: bool) -> None:
    """NULL, a blob and a text, each in turn in a column, read by commands in turn (whole: each of
    them in each column, by every command): they say damaged-log, or do not read it.
    """
    sound = full.db.read_bytes()
    rows = [cell for cell in cells(full.db) if cell[0] == table]
    first = rows[0][2]
    columns = [(key, name, was) for _, key, number, name, was in rows if number == first]
    for turn, (key, column, was) in enumerate(columns):
        for value in SPOILT if whole else (SPOILT[turn % 3],):
            if column == key or was == value:
                continue
            full.db.write_bytes(sound)
            Unguarded(full.db).put(table, column, value, key, first)
            for line in READING if whole else (READING[turn % len(READING)], "undo --setup 1"):
                result = full.words(line, code=None)
                assert result.code in (0, 1), (column, line, result)
                said = DAMAGED.search(result.err) or (isinstance(was, str) and value == SPOILT[2])
                assert not result.code or said, (column, line, result.err)
            assert full.words("log health", code=1).out.startswith("Wrong:"), (column, value)


SPOILT = (None, b"\x00\xff", "a word")
DAMAGED = re.compile("is damaged|no sense|belongs to")


# Compared with what it was


@pytest.fixture
def noted(busy: Shop) -> tuple[Shop, str, Path, Path]:
    """A shop with its head as it was noted down, a backup and an export of that moment."""
    head, backup, export = busy.json("log health")["head"], busy.home / "b.db", busy.home / "e.json"
    busy.run("log", "backup", str(backup))
    busy.run("log", "export", str(export))
    return busy, head, backup, export


def test_a_log_that_went_on_is_known_as_that(noted: tuple[Shop, str, Path, Path]) -> None:
    shop, *earlier = noted
    for line in ("redo", "cut good --yes", "bit edit marsh --name moor"):
        shop.words(line)
    for one in earlier:
        found = shop.json(f"log health --against {one}")
        assert found["sound"] and found["against"] == {
            "gone_on": True,
            "entries_since": 2,
            "catalogue_changed": [] if one is earlier[0] else ["bit marsh"],
        }
    assert (
        "that one gone on: 2 entries came after"
        in shop.words(f"log health --against {earlier[1]}").out
    )


def test_a_file_beside_one_is_named_as_it_is(
    noted: tuple[Shop, str, Path, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    shop, _, backup, export = noted
    monkeypatch.chdir(backup.parent)
    for name in (backup.name, export.name):
        assert shop.json(f"log health --against {name}")["against"]["gone_on"]
    assert "cannot be read" in shop.refused("log", "health", "--against", "nowhere.db")


CUT_OFF = [
    "DELETE FROM retraction",
    "DELETE FROM advice WHERE entry = (SELECT max(id) FROM entry)",
    "DELETE FROM entry WHERE id = (SELECT max(id) FROM entry)",
    "UPDATE sqlite_sequence SET seq = (SELECT max(id) FROM entry) WHERE name = 'entry'",
]


def unguarded(shop: Shop, *statements: str) -> None:
    with closing(sqlite3.connect(shop.db, isolation_level=None)) as plain:
        rules = plain.execute(
            "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"
        ).fetchall()
        for name, _ in rules:
            plain.execute(f"DROP TRIGGER {name}")
        for statement in statements:
            plain.execute(statement)
        for _, rule in rules:
            plain.execute(rule)


def test_an_end_that_was_cut_off_is_found(noted: tuple[Shop, str, Path, Path]) -> None:
    """The rest is sound in itself: only what was known before can tell."""
    shop, *earlier = noted
    unguarded(shop, *CUT_OFF)
    assert shop.json("log health")["sound"]
    shop.words("cut good --yes")  # as many entries as before, another one at the end
    for one, said in zip(earlier, ("head was noted", "entry 4", "entry 4"), strict=True):
        found = shop.json(f"log health --against {one}", code=1)
        assert not found["sound"] and not found["against"]["gone_on"]
        assert said in " ".join(found["faults"]) and found["error"]["code"] == "unsound-log"
    unguarded(shop, *CUT_OFF[1:])
    for one in earlier:
        assert "cut off" in " ".join(shop.json(f"log health --against {one}", code=1)["faults"])


def test_a_chain_written_anew_is_found(noted: tuple[Shop, str, Path, Path]) -> None:
    """Whoever changes a row and digests all that follows it has a log that is sound in itself."""
    shop, *earlier = noted
    text = undigested((shop.home / "e.json").read_text()).replace("gap far 0.4", "gap far 0.3")
    shop.db.unlink()
    (shop.home / "anew.json").write_text(text)
    shop.run("log", "import", str(shop.home / "anew.json"))
    assert shop.json("log health")["sound"]
    for one in earlier:
        found = shop.json(f"log health --against {one}", code=1)
        assert ("up to entry 4" if one is earlier[0] else "entry 2 (") in found["faults"][0]


def test_what_cannot_be_compared_is_refused(busy: Shop) -> None:
    shutil.copy(ROOT / "data" / "log-v4.db", busy.home / "old.db")
    for against, code in (
        (busy.home / "nowhere", "unreadable-file"),
        (busy.home / "old.db", "no-digests"),
        (ROOT / "data" / "log-v4.json", "no-digests"),
        (ROOT / "README.md", "not-an-export"),
    ):
        document = busy.json(f"log health --against {against}", code=None)
        assert document["error"]["code"] == code, document


def test_an_upgraded_log_says_from_when_it_is_vouched_for(shop: Shop) -> None:
    shutil.copy(ROOT / "data" / "log-v4.db", shop.db)
    shop.db.chmod(0o600)
    shop.words("cut good --yes")
    found = shop.json("log health")
    assert found["sound"] and found["older"]["entry"] == 20
    assert "Up to entry 20 of" in shop.words("log health").out


def test_a_forged_row_is_in_no_backup(busy: Shop) -> None:
    backup = busy.home / "b.db"
    busy.run("log", "backup", str(backup))
    unguarded(busy, "UPDATE trial_cut SET note = 'said later'")
    assert "not as it was written" in busy.refused("log", "backup", str(busy.home / "c.db"))
    with closing(sqlite3.connect(backup, isolation_level=None)) as plain:
        plain.execute("DROP TRIGGER trial_cut_no_update")
        plain.execute("UPDATE trial_cut SET note = 'said later'")
    assert "not as it was written" in busy.refused("log", "restore", str(backup), "--replace")


# What the layout says


SPOILT_RULES = {
    "file": [
        ("DROP TRIGGER advice_no_update", "the guard advice_no_update is not there"),
        ("DROP INDEX entry_by", "the index entry_by is not there"),
        ("CREATE INDEX more ON entry (at)", "the index more is none of this layout"),
        ("CREATE VIEW old AS SELECT 1", "the view old is none of this layout"),
        (
            "CREATE TRIGGER later AFTER INSERT ON entry BEGIN SELECT 1; END",
            "the guard later is none of this layout",
        ),
        ("ALTER TABLE bit ADD COLUMN colour TEXT", "the table bit is another than"),
        (
            "UPDATE sqlite_master SET sql = replace(sql, '<= 150', '<= 1500') WHERE name = 'bit'",
            "the table bit is another than",
        ),
        (
            "UPDATE sqlite_master SET sql = replace(sql, 'WHEN 1', 'WHEN 0') "
            "WHERE name = 'entry_no_update'",
            "the guard entry_no_update is another than",
        ),
    ],
    "server": [
        ("DROP TRIGGER advice_no_update ON advice", "the guard advice.advice_no_update is not"),
        ("DROP INDEX entry_by", "the index entry_by is not there"),
        ("CREATE INDEX more ON entry (at)", "the index more is none of this layout"),
        ("ALTER TABLE bit ADD COLUMN colour TEXT", "the column bit.colour is none of this layout"),
        ("ALTER TABLE entry ALTER at DROP NOT NULL", "the column entry.at is another than"),
        ("ALTER TABLE bit DROP CONSTRAINT bit_diameter_check", "the rule bit.bit_diameter_check"),
        (
            "CREATE OR REPLACE FUNCTION fitlog_refuse() RETURNS trigger LANGUAGE plpgsql AS "
            "'BEGIN RETURN NULL; END'",
            "the function fitlog_refuse() is another than",
        ),
        (
            "CREATE TRIGGER more AFTER INSERT ON entry EXECUTE FUNCTION fitlog_refuse('no')",
            "the guard entry.more is none of this layout",
        ),
    ],
}


def test_rules_that_are_not_the_layout_s_are_told(filled: Log, place: Place) -> None:
    assert care.health(filled).faults == () and care.health(filled).compared
    for statement, said in SPOILT_RULES["file" if place.server is None else "server"]:
        with place.plain() as plain:
            if place.server is None:
                plain.execute("PRAGMA writable_schema = ON")
            plain.execute(statement)
        with open_log(place.location, create=False) as log:
            assert [fault for fault in care.health(log).faults if said in fault], statement
