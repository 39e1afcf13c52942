"""Nothing acknowledged is lost: killed processes, many at once, a full disk, a folder that
vanishes.

The processes and checks are those of `bench_durability.py`, which does it by the thousand.
"""

from __future__ import annotations

import json
import os
import resource
import shutil
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, suppress
from pathlib import Path
from typing import Any

import pytest
from durable import CUT, pieces, sound
from shop import ROOT, Shop, sentence

from fitlog.errors import Refused
from fitlog.log import Log, Stamp, open_log

Sizes = dict[str, int]
EVERY_DAY = {"kills": 8, "cuts": 1, "upgrades": 3, "backups": 3, "together": 10, "rows": 5}
LONGER = {"kills": 30, "cuts": 4, "upgrades": 10, "backups": 10, "together": 10, "rows": 20}


@pytest.fixture(
    scope="module",
    params=[EVERY_DAY, pytest.param(LONGER, marks=pytest.mark.long)],
    ids=["every day", "longer"],
)
def figures(request: pytest.FixtureRequest) -> tuple[Sizes, Any]:
    """How much the benchmark did, and what it found; it fails at the first thing lost."""
    sizes: Sizes = request.param
    asked = [part for name, value in sizes.items() for part in (f"--{name}", str(value))]
    done = subprocess.run(
        [sys.executable, "-m", "bench_durability", *asked],
        cwd=ROOT / "tests" / "benchmarks",
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        timeout=600,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    return sizes, json.loads(done.stdout)


def test_what_was_acknowledged_before_a_kill_is_there(figures: tuple[Sizes, Any]) -> None:
    sizes, told = figures
    found = told["recorders"]
    assert found["kills"] == sizes["kills"] and found["acknowledged"] == found["found"] > 0
    assert found["found_unacknowledged"] <= sizes["kills"]
    cuts = told["cuts"]
    assert (
        cuts["processes"] == sizes["cuts"]
        and cuts["answered"] <= cuts["found"] <= cuts["processes"]
    )


def test_a_killed_upgrade_or_backup_is_whole_or_not_there(figures: tuple[Sizes, Any]) -> None:
    sizes, told = figures
    for what, parts in (
        ("upgrades", ("already_upgraded", "left_at_layout_1")),
        ("backups", ("whole", "none")),
    ):
        assert sum(told[what][part] for part in parts) == told[what]["kills"] == sizes[what]


def test_ten_processes_at_once(figures: tuple[Sizes, Any]) -> None:
    """Every row is there once, and nobody waits longer than a log may be busy (no time is asserted
    beyond that limit).
    """
    sizes, told = figures
    found = told["together"]
    assert (
        found["acknowledged"] == found["found"] == sizes["together"] * sizes["rows"]
        and found["twice"] == 0
    )


def test_the_check_notices_a_half_written_cut(tmp_path: Path) -> None:
    """The checker itself is checked: a cut that lost one of its rows."""
    log = _started(tmp_path / "log.db")
    log.record(1, CUT, _stamp())
    log.store.shut()
    sound(tmp_path / "log.db")
    with closing(sqlite3.connect(tmp_path / "log.db")) as plain:
        plain.execute("DROP TRIGGER reading_no_delete")
        plain.execute("DELETE FROM reading WHERE id = 1")
        plain.commit()
    with pytest.raises(AssertionError, match="rows of reading"):
        sound(tmp_path / "log.db")


def test_every_commit_waits_for_the_disk(tmp_path: Path) -> None:
    """synchronous is 2, FULL, and the journal a WAL:
    https://www.sqlite.org/pragma.html#pragma_synchronous.
    """
    log = _started(tmp_path / "log.db")
    with log.store.reading() as connection:
        assert connection.exec_driver_sql("PRAGMA synchronous").scalar_one() == 2
        assert connection.exec_driver_sql("PRAGMA journal_mode").scalar_one() == "wal"
    log.store.shut()


def _started(path: Path) -> Log:
    from durable import FIRST, PLAN, new_log

    new_log(path)
    log = open_log(path, create=False)
    log.start(PLAN, FIRST, "{}", _stamp())
    return log


def _stamp() -> Stamp:
    from durable import now

    return now()


# A full disk


@pytest.fixture
def full_disk(tmp_path: Path) -> Iterator[Path]:
    """A folder on a disk of one megabyte, where this user may mount one; else nothing here can be
    shown.
    """
    place = tmp_path / "disk"
    place.mkdir()
    mounted = os.geteuid() == 0 and shutil.which("mount")
    if (
        not mounted
        or subprocess.run(
            ["mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", place], capture_output=True
        ).returncode
    ):
        pytest.skip(
            "only root may mount a small disk; the limit on a file's size is tried for everybody"
        )
    yield place
    subprocess.run(["umount", place], check=True)


def fill_disk(place: Path) -> Path:
    """Fill the disk to its last byte."""
    filler = place / "filler"
    with filler.open("wb", buffering=0) as file, suppress(OSError):
        while True:
            file.write(b"x" * 512)
    with filler.open("ab", buffering=0) as file, suppress(OSError):
        while True:
            file.write(b"x")
    return filler


def test_a_full_disk(full_disk: Path, shop: Shop) -> None:
    """One clear sentence for each command, nothing lost, nothing half written; with room again all
    goes on.
    """
    shop.db = full_disk / "log.db"
    db = ("--db", str(shop.db))
    shop.run(
        "bit", "add", "marsh", "--diameter", "13.1", "--angle", "9", "--cutting-length", "14", *db
    )
    shop.run(
        "stock",
        "add",
        "elm",
        "--species",
        "elm (invented)",
        "--thickness",
        "17",
        "--width",
        "150",
        *db,
    )
    shop.run("start", *db)
    shop.run("cut", "tight", *db)
    before, filler = shop.everything(), fill_disk(full_disk)
    for command in (("cut", "good"), ("undo",), ("stock", "retire", "elm"), ("log", "backup")):
        result = shop.process(*command, *db, code=1)
        sentence(result.err)
        assert "no room" in result.err, command
    assert [
        p.name for p in full_disk.iterdir() if p.name.startswith(".") or "backup" in p.name
    ] == []
    filler.unlink()
    assert shop.everything() == before
    shop.run("cut", "good", *db)
    assert pieces(shop.db) == 2 and shop.json(f"log health --db {shop.db}")["sound"]


@pytest.mark.parametrize("limit", [4096, 33_000, 37_000, 49_000])
def test_a_file_that_may_not_grow(shop: Shop, limit: int) -> None:
    """For every user: the system refuses writes beyond a limit (setrlimit), which stands in for the
    end of a disk.

    4 kB stop SQLite's index of the -wal file, 33 kB its first few pages, more what comes after the
    cut is stored.
    """
    shop.started()
    before, rows = shop.everything(), pieces(shop.db)

    def small() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))

    done = subprocess.run(
        shop.command("cut", "tight", "--note", "x" * 1900),
        env=shop.environment(),
        capture_output=True,
        text=True,
        timeout=60,
        preexec_fn=small,
    )
    assert pieces(shop.db) == rows + (done.returncode == 0)
    if done.returncode:
        sentence(done.stderr)
        assert shop.everything() == before
    assert done.returncode == 1 or limit > 33_000
    assert shop.json("log health")["sound"]


# A folder that vanishes


@pytest.mark.parametrize("how", ["removed", "moved", "replaced"])
def test_a_log_that_vanishes_while_it_is_open(tmp_path: Path, how: str) -> None:
    """SQLite itself would go on writing to a file that nobody can find: such a cut must not be
    acknowledged.
    """
    folder = tmp_path / "disk"
    folder.mkdir()
    log = _started(folder / "log.db")
    log.record(1, CUT, _stamp())
    if how == "removed":
        shutil.rmtree(folder)
    else:
        folder.rename(tmp_path / "elsewhere")
    if how == "replaced":
        folder.mkdir()
        _started(folder / "log.db").store.shut()
    with pytest.raises(Refused) as caught:
        log.record(1, CUT, _stamp())
    assert caught.value.code == "log-gone" and str(folder / "log.db") in caught.value.message
    log.store.shut()
    if how != "removed":
        assert pieces(tmp_path / "elsewhere" / "log.db") == 1
        sound(tmp_path / "elsewhere" / "log.db")
    if how == "replaced":
        assert pieces(folder / "log.db") == 0


def test_a_folder_that_is_not_there(shop: Shop) -> None:
    shop.started()
    folder = shop.home / "gone"
    for command in (("cut", "good"), ("next",), ("undo",), ("log", "health"), ("log", "backup")):
        result = shop.run(*command, "--db", str(folder / "log.db"), code=1)
        sentence(result.err)
        assert "there is no log" in result.err and not folder.exists()
