"""What killed commands leave is cleared by the next one that writes there, and nothing else is;
what was there before is the old file or the new one, whole.
"""

from __future__ import annotations

import json
import os
import random
import stat
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from logs import ordinary_user
from shop import ROOT, Shop

from fitlog.errors import Refused
from fitlog.log import open_log
from fitlog.log.care import copies, upkeep
from fitlog.newfile import whole_file
from fitlog.newfile.spare import spare_file

pytestmark = pytest.mark.skipif(os.name != "posix", reason="locks and signals as POSIX has them")

DAY = date(2031, 3, 4)
WRITING = """
import sys, time
from pathlib import Path
from fitlog.newfile.spare import spare_file
with spare_file(Path(sys.argv[1])) as path:
    for end in ("", "-wal", "-journal"):
        path.with_name(path.name + end).write_text("half")
    print("ready", flush=True)
    time.sleep(60)
"""


def writing(folder: Path) -> subprocess.Popen[bytes]:
    """A process that holds a part of its own in a folder until it is ended."""
    running = subprocess.Popen(
        [sys.executable, "-c", WRITING, str(folder)],
        stdout=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    assert running.stdout is not None and running.stdout.readline() == b"ready\n"
    running.stdout.close()
    return running


def names(folder: Path) -> set[str]:
    """What lies in a folder."""
    return {path.name for path in folder.iterdir()}


def test_what_a_living_process_writes_stays_until_it_is_dead(tmp_path: Path) -> None:
    running = writing(tmp_path)
    try:
        its = names(tmp_path)
        assert len(its) == 4
        with spare_file(tmp_path) as own:
            assert names(tmp_path) == {*its, own.name, own.with_suffix(".held").name}
        assert names(tmp_path) == its
    finally:
        running.kill()
        running.wait()
    assert names(tmp_path) == its
    with spare_file(tmp_path) as own:
        assert names(tmp_path) == {own.name, own.with_suffix(".held").name}
    assert names(tmp_path) == set()


def test_nothing_of_others_is_cleared(tmp_path: Path) -> None:
    """Names that are not quite ours, links, folders, pipes, and a new part of an older fitlog."""
    aged = time.time() - 7 * 86_400
    stem = ".fitlog-0123456789abcdef"
    victim = tmp_path / "victim"
    victim.write_text("mine")
    for name in (f"{stem}.part.txt", f"x{stem}.part", ".fitlog-0123.part", ".fitlog-log", "a.part"):
        (tmp_path / name).write_text("mine")
        os.utime(tmp_path / name, (aged, aged))
    (tmp_path / ".fitlog-1111111111111111.part").symlink_to(victim)
    (tmp_path / ".fitlog-2222222222222222.held").symlink_to(victim)
    (tmp_path / ".fitlog-3333333333333333.part").mkdir()
    os.mkfifo(tmp_path / ".fitlog-4444444444444444.held")
    (tmp_path / ".fitlog-5555555555555555.part").write_text("young")
    there = names(tmp_path)
    old = tmp_path / ".fitlog-6666666666666666.part"
    old.write_text("old")
    os.utime(old, (aged, aged))
    with spare_file(tmp_path):
        pass
    assert names(tmp_path) == there and victim.read_text() == "mine"


@pytest.mark.skipif(os.name != "posix" or os.geteuid() != 0, reason="root can be somebody else")
def test_what_another_user_left_stays() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o777)
        left = folder / ".fitlog-0123456789abcdef.held"
        left.touch()
        left.chmod(0o666)
        with ordinary_user(), spare_file(folder):
            pass
        assert names(folder) == {left.name}
        with spare_file(folder):
            pass
        assert names(folder) == set()


def test_two_files_of_one_name_on_a_disk_without_second_names(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Somebody takes the name between the look and the taking: theirs stays."""

    def none(*_: object) -> None:
        raise PermissionError(1, "no such thing here")

    monkeypatch.setattr(Path, "hardlink_to", none)
    with whole_file(tmp_path / "a", "a") as spare:
        spare.write_text("one")
    with pytest.raises(Refused) as caught, whole_file(tmp_path / "b", "b") as spare:
        (tmp_path / "b").write_text("theirs")
    assert caught.value.code == "file-exists" and (tmp_path / "b").read_text() == "theirs"
    assert (tmp_path / "a").read_text() == "one" and names(tmp_path) == {"a", "b"}


def test_two_unnamed_backups_at_one_moment_have_names_of_their_own(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another one takes the very name while this one is being read back."""
    shop.started("--tails 5")
    real, other = copies.verified, list[Path]()

    def slowly(path: Path, *, named: Path | None = None) -> copies.Content:
        monkeypatch.setattr(copies, "verified", real)
        other.append(upkeep.backup(str(shop.db), None, DAY)[0])
        return real(path, named=named)

    monkeypatch.setattr(copies, "verified", slowly)
    mine = upkeep.backup(str(shop.db), None, DAY)[0]
    assert len({mine, *other}) == 2
    for one in (mine, *other):
        assert copies.verified(one).setups == 1


def test_a_new_log_is_its_owners_alone_whatever_was_there(shop: Shop) -> None:
    shop.db.touch()
    shop.db.chmod(0o666)
    shop.stocked()
    assert stat.S_IMODE(shop.db.stat().st_mode) == 0o600
    backup = shop.home / "there.backup"
    shop.words(f"log backup {backup}")
    empty = shop.home / "empty.db"
    empty.touch()
    empty.chmod(0o666)
    shop.words(f"log restore {backup} --db {empty}")
    assert stat.S_IMODE(empty.stat().st_mode) == 0o600


def test_a_device_is_no_log_to_be_replaced(shop: Shop) -> None:
    shop.stocked()
    backup = shop.home / "there.backup"
    shop.words(f"log backup {backup}")
    os.mkfifo(shop.home / "pipe")
    for name in ("/dev/null", str(shop.home / "pipe")):
        for replace in ((), ("--replace",)):
            told = shop.refused("log", "restore", str(backup), "--db", name, *replace)
            assert "is not a log" in told
    assert stat.S_ISCHR(Path("/dev/null").stat().st_mode)
    assert stat.S_ISFIFO((shop.home / "pipe").stat().st_mode)


def kills(
    shop: Shop, line: str, target: Path, whole: Callable[[Path], bool], times: int, longest: float
) -> None:
    """End a command at random moments (seeded) up to so many seconds: the file is the old or the
    new one, whole, each time, and after the next command nothing else is left.
    """
    chance = random.Random(f"{line} 20310304")
    command = [*line.split(), str(target), "--force"]
    for _ in range(times):
        target.write_bytes(b"old")
        running = subprocess.Popen(
            shop.command(*command),
            env=shop.environment(),
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        time.sleep(chance.uniform(0, longest))
        running.kill()
        running.wait()
        assert target.read_bytes() == b"old" or whole(target)
    target.write_bytes(b"old")
    shop.run(*command)
    pages = {target.name}
    if line.startswith("sheet"):  # which takes two pages here
        pages.add(target.with_stem(f"{target.stem}-2").name)
    assert whole(target) and names(target.parent) == pages


def whole_export(path: Path) -> bool:
    """Tell whether a JSON export is whole."""
    return len(json.loads(path.read_text(encoding="utf-8"))["rows"]) > 3


def whole_backup(path: Path) -> bool:
    """Tell whether a backup is whole."""
    return copies.verified(path).setups == 1


def whole_sheet(path: Path) -> bool:
    """Tell whether a drawing is whole."""
    return path.read_text(encoding="utf-8").rstrip().endswith("</svg>")


DONE_BY = {
    "log export": ("a.json", whole_export, 0.6),
    "log backup": ("a.backup", whole_backup, 0.6),
    "sheet --out": ("a.svg", whole_sheet, 2.0),
}


@pytest.mark.parametrize("line", DONE_BY)
@pytest.mark.parametrize("times", [4, pytest.param(20, marks=pytest.mark.long)])
def test_a_killed_command_leaves_the_old_file_or_the_new_one(
    shop: Shop, line: str, times: int
) -> None:
    """The moments are drawn from a seed; what is asserted holds whenever it is, so that nothing
    fails by chance.
    """
    shop.started("--tails 5")
    to = shop.home / "out"
    to.mkdir()
    name, whole, longest = DONE_BY[line]
    kills(shop, line, to / name, whole, times, longest)
    with open_log(shop.db, create=False) as log:
        assert log.setup(1).number == 1
