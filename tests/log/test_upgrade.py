"""A log of an older layout is brought up to this one when it is opened: after a backup, whole or
not at all.

`data/log-vN.db` is a real log of layout N, made by the fitlog that had it, with invented boards.
"""

from __future__ import annotations

import json
import re
import resource
import shutil
import sqlite3
import stat
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import closing
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from logs import NO_OBJECTS, OBJECTS, STAMP, Place, ordinary_user
from postgres import Server
from shop import ROOT, Shop, sentence

from fitlog.errors import Refused
from fitlog.log import layout as today
from fitlog.log import migrations, open_log
from fitlog.log.care import copies

OLD = {
    int(path.stem.removeprefix("log-v")): path for path in sorted((ROOT / "data").glob("log-v*.db"))
}


# Of each, newest first: set-up, status, pieces.
SETUPS = {
    1: [(2, "tuning", 1), (1, "finished", 3)],
    2: [(2, "tuning", 1), (1, "finished", 3)],
    4: [(4, "tuning", 1), (3, "finished", 2), (2, "abandoned", 1), (1, "finished", 3)],
    5: [(3, "tuning", 2), (2, "abandoned", 1), (1, "finished", 2)],
    3: [(5, "tuning", 1), (4, "finished", 2), (2, "abandoned", 1), (1, "finished", 3)],
}


def test_there_is_a_log_of_every_past_layout_and_a_script_for_each_next() -> None:
    assert sorted(OLD) == list(range(1, today.VERSION))
    for layout, path in OLD.items():
        with closing(sqlite3.connect(f"file:{path}?mode=ro&immutable=1", uri=True)) as plain:
            assert plain.execute("PRAGMA user_version").fetchone() == (layout,)
            assert plain.execute("SELECT count(*) > 0 FROM trial_cut").fetchone() == (1,)
    scripts = {path.stem for path in (migrations.FOLDER / "versions").glob("*.py")}
    assert scripts == {f"layout_{layout + 1}" for layout in OLD}


@pytest.fixture(params=OLD.values(), ids=lambda path: path.stem)
def old(shop: Shop, request: pytest.FixtureRequest) -> Shop:
    shutil.copy(request.param, shop.db)
    shop.db.chmod(0o600)
    return shop


def layout(path: Path) -> int:
    with closing(sqlite3.connect(path)) as plain:
        return int(plain.execute("PRAGMA user_version").fetchone()[0])


def rows(path: Path, like: Path) -> dict[str, list[list[object]]]:
    """Every row of every table of the log `like`, with the columns that it has there, as they are
    in `path`.
    """
    with closing(sqlite3.connect(f"file:{like}?mode=ro&immutable=1", uri=True)) as plain:
        names = [n for (n,) in plain.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        columns = {n: [row[1] for row in plain.execute(f"PRAGMA table_info({n})")] for n in names}
        before = as_it_was if "parts" not in columns["machine"] else dict
    with closing(sqlite3.connect(path)) as plain:
        plain.row_factory = sqlite3.Row
        found = {
            n: [before(dict(row)) for row in plain.execute(f"SELECT * FROM {n}")] for n in names
        }
    return {n: sorted(([row[c] for c in columns[n]] for row in found[n]), key=repr) for n in names}


def as_it_was(row: dict[str, Any]) -> dict[str, Any]:
    """A row of today with the columns of before, its numbers as they come out of the JSON."""
    inside = {name: json.loads(row.pop(name) or "null") for name in OBJECTS & row.keys()}
    if "settings" in inside:
        row |= {name: inside["settings"].get(name) for name in SETTINGS}
    if "advised" in inside:
        stated = row.pop("stated").split(",")
        for name, short in SETTINGS.items():
            row[f"advised_{short}"] = (inside["advised"] or {}).get(name)
            row[f"{short}_stated"] = int(name in stated)
        row |= {f"scrap_{name}": inside["sizes"].get(name) for name in ("width", "thickness")}
    if "figures" in inside:
        row |= {n: int(v) if v in (True, False) else v for n, v in inside["figures"].items()}
        zeros = inside["zeros"]
        row |= {f"{p}_zero": zeros and zeros.get(p, 0.0) for p in ("height", "fence")}
        if zeros == {}:
            row |= {"height_zero": 0.0, "fence_zero": 0.0}
    if "parts" in inside:
        parts = [(p, inside["parts"].get(p, {})) for p in SETTINGS.values()]
        row |= {f"{p}_{what}": known.get(what) for p, known in parts for what in ("step", "turn")}
        row |= {f"{p}_zero": known.get("zero", 0.0) for p, known in parts}
        row["backlash"] = parts[0][1].get("backlash")
        row["between_marks"] = ",".join(p for p, known in parts if known.get("between"))
    return row


SETTINGS = {"bit_height": "height", "fence_offset": "fence", "socket_depth": "depth"}


def made(path: Path) -> dict[str, object]:
    """Every table as the sorted parts of its statement, every index and trigger as its statement;
    without comments.
    """
    with closing(sqlite3.connect(path)) as plain:
        found = plain.execute(
            "SELECT name, type, sql FROM sqlite_master WHERE sql IS NOT NULL"
        ).fetchall()
    bare = {
        name: (kind, " ".join(re.sub(r"--[^\n]*|/\*.*?\*/|\"", "", sql).split()))
        for name, kind, sql in found
    }
    return {
        name: sorted(parts(sql)) if kind == "table" else sql
        for name, (kind, sql) in bare.items()
        if "sqlite" not in name
    }


def parts(sql: str) -> Iterator[str]:
    """The parts of a CREATE TABLE between its outer commas, and what stands outside its
    brackets.
    """
    head, body, tail = (
        sql[: sql.index("(")],
        sql[sql.index("(") + 1 : sql.rindex(")")],
        sql[sql.rindex(")") + 1 :],
    )
    yield head + tail
    depth, start = 0, 0
    for at, letter in enumerate(body):
        depth += (letter == "(") - (letter == ")")
        if letter == "," and depth == 0:
            yield body[start:at].strip()
            start = at + 1
    yield body[start:].strip()


def backups(shop: Shop) -> list[Path]:
    return sorted(shop.home.glob("log.db.layout-*"))


def test_an_old_log_is_read_as_before(old: Shop) -> None:
    before = layout(old.db)
    answer = old.words("review --json")
    found = answer.document["setups"]
    assert [(r["setup"], r["status"], r["pieces"]) for r in found] == SETUPS[before]
    assert layout(old.db) == today.VERSION
    assert rows(old.db, OLD[before]) == rows(OLD[before], OLD[before])
    with closing(sqlite3.connect(old.db)) as plain:
        assert plain.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert plain.execute("PRAGMA foreign_key_check").fetchall() == []
    old.words("cut tight")
    assert old.json("next")["pieces"] == SETUPS[before][0][2] + 1
    assert old.json("log health")["sound"]


def test_a_backup_is_made_first_and_told(old: Shop) -> None:
    before = layout(old.db)
    told = old.words("next").err
    (backup,) = backups(old)
    assert backup.name == f"log.db.layout-{before}-{date.today().isoformat()}.backup"
    assert f"layout {before} to {today.VERSION}" in told and str(backup) in told
    assert stat.S_IMODE(backup.stat().st_mode) == 0o600
    assert copies.verified(backup).layout == before and rows(backup, OLD[before]) == rows(
        OLD[before], OLD[before]
    )
    number, maker = SETUPS[before][0][0], {4: "Mossy", 5: "Fern"}.get(before, "maker")
    assert old.words("next").err == f"Set-up {number} was started by {maker}.\n"  # once is enough
    assert backups(old) == [backup]


def test_it_ends_as_a_new_one_begins(old: Shop, tmp_path: Path) -> None:
    """The same columns, CHECKs, references, indexes and triggers; only the order of the columns may
    differ.
    """
    old.words("next")
    open_log(tmp_path / "new.db", create=True).__exit__(None, None, None)
    assert made(old.db) == made(tmp_path / "new.db")


def test_every_table_and_column_is_still_explained(old: Shop) -> None:
    old.words("next")
    with closing(sqlite3.connect(old.db)) as plain:
        found = dict(
            plain.execute(
                "SELECT name, sql FROM sqlite_master WHERE type = 'table' AND name NOT LIKE "
                "'sqlite_%'"
            )
        )
    for table in (*today.CATALOGUE, *today.APPEND_ONLY):
        says = [
            f"-- {c.comment}\n" in found[table.name] or f"/* {c.comment} */" in found[table.name]
            for c in table.columns
        ]
        assert all(says) and f"-- {table.comment}\n" in found[table.name], table.name


def test_the_added_columns_refuse_the_same_nonsense(old: Shop) -> None:
    old.words("next")
    with closing(sqlite3.connect(old.db)) as plain:
        for change in (
            "moisture = 41",
            "moisture = 0",
            "humidity = 50",
            "temperature = 20",
            "sawn = 'round'",
        ):
            with pytest.raises(sqlite3.IntegrityError):
                plain.execute(f"UPDATE stock SET temperature = NULL, humidity = NULL, {change}")
        plain.execute(
            "UPDATE stock SET temperature = 20, humidity = 50, sawn = 'flat', moisture = 9"
        )
        for text in NO_OBJECTS:
            with pytest.raises(sqlite3.IntegrityError, match="CHECK"):
                plain.execute("UPDATE machine SET parts = ?", (text,))
        plain.execute("""UPDATE machine SET parts = '{"depth": {"step": 0.5, "between": true}}'""")


def test_every_number_is_kept_to_its_last_digit(shop: Shop) -> None:
    """SQLite's own JSON would round them to 15 digits."""
    odd = [(0.1 + 0.2, 1e-7, -1e-7), (2.0 / 3, 999999.9999999999, 5e-324), (8.0, 1e5, 0.0)]
    shutil.copy(OLD[3], shop.db)
    shop.db.chmod(0o600)
    with closing(sqlite3.connect(shop.db, isolation_level=None)) as plain:
        for three in odd:
            plain.execute(
                "INSERT INTO advice (setup, entry, at, bit_height, fence_offset, socket_depth,"
                " document) SELECT setup, entry, at, ?, ?, ?, document FROM advice LIMIT 1",
                three,
            )
    with open_log(shop.db, create=False) as log:
        shown = log.setup(1).shown
    with closing(sqlite3.connect(shop.db)) as plain:
        kept = [
            tuple(json.loads(text).values())
            for (text,) in plain.execute("SELECT settings FROM advice ORDER BY id DESC LIMIT 3")
        ]
    assert kept[::-1] == odd and shown.lengths == odd[-1]


# Left untouched


def unharmed(shop: Shop, before: bytes) -> None:
    """The old file is what it was, byte by byte, and nothing lies beside it."""
    assert shop.db.read_bytes() == before
    assert [p.name for p in shop.db.parent.iterdir() if p.name.startswith((".log", "log"))] == [
        "log.db"
    ]


def test_a_step_that_fails_leaves_the_old_log(old: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    before, run = old.db.read_bytes(), migrations.run

    def broken(connection: object, found: int) -> None:
        run(connection, found)  # type: ignore[arg-type]
        connection.exec_driver_sql("ALTER TABLE nowhere ADD COLUMN x")  # type: ignore[attr-defined]

    monkeypatch.setattr(migrations, "run", broken)
    told = old.refused("next")
    assert "no such table: nowhere" in told and "as it was" in told
    unharmed(old, before)
    monkeypatch.undo()


def test_a_row_that_the_new_layout_refuses_leaves_the_old_log(
    old: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    before, run = old.db.read_bytes(), migrations.run

    def spoiling(connection: object, found: int) -> None:
        run(connection, found)  # type: ignore[arg-type]
        connection.exec_driver_sql(
            "INSERT INTO sharpening SELECT 900, 99, at, by, 9.0, 1, 9.0, NULL"
            " FROM sharpening LIMIT 1"
        )  # type: ignore[attr-defined]

    monkeypatch.setattr(migrations, "run", spoiling)
    assert "refers to a row of bit" in old.refused("next")
    unharmed(old, before)


@pytest.mark.parametrize("closed", [0o555, 0o755])
def test_a_log_that_may_only_be_read(closed: int) -> None:
    with tempfile.TemporaryDirectory() as name:
        path = Path(name) / "log.db"
        shutil.copy(OLD[1], path)
        path.chmod(0o444)
        Path(name).chmod(closed)
        with ordinary_user(), pytest.raises(Refused) as caught:
            open_log(path, create=False)
        assert caught.value.code == "older-log" and "only be read" in caught.value.message
        Path(name).chmod(0o755)
        assert path.read_bytes() == OLD[1].read_bytes() and list(Path(name).iterdir()) == [path]


@pytest.mark.parametrize(
    ("found", "room"),
    [
        *((1, 0.5), (4, 1.02)),
        *(
            pytest.param(found, room, marks=pytest.mark.long)
            for found, room in ((2, 0.5), (3, 0.5), (4, 0.5), (1, 1.2), (2, 1.2), (3, 1.2))
        ),
    ],
)
def test_no_room_for_the_backup_or_for_the_upgrade(shop: Shop, found: int, room: float) -> None:
    """No file may grow beyond a limit (setrlimit): half the log stops the backup; a little more
    than the log, the upgrade.
    """
    old = shop
    shutil.copy(OLD[found], old.db)
    old.db.chmod(0o600)
    before = old.db.read_bytes()
    limit = int(len(before) * room)

    def small() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))

    done = subprocess.run(
        old.command("next"),
        env=old.environment(),
        capture_output=True,
        text=True,
        timeout=60,
        preexec_fn=small,
    )
    assert done.returncode == 1
    sentence(done.stderr)
    assert (
        layout(old.db) == found
        and rows(old.db, OLD[found]) == rows(OLD[found], OLD[found])
        and backups(old) == []
    )
    assert old.db.read_bytes() == before


# Company

OPEN = (
    "import sys; from fitlog.log import open_log; print(open_log(sys.argv[1], "
    "create=False).upgraded is not None)"
)


@pytest.mark.parametrize(
    "old",
    [
        pytest.param(path, id=path.stem, marks=[pytest.mark.long] if layout > 1 else [])
        for layout, path in OLD.items()
    ],
    indirect=True,
)
def test_two_processes_open_an_old_log_at_once(old: Shop) -> None:
    """One upgrades, the others wait and read on."""
    racers = [
        subprocess.Popen(
            [sys.executable, "-c", OPEN, str(old.db)],
            env=old.environment(),
            stdout=subprocess.PIPE,
            text=True,
        )
        for _ in range(4)
    ]
    told = [racer.communicate(timeout=60)[0].strip() for racer in racers]
    assert [racer.returncode for racer in racers] == [0] * 4
    assert sorted(told) == ["False"] * 3 + ["True"]
    assert len(backups(old)) == 1 and layout(old.db) == today.VERSION


def test_an_old_log_that_somebody_writes_to_waits(
    old: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fitlog.log.engine.BUSY_SECONDS", 0.05)
    before = layout(old.db)
    with closing(sqlite3.connect(old.db, isolation_level=None)) as plain:
        plain.execute("BEGIN IMMEDIATE")
        assert "stays as it is, at layout" in old.refused("next", kept=False)
        plain.execute("ROLLBACK")
    assert backups(old) == [] and layout(old.db) == before
    old.words("next")


def test_tails_and_moisture_are_kept(shop: Shop) -> None:
    shop.started("--tails 6")
    with closing(sqlite3.connect(shop.db)) as plain:
        asked = "SELECT figures ->> 'tails', moisture FROM setup"
        assert plain.execute(asked).fetchone() == (6, None)


def test_what_layout_3_added_works_on_an_old_log(old: Shop) -> None:
    """A finish that was taken back long before is none; what is taken back now comes back, more
    than once.
    """
    log = open_log(old.db, create=False)
    try:
        assert log.machine("corner").between == () and log.machine("corner").step("depth") is None
        assert log.upgraded is not None
        there = SETUPS[log.upgraded.found]
        assert [s.number for s in log.setups()] == [number for number, _, _ in there]
        assert [s.as_it_is for s in log.setups()] == [
            s.number == {3: 4}.get(log.upgraded.found) for s in log.setups()
        ]
        assert sum(len(s.slots()) for s in log.setups()) == (log.upgraded.found >= 3)
        newest = there[0][0]
        before = log.setup(newest)
        last = log.newest_live(newest)
        assert last is not None and last[1] == "cut"
        for _ in range(3):
            log.retract(last[0], STAMP)
            assert len(log.setup(newest).cuts) == len(before.cuts) - 1
            assert log.redo(newest, STAMP) == [last]
            assert log.setup(newest) == before
    finally:
        log.__exit__(None, None, None)
    assert old.json("log health")["sound"]


def layout_on_server(place: Place) -> dict[str, list[tuple[object, ...]]]:
    """Columns, constraints, indexes, triggers, functions, meanings and rights of the log in a
    schema.
    """
    here = "current_schema()::regnamespace"
    return {
        what: sorted(place.rows(query.replace("@schema", here)), key=str)
        for what, query in {
            "columns": "SELECT table_name, column_name, data_type, is_nullable, column_default "
            "FROM information_schema.columns"
            " WHERE table_schema = current_schema()",
            "rules": "SELECT conrelid::regclass::text, conname, pg_get_constraintdef(oid), "
            "condeferred FROM pg_constraint"
            " WHERE connamespace = @schema",
            "indexes": "SELECT indexname, replace(indexdef, current_schema(), '') FROM pg_indexes"
            " WHERE schemaname = current_schema()",
            "triggers": "SELECT tgrelid::regclass::text, replace(pg_get_triggerdef(t.oid), "
            "current_schema(), '') FROM pg_trigger t"
            " JOIN pg_class c ON c.oid = tgrelid WHERE relnamespace = @schema AND NOT tgisinternal",
            "functions": "SELECT proname, prosrc, translate(array_to_string(proconfig, ','), "
            "chr(34), '')"
            " = 'search_path=' || current_schema() || ', pg_temp' FROM pg_proc"
            " WHERE pronamespace = @schema",
            "meanings": "SELECT objoid::regclass::text, objsubid > 0, description FROM "
            "pg_description d JOIN pg_class c"
            " ON c.oid = d.objoid WHERE relnamespace = @schema",
            "rights": "SELECT relname, a.grantee, a.privilege_type FROM pg_class, "
            "aclexplode(relacl) a WHERE relnamespace = @schema"
            " AND relname IN ('redo', 'retraction') AND a.grantee <> relowner",
        }.items()
    }


FILLED = (
    "bit stock machine sharpening preference entry setup advice trial_cut verdict reading found"
)


def in_order(was: sqlite3.Connection) -> Iterator[tuple[str, dict[str, Any]]]:
    """The rows of an old log in an order in which another one takes them: what is taken back and
    brought back in turn.
    """
    was.row_factory = sqlite3.Row
    there = {n for (n,) in was.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    for table in FILLED.split():
        yield from ((table, dict(row)) for row in was.execute(f"SELECT * FROM {table}").fetchall())
    turns = [
        (table, dict(row))
        for table in ("retraction", "redo")
        if table in there
        for row in was.execute(f"SELECT * FROM {table}").fetchall()
    ]
    yield from sorted(turns, key=lambda one: int(one[1]["entry"]))


@pytest.mark.parametrize("before", [2, 3, 4, 5])
def test_a_server_ends_as_a_new_one_begins(
    shop: Shop, server: Server, tmp_path: Path, before: int
) -> None:
    place, new = Place(server.place(), server), Place(server.place(), server)
    with (
        place.plain() as plain,
        closing(sqlite3.connect(f"file:{OLD[before]}?mode=ro&immutable=1", uri=True)) as was,
    ):
        plain.execute((ROOT / "data" / f"log-v{before}.sql").read_text())
        with plain.transaction():
            for table, row in in_order(was):
                names, marks = ", ".join(f'"{n}"' for n in row), ", ".join(["%s"] * len(row))
                plain.execute(f"INSERT INTO {table} ({names}) VALUES ({marks})", [*row.values()])
        plain.execute("GRANT SELECT ON retraction TO pg_monitor, PUBLIC")
        plain.execute("GRANT INSERT ON entry TO pg_monitor")
    db = ("--db", place.location)
    assert "log migrate" in shop.refused("next", *db)
    assert f"from layout {before} to" in shop.run("log", "migrate", "--yes", *db).out
    found = shop.run("review", "--json", *db).document["setups"]
    assert [(r["setup"], r["status"], r["pieces"]) for r in found] == SETUPS[before]
    assert shop.run("log", "health", "--json", *db).document["sound"]
    open_log(new.location, create=True).__exit__(None, None, None)
    wanted, upgraded = layout_on_server(new), layout_on_server(place)
    rights = upgraded.pop("rights")
    if before == 2:
        assert [right[0] for right in rights] == ["redo", "redo", "retraction", "retraction"]
        assert {right[1:] for right in rights[:2]} == {right[1:] for right in rights[2:]}
    file = tmp_path / "same.db"
    shutil.copy(OLD[before], file)
    with open_log(file, create=False) as one, open_log(place.location, create=False) as two:
        assert one.setups() == two.setups() and one.machines(True) == two.machines(True)
        for setup in one.setups():
            assert one.cut_entries(setup.number) == two.cut_entries(setup.number)
            assert one.found_entries(setup.number) == two.found_entries(setup.number)
    assert wanted.pop("rights") == [] and upgraded == wanted
