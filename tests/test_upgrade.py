"""A log of an older layout is brought up to this one when it is opened, whole or not at all."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from shop import ROOT, Shop

from fitlog.errors import Refused
from fitlog.store import ddl, open_log, schema

OLD = ROOT / "data" / "log-v1.db"  # made by the fitlog of layout 1, with invented boards


@pytest.fixture
def old(shop: Shop) -> Shop:
    shutil.copy(OLD, shop.db)
    return shop


def columns(path: Path) -> dict[str, list[tuple[object, ...]]]:
    """Every column of every table: name, type, whether it may be empty, its default."""
    with closing(sqlite3.connect(path)) as plain:
        names = [name for (name,) in plain.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        return {n: sorted(row[1:5] for row in plain.execute(f"PRAGMA table_info({n})")) for n in names}


def test_an_old_log_is_read_as_before(old: Shop) -> None:
    with closing(sqlite3.connect(old.db)) as plain:
        said = plain.execute("SELECT cut, aspect, word, size FROM verdict ORDER BY id").fetchall()
    rows = old.json("review")["setups"]
    assert [(r["setup"], r["status"], r["pieces"]) for r in rows] == [(2, "tuning", 1), (1, "finished", 3)]
    with closing(sqlite3.connect(old.db)) as plain:
        assert plain.execute("PRAGMA user_version").fetchone() == (ddl.VERSION,)
        assert plain.execute("SELECT cut, aspect, word, size FROM verdict ORDER BY id").fetchall() == said
        assert plain.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    old.words("cut tight")
    assert old.json("next")["pieces"] == 2


def test_it_ends_with_the_columns_of_a_new_one(old: Shop, tmp_path: Path) -> None:
    old.words("next")
    open_log(tmp_path / "new.db", create=True).__exit__(None, None, None)
    new, upgraded = columns(tmp_path / "new.db"), columns(old.db)
    assert upgraded == new


def test_the_added_columns_refuse_the_same_nonsense(old: Shop) -> None:
    old.words("next")
    with closing(sqlite3.connect(old.db)) as plain:
        for change in ("moisture = 41", "moisture = 0", "humidity = 50", "temperature = 20", "sawn = 'round'"):
            with pytest.raises(sqlite3.IntegrityError):
                plain.execute(f"UPDATE stock SET {change}")
        plain.execute("UPDATE stock SET temperature = 20, humidity = 50, sawn = 'flat', moisture = 9")
    shown = sqlite3.connect(old.db)
    with closing(shown) as plain:
        sql = " ".join(sql for (sql,) in plain.execute("SELECT sql FROM sqlite_master WHERE name IN ('stock', 'setup')"))
    for table, names in ddl.ADDED[2].items():
        assert all(str(table.c[name].comment) in sql for name in names)


def test_a_step_that_fails_leaves_the_old_log(old: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    before = old.everything()
    good = list(ddl.upgrade(1))
    monkeypatch.setattr(ddl, "upgrade", lambda found: [*good[:3], "ALTER TABLE nowhere ADD COLUMN x", *good[3:]])
    with pytest.raises(Refused):
        open_log(old.db, create=False)
    assert old.everything() == before
    with closing(sqlite3.connect(old.db)) as plain:
        assert plain.execute("PRAGMA user_version").fetchone() == (1,)


def test_tails_and_moisture_are_kept(shop: Shop) -> None:
    shop.started("--tails 6")
    with closing(sqlite3.connect(shop.db)) as plain:
        assert plain.execute("SELECT tails, moisture FROM setup").fetchone() == (6, None)
    assert schema.SETUP.c.tails.nullable
