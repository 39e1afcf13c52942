"""What plain SQLite is refused: nonsense, overwriting, taking away; tried with sqlite3, outside
fitlog.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from typing import Any

import pytest
from logs import CATALOGUE, NO_OBJECTS, OBJECTS, TABLES, fill, raw, stock_up

from fitlog.log import Log, layout, open_log

# What is put in by hand: without the columns that the log fills in itself.
ENTRY = 'entry (id, kind, setup, at, "by")'
MACHINE = "machine (id, name, retired, parts)"
PREFERENCE = "preference (id, login, key, value, at)"
CUTTER = "bit (id, name, diameter, measured, angle, cutting_length, neck, retired)"


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Log]:
    """One log for all these tests: what they do to it is refused."""
    with open_log(tmp_path_factory.mktemp("rules") / "log.db", create=True) as opened:
        yield fill(stock_up(opened))


@pytest.mark.parametrize("table", sorted(TABLES))
def test_append_only(filled: Log, table: str) -> None:
    with raw(filled.path) as plain:
        before = plain.execute(f"SELECT * FROM {table}").fetchall()
        columns = [row[1] for row in plain.execute(f"PRAGMA table_info({table})")]
        assert before
        for statement in (
            *(f"UPDATE {table} SET {column} = {column}" for column in columns),
            f"UPDATE OR REPLACE {table} SET {columns[0]} = {columns[0]} + 1",
            f"DELETE FROM {table}",
            *(
                f"INSERT OR {how} INTO {table} SELECT * FROM {table}"
                for how in ("REPLACE", "IGNORE")
            ),
            f"REPLACE INTO {table} SELECT * FROM {table}",
            f"INSERT INTO {table} SELECT * FROM {table} WHERE true ON CONFLICT DO UPDATE SET "
            f"{columns[0]} = 99",
        ):
            with pytest.raises(sqlite3.IntegrityError, match="the log is append-only"):
                plain.execute(statement)
        assert plain.execute(f"SELECT * FROM {table}").fetchall() == before


def test_every_table_of_the_log_is_append_only_and_documented(filled: Log) -> None:
    with raw(filled.path) as plain:
        found = dict(plain.execute("SELECT name, sql FROM sqlite_master WHERE type = 'table'"))
        found.pop("sqlite_sequence")
        assert set(found) == TABLES | CATALOGUE
        for table, sql in found.items():
            columns = plain.execute(f"PRAGMA table_info({table})").fetchall()
            assert sql.count("-- ") == len(columns) + 1 and sql.endswith("STRICT"), table
        assert plain.execute("PRAGMA user_version").fetchone() == (layout.VERSION,)
        assert plain.execute("PRAGMA application_id").fetchone()[0] != 0
        assert plain.execute("PRAGMA journal_mode").fetchone() == ("wal",)


@pytest.mark.parametrize(
    "statement",
    [
        "INSERT OR REPLACE INTO setup SELECT 9, entry, joint, bit_id, stock_id, pin_stock_id, "
        "{rest} FROM setup",
        "INSERT OR REPLACE INTO verdict SELECT 99, cut, aspect, word, size FROM verdict WHERE "
        "aspect = 'fit'",
        "INSERT OR REPLACE INTO retraction SELECT 99, retracted FROM retraction",
    ],
)
def test_replacing_by_another_key_is_refused_too(filled: Log, statement: str) -> None:
    with raw(filled.path) as plain:
        names = [row[1] for row in plain.execute("PRAGMA table_info(setup)")]
        with pytest.raises(sqlite3.IntegrityError, match=r"append-only|entry is no retract"):
            plain.execute(statement.format(rest=", ".join(names[6:])))


def copy_of_a_row(plain: sqlite3.Connection, table: str) -> dict[str, Any]:
    """A row of `table` with keys of its own, which the table would take."""
    cursor = plain.execute(f"SELECT * FROM {table}")
    row = dict(zip([d[0] for d in cursor.description], cursor.fetchone(), strict=True))
    kind = layout.KIND_OF.get(table)
    if kind:
        insert = f"INSERT INTO {ENTRY} VALUES (900, ?, 1, '2031-03-04T05:06:07.890123Z', 'x')"
        plain.execute(insert, (kind,))
        row["entry"] = 900
    new = {"id": 900, "name": "another", "cut": 900, "retracted": 1, "redone": 3}
    return row | {key: value for key, value in new.items() if key in row}


@pytest.mark.parametrize("table", sorted(TABLES | CATALOGUE))
def test_checks_refuse_nonsense(filled: Log, table: str) -> None:
    with raw(filled.path) as plain:
        plain.execute("BEGIN")
        row = copy_of_a_row(plain, table)
        insert = f"INSERT INTO {table} ({', '.join(row)}) VALUES ({', '.join('?' * len(row))})"
        info = plain.execute(f"PRAGMA table_info({table})").fetchall()
        for _, name, kind, notnull, _, key in info:
            bad: list[Any] = (
                [float("nan")] if notnull and not key else []
            )  # sqlite3 hands nan over as NULL
            if kind == "REAL":
                bad += [float("inf"), -float("inf"), "wide"]
                bad += [-1.0]
                bad += [] if name == "angle" else [0.0]
            elif kind == "INTEGER":
                bad += [-2, "two", 1.5]
            elif name in OBJECTS:
                bad += NO_OBJECTS
            else:
                bad += ["x" * 3000] if name != "document" else ["{"]
            for value in bad:
                with pytest.raises(
                    sqlite3.IntegrityError,
                    match=r"CHECK|NOT NULL|cannot store|mismatch|entry is no",
                ):
                    plain.execute(insert, list((row | {name: value}).values()))
        plain.execute(insert, list(row.values()))


@pytest.mark.parametrize(
    "row",
    [
        "verdict VALUES (900, 9, '', 'good', NULL)",
        "verdict VALUES (900, 9, 'seat', '', NULL)",
        "reading VALUES (900, 9, '', 3.0, NULL, NULL)",
        "reading VALUES (900, 9, 'walls', 3.0, 2.0, 2.0)",
        f"{MACHINE} VALUES (900, 'x', 0, 'height')",
        f"{MACHINE} VALUES (900, 'x', 0, '[\"height\"]')",
        f"{ENTRY} VALUES (900, 'burn', 1, '2031-03-04T05:06:07.890123Z', 'x')",
        f"{ENTRY} VALUES (900, 'choose', 1, '2031-03-04', 'x')",
        f"{ENTRY} VALUES (900, 'choose', 1, '2031-93-04T05:06:07.890123Z', 'x')",
        f"{PREFERENCE} VALUES (900, 'x', 'colour', 'red', '2031-03-04T05:06:07.890123Z')",
        f"{CUTTER} VALUES (900, '-x', 12.0, 0, 8.0, 9.0, NULL, 0)",
        f"{CUTTER} VALUES (900, 'x', 12.0, 0, 8.0, 9.0, 12.5, 0)",
    ],
)
def test_checks_refuse_words_that_mean_nothing(filled: Log, row: str) -> None:
    with raw(filled.path) as plain, pytest.raises(sqlite3.IntegrityError, match="CHECK"):
        plain.execute(f"INSERT INTO {row}")


@pytest.mark.parametrize("table", ["bit", "stock", "machine"])
@pytest.mark.parametrize("keys", ["ON", "OFF"])
def test_catalogue_rows_in_use_stay(filled: Log, table: str, keys: str) -> None:
    with raw(filled.path) as plain:
        plain.execute(f"PRAGMA foreign_keys = {keys}")
        with pytest.raises(sqlite3.IntegrityError, match="refers to it"):
            plain.execute(f"DELETE FROM {table} WHERE id = 1")
        assert plain.execute("PRAGMA foreign_key_check").fetchall() == []
