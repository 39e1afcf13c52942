"""`fitlog log restore`: a backup put back, and nothing lost by it."""

from __future__ import annotations

import shutil
import sqlite3
import stat
import tempfile
from collections.abc import Iterator
from contextlib import closing
from datetime import date
from pathlib import Path

import pytest
from logs import beside, ordinary_user, stock_up
from shop import Shop

from fitlog.errors import Refused
from fitlog.log import open_log
from fitlog.log.care import copies
from fitlog.log.care import upkeep as care

DAY = date(2031, 3, 4)


@pytest.fixture
def saved(busy: Shop) -> Iterator[tuple[Shop, Path]]:
    """A backup of a log that went on afterwards."""
    backup = Path(busy.json("log backup")["backup"])
    busy.words("cut good")
    yield busy, backup


def test_a_backup_put_back(saved: tuple[Shop, Path]) -> None:
    shop, backup = saved
    with closing(sqlite3.connect(backup)) as plain:
        wanted = list(plain.iterdump())
    went_on = shop.everything()
    assert "--replace" in shop.refused("log", "restore", str(backup))
    found = shop.json(f"log restore {backup} --replace")
    assert shop.everything() == wanted and shop.json("log health")["sound"]
    with closing(sqlite3.connect(found["kept"])) as plain:
        assert list(plain.iterdump()) == went_on  # nothing is lost
    assert (
        stat.S_IMODE(Path(found["kept"]).stat().st_mode)
        == stat.S_IMODE(shop.db.stat().st_mode)
        == 0o600
    )
    shop.words("cut good")
    with closing(sqlite3.connect(shop.db)) as plain:
        assert plain.execute("PRAGMA journal_mode").fetchone() == ("wal",)
    assert beside(shop) == {backup.name, Path(found["kept"]).name}


def test_a_backup_put_where_there_is_no_log(saved: tuple[Shop, Path]) -> None:
    shop, backup = saved
    new = shop.home / "another" / "log.db"
    assert shop.json(f"log restore {backup} --db {new}")["kept"] is None
    assert stat.S_IMODE(new.stat().st_mode) == 0o600
    assert shop.json(f"log where --db {new}")["rows"]["trial_cut"] == 2


def test_nothing_is_put_back_while_somebody_has_the_log_open(
    saved: tuple[Shop, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    shop, backup = saved
    monkeypatch.setattr("fitlog.log.engine.BUSY_SECONDS", 0.05)
    with open_log(shop.db, create=False) as log:
        log.bits()
        assert "locked" in shop.refused("log", "restore", str(backup), "--replace")
        assert log.setup(1).number == 1
    assert beside(shop) == {backup.name}
    shop.words(f"log restore {backup} --replace")


def test_a_log_that_cannot_be_opened_is_set_aside(saved: tuple[Shop, Path]) -> None:
    shop, backup = saved
    shop.db.write_bytes(b"\xff" * 9000)
    kept = Path(shop.json(f"log restore {backup} --replace")["kept"])
    assert kept.read_bytes() == b"\xff" * 9000 and shop.json("log health")["sound"]


def test_only_a_sound_backup_is_put_back(saved: tuple[Shop, Path]) -> None:
    shop, backup = saved
    text, other, newer, bad = (shop.home / name for name in ("text", "other", "newer", "bad"))
    text.write_text("no log at all\n" * 100)
    with closing(sqlite3.connect(other)) as plain:
        plain.execute("CREATE TABLE birds (name)")
    shutil.copy(backup, newer)
    shutil.copy(backup, bad)
    with closing(sqlite3.connect(newer)) as plain:
        plain.execute("PRAGMA user_version = 99")
    with closing(sqlite3.connect(bad)) as plain:
        plain.execute("DROP TRIGGER setup_no_update")
        plain.execute(
            "UPDATE setup SET figures = replace(figures, '\"spacing\": null', '\"spacing\": 1.0')"
        )
        plain.commit()
    for file, says in (
        (text, "not a log"),
        (other, "not a log"),
        (newer, "newer"),
        (bad, "set-up 1"),
        (shop.home, "folder"),
        (shop.home / "none", "no file"),
        (shop.db, "the log itself"),
    ):
        assert says in shop.refused("log", "restore", str(file), "--replace"), file
    assert beside(shop) == {backup.name, "text", "other", "newer", "bad"}


def test_another_applications_file_is_never_replaced(saved: tuple[Shop, Path]) -> None:
    shop, backup = saved
    other = shop.home / "birds.db"
    with closing(sqlite3.connect(other)) as plain:
        plain.execute("CREATE TABLE birds (name)")
    before = other.read_bytes()
    assert "not a log" in shop.refused(
        "log", "restore", str(backup), "--replace", "--db", str(other)
    )
    assert other.read_bytes() == before


def test_folders_that_may_not_be_written() -> None:
    with tempfile.TemporaryDirectory() as name:
        home = Path(name)
        with open_log(home / "log.db", create=True) as log:
            stock_up(log)
        made = copies.backup(home / "log.db", home / "copy")
        (home / "log.db").chmod(0o444)
        (home / "copy").chmod(0o444)
        home.chmod(0o555)
        with ordinary_user():
            for call in (
                lambda: care.backup(str(home / "log.db"), None, DAY),
                lambda: care.restore(home / "copy", str(home / "log.db"), DAY, replace=True),
            ):
                with pytest.raises(Refused) as caught:
                    call()
                assert caught.value.code == "read-only-log"
            assert copies.verified(home / "copy") == made  # reading is allowed
        home.chmod(0o755)
        assert {p.name for p in home.iterdir()} == {"log.db", "copy"}
