"""The one door for files: whole or not at all, over another only with --force, and over a log
never.
"""

from __future__ import annotations

import errno
import json
import os
import shutil
import signal
import sqlite3
import stat
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from logs import ordinary_user
from shop import ROOT, Shop

from fitlog.errors import Refused
from fitlog.log import open_log
from fitlog.newfile import APPLICATION_ID, log_there, part_of, place_of, whole_file

WRITERS = (
    "stops --csv",
    "progress --picture",
    "progress --months --picture",
    "rehearse --setups 1 --only fit --picture",
    "sheet --out",
    "log export",
    "log export --csv",
    "log backup",
)
needs_posix = pytest.mark.skipif(os.name != "posix", reason="links and devices as POSIX has them")


@pytest.fixture(scope="module")
def worked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log with a finished set-up, a backup of it and an export."""
    made = Shop(tmp_path_factory.mktemp("worked"))
    for line in (
        "bit add marsh --diameter 13.1 --angle 9 --cutting-length 14",
        "stock add elm --species elm --thickness 17 --width 150",
        "start --tails 5",
        "cut good, centred, flush",
        "finish",
        f"log backup {made.home / 'backup'}",
        f"log export {made.home / 'export'}",
    ):
        made.run(*line.split(), "--db", str(made.db))
    return made.home


@pytest.fixture
def shop(shop: Shop, worked: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    """The same log in a file that is named like a picture, in the folder at hand."""
    shop.db = shop.home / "log.svg"
    shutil.copy(worked / "log.db", shop.db)
    monkeypatch.setenv("FITLOG_DB", str(shop.db))
    monkeypatch.chdir(shop.home)
    return shop


@pytest.fixture
def held(shop: Shop) -> Iterator[None]:
    """Somebody has the log open, and what they logged last still lies beside it."""
    with open_log(shop.db, create=True) as log:
        log.prefer("wren", name="wren", at=log.setup(1).started)
        yield


def named_log(home: Path, worked: Path) -> dict[str, str]:
    """Every guise of a log, of a part of one and of an export, by the name it has here."""
    for there, here in (("backup", "backup.svg"), ("log.db", "copy.svg"), ("export", "export.svg")):
        shutil.copy(worked / there, home / here)
    (home / "linked.svg").symlink_to(home / "log.svg")
    (home / "deep").mkdir()
    (home / "deep" / "again.svg").symlink_to("../linked.svg")
    for there, here in (
        ("log.svg", "hard.svg"),
        ("log.svg-wal", "hard-wal.svg"),
        ("log.svg-shm", "hard-shm.svg"),
    ):
        (home / here).hardlink_to(home / there)
    text = json.loads((worked / "export").read_text())
    (home / "spread.svg").write_text(json.dumps(text, indent=4))
    (home / "marked.svg").write_text((worked / "export").read_text(), encoding="utf-16")
    (home / "half.svg").write_text((worked / "export").read_text()[:300])
    with closing(sqlite3.connect(home / "copy.svg")) as plain:
        plain.execute("PRAGMA user_version = 99")  # of a fitlog that is not written yet
    return {
        "log.svg": "a log",
        "linked.svg": "a log",
        "deep/again.svg": "a log",
        "hard.svg": "a log",
        "./deep/../log.svg": "a log",
        "copy.svg": "a log",
        "backup.svg": "a backup",
        "export.svg": "an export",
        "spread.svg": "an export",
        "marked.svg": "an export",
        "half.svg": "an export",
        "hard-wal.svg": "belongs to a log",
        "hard-shm.svg": "belongs to a log",
    }


def contents(home: Path) -> dict[str, bytes]:
    """Every file below a folder; the index that SQLite shares between processes changes
    by reading.
    """
    files = (
        p
        for p in home.rglob("*")
        if p.is_file() and not p.name.endswith("-shm") and p.name != "hard-shm.svg"
    )
    return {str(p.relative_to(home)): p.read_bytes() for p in files}


@needs_posix
@pytest.mark.parametrize("line", WRITERS)
def test_no_command_writes_over_a_log(shop: Shop, worked: Path, held: None, line: str) -> None:
    guises = named_log(shop.home, worked)
    before = contents(shop.home)
    for name, what in guises.items():
        for force in ((), ("--force",)):
            told = shop.refused(*line.split(), name, *force)
            itself = line == "log backup" and what == "a log" and name != "copy.svg"
            assert (
                "the log itself" in told
                if itself
                else what in told and name in told.replace(f"{shop.home}/", "")
            ), told
    assert contents(shop.home) == before
    code = shop.run(*line.split(), "backup.svg", "--force", "--json", code=1).document["error"][
        "code"
    ]
    assert code == "is-a-log"


@pytest.mark.parametrize("line", ["stops --csv", "log export", "log export --csv", "log backup"])
@pytest.mark.parametrize("end", ["-wal", "-shm", "-journal"])
def test_names_that_the_log_itself_uses_are_left_to_it(shop: Shop, line: str, end: str) -> None:
    """There may be no such file yet: SQLite would take what is written there for its own."""
    name = f"log.svg{end}"
    there = (shop.home / name).exists()
    assert "the log beside it" in shop.refused(*line.split(), name, "--force")
    assert (shop.home / name).exists() == there


@pytest.mark.parametrize("line", WRITERS)
def test_a_file_that_is_there_wants_force(shop: Shop, line: str) -> None:
    target = shop.home / "mine.svg"
    target.write_text("mine")
    told = shop.run(*line.split(), "mine.svg", "--json", code=1).document["error"]
    assert (
        told["code"] == "file-exists" and "--force" in told["hint"] and target.read_text() == "mine"
    )
    shop.run(*line.split(), "mine.svg", "--force")
    assert target.read_bytes() not in (b"mine", b"") and not list(shop.home.glob(".fitlog*"))


@pytest.mark.parametrize("line", [*WRITERS, "demo --to"])
def test_what_names_no_file_is_one_sentence(shop: Shop, line: str) -> None:
    (shop.home / "folder.svg").mkdir()
    odd = {"": "names no file", "nul\0.svg": "names no file", "new.svg/": "is a folder"}
    if line != "log backup":  # which goes into a folder
        odd |= {"folder.svg": "is a folder", ".": "is a folder"}
    if line == "log backup":
        odd["new.svg/"] = "there is no folder"
    if os.name == "posix":
        (shop.home / "lost.svg").symlink_to("nowhere.svg")
        os.mkfifo(shop.home / "pipe.svg")
        odd |= {
            "lost.svg": "leads nowhere",
            "pipe.svg": "is a device",
            "/dev/full": "is a device",
            "/dev/null": "is a device",
        }
    for name, why in odd.items():
        for force in ((), ("--force",)) if line != "demo --to" else ((),):
            assert why in shop.refused(*line.split(), name, *force), name
    assert stat.S_ISFIFO((shop.home / "pipe.svg").stat().st_mode) and stat.S_ISCHR(
        Path("/dev/full").stat().st_mode
    )
    assert not (shop.home / "nowhere.svg").exists()


@needs_posix
@pytest.mark.parametrize(
    "name",
    [
        *("/dev/stdout", "linked.txt"),
        *(pytest.param(name, marks=pytest.mark.long) for name in ("/proc/self/fd/1", "out.txt")),
    ],
)
def test_the_output_itself_is_not_replaced(shop: Shop, name: str) -> None:
    """Where a shell sends standard output to a file, /dev/stdout is that file."""
    out = shop.home / "out.txt"
    (shop.home / "linked.txt").symlink_to(out)
    with out.open("a") as stream:
        stream.write("before\n")
        stream.flush()
        done = subprocess.run(
            shop.command("stops", "--force", "--csv", name),
            stdout=stream,
            stderr=subprocess.PIPE,
            env=shop.environment(),
            cwd=shop.home,
            text=True,
            timeout=60,
        )
    assert (done.returncode, out.read_text()) == (
        1,
        "before\n",
    ) and "is a device, not a file" in done.stderr


@needs_posix
def test_a_link_to_another_file_is_followed(shop: Shop) -> None:
    (shop.home / "stick").mkdir()
    real, link = shop.home / "stick" / "stops.csv", shop.home / "stops.csv"
    real.write_text("older")
    link.symlink_to(real)
    assert "--force" in shop.refused("stops", "--csv", "stops.csv")
    shop.words("stops --csv stops.csv --force")
    assert link.is_symlink() and "fence" in real.read_text()


def test_a_picture_and_a_table_of_another_database_may_be_replaced_when_asked(shop: Shop) -> None:
    other = shop.home / "birds.db"
    with closing(sqlite3.connect(other)) as plain:
        plain.execute("CREATE TABLE birds (name)")
    assert log_there(other) is None
    shop.refused("stops", "--csv", "birds.db")
    shop.words("stops --csv birds.db --force")
    assert not other.read_bytes().startswith(b"SQLite")


def test_a_json_that_only_mentions_a_log_is_none(tmp_path: Path) -> None:
    for text in (
        '{"rows": [{"fitlog": "log"}]}',
        '[{"fitlog": "log"}]',
        'x {"fitlog": "log"}',
        '{"fitlog": "sheet"}',
        "",
    ):
        (tmp_path / "a").write_text(text)
        assert log_there(tmp_path / "a") is None, text


def test_the_number_in_a_logs_header(shop: Shop) -> None:
    with closing(sqlite3.connect(shop.db)) as plain:
        assert plain.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,)


def test_looking_at_an_open_log_lets_go_of_no_lock(shop: Shop) -> None:
    """A process that closes a file loses its locks on it: https://www.sqlite.org/howtocorrupt.html,
    2.2.
    """
    code = (
        "import sqlite3, sys; c = sqlite3.connect(sys.argv[1], timeout=0); c.execute('BEGIN "
        "IMMEDIATE')"
    )
    with open_log(shop.db, create=True) as log, log.store.writing():
        for name in ("log.svg", "log.svg-wal", "log.svg-shm"):
            with pytest.raises(Refused):
                place_of(shop.home / name, over=True)
        done = subprocess.run(
            [sys.executable, "-c", code, str(shop.db)], capture_output=True, text=True, timeout=60
        )
        assert "database is locked" in done.stderr


# Whole or not at all


def test_a_block_that_fails_leaves_what_was_there(tmp_path: Path) -> None:
    target = tmp_path / "a.csv"
    target.write_text("older")
    with pytest.raises(Refused) as caught, whole_file(target, "the stops", over=True) as spare:
        spare.write_text("half")
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
    assert caught.value.code == "unwritable-file" and "No space left" in caught.value.message
    with pytest.raises(KeyError), whole_file(tmp_path / "b.csv", "the stops") as spare:
        spare.write_text("half")
        raise KeyError
    assert [p.name for p in tmp_path.iterdir()] == ["a.csv"] and target.read_text() == "older"


def test_what_comes_while_it_is_written_is_kept(shop: Shop, worked: Path) -> None:
    for over, theirs, code in (
        (False, worked / "export", "file-exists"),
        (True, worked / "log.db", "is-a-log"),
    ):
        target = shop.home / f"{code}.csv"
        with pytest.raises(Refused) as caught, whole_file(target, "the stops", over=over) as spare:
            spare.write_text("ours")
            shutil.copy(theirs, target)
        assert caught.value.code == code and target.read_bytes() == theirs.read_bytes()


@needs_posix
def test_a_disk_that_knows_no_second_names(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def none(*_: object, **__: object) -> None:
        raise PermissionError(errno.EPERM, os.strerror(errno.EPERM))

    monkeypatch.setattr(os, "link", none)
    with whole_file(tmp_path / "a.csv", "the stops") as spare:
        spare.write_text("ours")
    assert (tmp_path / "a.csv").read_text() == "ours"
    with pytest.raises(Refused) as caught, whole_file(tmp_path / "b.csv", "the stops"):
        (tmp_path / "b.csv").write_text("theirs")
    assert caught.value.code == "file-exists" and (tmp_path / "b.csv").read_text() == "theirs"


@needs_posix
def test_the_part_cannot_be_foreseen_and_is_its_owners_alone(tmp_path: Path) -> None:
    place, names = place_of(tmp_path / "a.csv"), set()
    old = os.umask(0)
    try:
        for _ in range(4):
            with part_of(place) as part:
                names.add(part.path.name)
                assert (
                    stat.S_IMODE(part.path.stat().st_mode) == 0o600 and part.path.parent == tmp_path
                )
    finally:
        os.umask(old)
    assert len(names) == 4 and not list(tmp_path.iterdir())


def test_a_link_laid_in_the_way_of_the_part_is_not_followed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "urandom", bytes)  # as if it could be foreseen
    with part_of(place_of(tmp_path / "a.csv")) as part:
        name = part.path.name
    victim = tmp_path / "victim"
    victim.write_text("mine")
    (tmp_path / name).symlink_to(victim)
    with pytest.raises(Refused) as caught, whole_file(tmp_path / "a.csv", "the stops"):
        pass
    assert (
        caught.value.code == "unwritable-file"
        and victim.read_text() == "mine"
        and (tmp_path / name).is_symlink()
    )


KILLED = """
import sys, time
from pathlib import Path
from fitlog.newfile import whole_file
with whole_file(sys.argv[1], "the stops", over=True) as spare:
    spare.write_text("half")
    print("ready", flush=True)
    time.sleep(60)
"""


@needs_posix
def test_what_a_killed_command_left_blocks_none(shop: Shop) -> None:
    target = shop.home / "stops.csv"
    target.write_text("older")
    command = [sys.executable, "-c", KILLED, str(target)]
    running = subprocess.Popen(command, stdout=subprocess.PIPE, env={"PYTHONPATH": str(ROOT)})
    assert running.stdout is not None and running.stdout.readline() == b"ready\n"
    running.send_signal(signal.SIGKILL)
    running.wait()
    running.stdout.close()
    assert target.read_text() == "older" and len(list(shop.home.glob(".fitlog*"))) == 2
    shop.words("stops --csv stops.csv --force")
    assert "fence" in target.read_text() and not list(shop.home.glob(".fitlog*"))


@needs_posix
def test_a_file_closed_to_its_owner_stays() -> None:
    with tempfile.TemporaryDirectory() as name:
        home, closed = Path(name), Path(name) / "closed.csv"
        closed.write_text("precious")
        closed.chmod(0o444)
        home.chmod(0o777)
        with ordinary_user():
            with whole_file(home / "open.csv", "the stops", over=True) as spare:
                spare.write_text("ours")  # the folder is open
            with (
                pytest.raises(Refused) as caught,
                whole_file(closed, "the stops", over=True) as spare,
            ):
                spare.write_text("ours")
        assert caught.value.code == "unwritable-file" and closed.read_text() == "precious"
