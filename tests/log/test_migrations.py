"""Scripts of a layout to come, tried on both kinds of log: what a script says is done whole, or not
at all.

The next layout of these tests is invented; a real script is tried in `test_upgrade.py` on the real
logs of the past.
"""

from __future__ import annotations

import importlib.util
import sqlite3
import subprocess
import sys
import tarfile
import zipfile
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from logs import Place, fill, stock_up
from shop import ROOT, Shop, sentence
from sqlalchemy import Connection
from sqlalchemy.exc import OperationalError

from fitlog.errors import Refused
from fitlog.log import layout, migrations, open_log
from fitlog.log.care import upgrading
from fitlog.log.care import upkeep as care

LATER = layout.VERSION + 1
SCRIPT = """
from sqlalchemy import CheckConstraint, Column, Text
from fitlog.log.migrations.told import add
revision, down_revision = "LATER", None
def upgrade():
    short = CheckConstraint("length(colour) <= 20")
    column = Column("colour", Text, short, comment="of the board; NULL: not said")
    add("stock", column)
""".replace("LATER", str(LATER))
COLUMN = {
    "file": "SELECT count(*) FROM sqlite_master WHERE name = 'stock' AND sql LIKE '%/* of the "
    "board; NULL: not said */%'",
    "server": "SELECT count(*) FROM pg_description WHERE description = 'of the board; NULL: not "
    "said'"
    " AND objoid = 'stock'::regclass",
}
LAYOUT = {"file": "PRAGMA user_version", "server": "SELECT max(version) FROM fitlog_layout"}


@pytest.fixture
def later(place: Place, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A log of today's layout, met by a fitlog of the next; gives the script of that layout."""
    with open_log(place.location, create=True) as log:
        fill(stock_up(log))
    script = tmp_path / "scripts" / "versions" / "layout_x.py"
    script.parent.mkdir(parents=True)
    script.write_text(SCRIPT)
    monkeypatch.setattr(migrations, "FOLDER", tmp_path / "scripts")
    monkeypatch.setattr(layout, "VERSION", LATER)
    yield script


def kind(place: Place) -> str:
    return "file" if place.server is None else "server"


def state(place: Place) -> tuple[int, int]:
    """The layout, and whether the column of the script is there, explained."""
    return place.rows(LAYOUT[kind(place)])[0][0], place.rows(COLUMN[kind(place)])[0][0]


def test_a_script_runs_on_either_kind_of_log(later: Path, place: Place, shop: Shop) -> None:
    before = place.rows("SELECT * FROM verdict ORDER BY id")
    db = ("--db", place.location)
    if kind(place) == "server":  # a whole shop: never unasked
        assert "log migrate" in shop.refused("next", *db) and state(place)[1] == 0
        assert "pg_dump" in shop.refused("log", "migrate", *db) and state(place)[1] == 0
    told = shop.run("log", "migrate", "--yes", *db).out
    assert f"to {LATER}" in told and state(place) == (LATER, 1)
    assert ("backup" in told) == (kind(place) == "file")
    assert "nothing was changed" in shop.run("log", "migrate", "--yes", *db).out
    assert place.rows("SELECT * FROM verdict ORDER BY id") == before
    # Only the script knows that layout: of today's, the new column is the one thing too many.
    faults = shop.run("log", "health", "--json", *db, code=1).document["faults"]
    assert faults and all("stock" in fault and "layout" in fault for fault in faults), faults


def test_a_script_that_fails_changes_nothing(later: Path, place: Place, shop: Shop) -> None:
    later.write_text(SCRIPT + "    raise RuntimeError('half way')\n")
    before = state(place)
    result = shop.run("log", "migrate", "--yes", "--db", place.location, code=1)
    sentence(result.err)
    assert "half way" in result.err and "as it was" in result.err and state(place) == before
    later.write_text(SCRIPT.replace('"stock"', '"nowhere"'))
    assert (
        "as it was" in shop.run("log", "migrate", "--yes", "--db", place.location, code=1).err
        and state(place) == before
    )
    later.write_text(SCRIPT)
    shop.run("log", "migrate", "--yes", "--db", place.location)


def test_no_script_no_upgrade(later: Path, place: Place) -> None:
    """A fitlog that lacks the script it needs says so and leaves the log alone."""
    later.unlink()
    before = state(place)
    with pytest.raises(Refused) as caught:
        care.migrate(place.location, date(2031, 3, 4), agreed=True)
    assert caught.value.code == "migration-failed" and state(place) == before


def test_a_disk_that_fails_at_the_commit_keeps_the_backup(
    later: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, place: Place
) -> None:
    """What a failed fsync left in a -wal file SQLite may take for stored when it opens it next: so
    nobody says that the log is as it was, and the backup stays.
    """
    if kind(place) != "file":
        pytest.skip("a server tells itself what became of a COMMIT")
    run = upgrading._run

    def failing(connection: Connection, found: int) -> None:
        run(connection, found)
        error = sqlite3.OperationalError("disk I/O error")
        error.sqlite_errorcode = sqlite3.SQLITE_IOERR_FSYNC
        raise OperationalError("COMMIT", {}, error)

    monkeypatch.setattr(upgrading, "_run", failing)
    with pytest.raises(Refused) as caught:
        care.migrate(place.location, date(2031, 3, 4), agreed=True)
    assert caught.value.code == "log-unreachable"
    assert "may not be stored" in str(caught.value) and "as it was" not in str(caught.value)
    assert list(Path(place.location).parent.glob("*.layout-*.backup"))


LOADED = (
    "import sys; from fitlog.fronts.cli import main; sys.argv[1:] = {args!r}\n"
    "try: main()\nfinally: print('LOADED', *sys.modules)"
)


@pytest.mark.parametrize(
    "line",
    [
        *("cut good", "log backup"),
        *(
            pytest.param(line, marks=pytest.mark.long)
            for line in ("next", "log where", "log health", "review", "undo")
        ),
    ],
)
def test_alembic_is_loaded_only_when_a_script_runs(shop: Shop, line: str) -> None:
    shop.started()
    shop.words("cut tight")
    code = LOADED.format(args=line.split())
    done = subprocess.run(
        [sys.executable, "-c", code],
        env=shop.environment(),
        capture_output=True,
        text=True,
        timeout=60,
    )
    loaded = done.stdout.rsplit("LOADED", 1)[1].split()
    assert "sqlalchemy" in loaded and not [
        name for name in loaded if name.split(".")[0] in ("alembic", "mako")
    ]
    assert "fitlog.log.care.upgrading" not in loaded


@pytest.mark.skipif(
    importlib.util.find_spec("hatchling") is None, reason="hatchling builds the packages"
)
def test_the_packages_carry_the_scripts_and_the_old_logs(tmp_path: Path) -> None:
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-d", str(tmp_path)],
        cwd=ROOT,
        check=True,
        capture_output=True,
        timeout=99,
    )
    (wheel,), (source,) = tmp_path.glob("*.whl"), tmp_path.glob("*.tar.gz")
    inside = set(zipfile.ZipFile(wheel).namelist())
    with tarfile.open(source) as archive:
        packed = {name.split("/", 1)[1] for name in archive.getnames() if "/" in name}
    folder = ROOT / "fitlog" / "log" / "migrations"
    scripts = [path for ending in ("py", "sql") for path in folder.rglob(f"*.{ending}")]
    assert scripts
    for script in scripts:
        assert str(script.relative_to(ROOT)) in inside & packed
    for old in (ROOT / "data").glob("log-v*.db"):
        assert f"data/{old.name}" in packed
