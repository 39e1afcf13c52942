"""A log in a file: opening it, and every mishap of files in its own sentence."""

from __future__ import annotations

import os
import shutil
import sqlite3
import stat
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from logs import BIT, FIRST, FULL, PLAN, STAMP, fill, ordinary_user, raw, refused, stock_up

from fitlog.log import Log, engine, open_log
from fitlog.log.sqlite import files


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "deep" / "er" / "log.db"


@pytest.fixture
def filled(file: Path) -> Iterator[Log]:
    with open_log(file, create=True) as opened:
        yield fill(stock_up(opened))


@pytest.fixture
def shared() -> Iterator[Path]:
    """A log in a folder that every user may pass (pytest's own folders are closed to others)."""
    folder = Path(tempfile.mkdtemp())
    with open_log(folder / "log.db", create=True) as opened:
        stock_up(opened).start(PLAN, FIRST, "{}", STAMP)
    folder.chmod(0o755)
    yield folder / "log.db"
    folder.chmod(0o755)
    shutil.rmtree(folder)


def test_new_log(file: Path) -> None:
    refused("no-log", open_log, file, create=False)
    assert not file.parent.exists()
    with open_log(file, create=True) as opened:
        assert opened.path == file and opened.bits() == []
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    with open_log(str(file), create=False) as opened:
        assert opened.setups() == []
    with open_log(f"sqlite:///{file}", create=False) as opened:
        assert opened.path == file
    assert [f.name for f in file.parent.iterdir()] == ["log.db"]


@pytest.mark.parametrize("create", [True, False])
def test_what_is_no_log(tmp_path: Path, create: bool) -> None:
    refused("log-is-folder", open_log, tmp_path, create=create)
    text = tmp_path / "notes.txt"
    for content in ("short", "a long text " * 1000):
        text.write_text(content)
        refused("not-a-log", open_log, text, create=create)
        assert text.read_text() == content
    refused("parent-is-file", open_log, text / "log.db", create=create)
    refused("bad-path", open_log, "", create=create)
    refused("bad-path", open_log, "a\0b", create=create)
    os.mkfifo(tmp_path / "pipe")
    refused("not-a-log", open_log, tmp_path / "pipe", create=create)
    assert (
        "secret"
        not in refused(
            "no-such-store", open_log, "mysql+x://mira:secret@h/d", create=create
        ).message
    )


@pytest.mark.parametrize(
    "setup", ["CREATE TABLE t (x)", "PRAGMA user_version = 3", "PRAGMA application_id = 77"]
)
def test_other_applications_file_is_left_alone(tmp_path: Path, setup: str) -> None:
    path = tmp_path / "other.db"
    with raw(path) as plain:
        plain.execute(setup)
    before = path.read_bytes()
    for create in (True, False):
        refused("not-a-log", open_log, path, create=create)
    assert path.read_bytes() == before


def test_other_versions(filled: Log) -> None:
    for version, code in ((7, "newer-log"), (0, "unknown-version")):
        with raw(filled.path) as plain:
            plain.execute(f"PRAGMA user_version = {version}")
        assert f"layout {version}" in refused(code, open_log, filled.path, create=False).message


@pytest.mark.parametrize("closed", ["file", "folder", "both"])
def test_read_only_log_is_read_but_not_written(shared: Path, closed: str) -> None:
    shared.chmod(0o644 if closed == "folder" else 0o444)
    shared.parent.chmod(0o755 if closed == "file" else 0o555)
    with ordinary_user(), open_log(shared, create=False) as opened:
        assert opened.setup(1).plan == PLAN
        opened.show(1, FIRST, "{}", STAMP)
        refused("read-only-log", opened.record, 1, FULL, STAMP)
        refused("read-only-log", opened.add_bit, replace(BIT, name="blue"))
    shared.parent.chmod(0o755)
    assert [f.name for f in shared.parent.iterdir()] == ["log.db"]


def test_read_only_log_beside_a_writer(shared: Path) -> None:
    with open_log(shared, create=False) as writer:
        writer.record(1, FULL, STAMP)
        for f in shared.parent.iterdir():
            f.chmod(0o644)
        with ordinary_user(), open_log(shared, create=False) as opened:
            assert opened.setup(1).cuts == writer.setup(1).cuts != ()


def test_no_permission(shared: Path) -> None:
    shared.parent.chmod(0o555)
    with ordinary_user():
        for below in ("new.db", "folder/new.db"):
            refused("read-only-log", open_log, shared.parent / below, create=True)
    shared.chmod(0)
    with ordinary_user():
        refused("no-permission", open_log, shared, create=False)
    shared.parent.chmod(0)
    with ordinary_user():
        refused("no-permission", open_log, shared, create=True)


def test_locked_longer_than_the_wait(filled: Log, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(engine, "BUSY_SECONDS", 0.01)
    with raw(filled.path) as plain, open_log(filled.path, create=False) as opened:
        plain.execute("BEGIN IMMEDIATE")
        refused("log-busy", opened.record, 1, replace(FULL, piece=2), STAMP)
        assert opened.setup(1).cuts == filled.setup(1).cuts
        plain.execute("ROLLBACK")
        opened.record(1, replace(FULL, piece=2), STAMP)


def test_disk_full_stores_nothing(filled: Log, monkeypatch: pytest.MonkeyPatch) -> None:
    # SQLite's own limit on pages stands in for a full disk: it answers with the same SQLITE_FULL.
    connect = files._connect

    def small(path: Path, mode: str) -> sqlite3.Connection:
        connection = connect(path, mode)
        connection.execute("PRAGMA max_page_count = 1")  # SQLite raises it to the present size
        return connection

    monkeypatch.setattr(files, "_connect", small)
    with open_log(filled.path, create=False) as opened:
        document = '"' + "x" * 100_000 + '"'
        before = opened.setup(1)
        assert (
            "no room"
            in refused("disk-full", opened.show, 1, FULL.settings, document, STAMP).message
        )
        assert opened.setup(1) == before


def test_damaged_log(filled: Log, tmp_path: Path) -> None:
    copy = tmp_path / "copy.db"
    with raw(filled.path) as plain:
        plain.execute(f"VACUUM INTO '{copy}'")
    content = copy.read_bytes()
    copy.write_bytes(content[:4096] + b"\xff" * (len(content) - 4096))

    def read() -> None:
        with open_log(copy, create=False) as opened:
            opened.setups()

    refused("damaged-log", read)


def test_missing_reference_is_told(filled: Log) -> None:
    with raw(filled.path) as plain:
        plain.execute("DROP TRIGGER stock_no_in_use")
        plain.execute("DELETE FROM stock")
    refused("damaged-log", filled.setups)


def test_empty_file_is_new(tmp_path: Path) -> None:
    (tmp_path / "log.db").touch()
    refused("no-log", open_log, tmp_path / "log.db", create=False)
    with open_log(tmp_path / "log.db", create=True) as opened:
        assert opened.bits() == []
