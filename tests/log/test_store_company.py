"""Interruptions and company, on a file and on a server alike: processes that are killed, and that
race.
"""

from __future__ import annotations

import signal
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from logs import BIT, FIRST, PLAN, STAMP, Place, refused, stock_up

from fitlog.log import Log, open_log

LAST = {"file": "PRAGMA user_version", "server": "INSERT INTO fitlog_layout"}


def sound(place: Place) -> None:
    """The database's own check, where it has one."""
    assert place.server is not None or place.rows("PRAGMA integrity_check") == [("ok",)]


@pytest.mark.parametrize("start", ["CREATE TABLE bit", "CREATE TABLE reading", "the last"])
def test_interrupted_creation_leaves_no_half_schema(place: Place, start: str) -> None:
    start = start if start != "the last" else LAST["file" if place.server is None else "server"]
    assert (
        place.child(f"die_at({start!r}); open_log(path, create=True)").wait(60) == -signal.SIGKILL
    )
    refused("no-log", open_log, place.location, create=False)
    with open_log(place.location, create=True) as opened:
        stock_up(opened).start(PLAN, FIRST, "{}", STAMP)
    sound(place)


@pytest.mark.parametrize(
    "start", ["INSERT INTO trial_cut", "INSERT INTO verdict", "INSERT INTO reading", "COMMIT"]
)
def test_kill_in_the_middle_of_a_record(log: Log, place: Place, start: str) -> None:
    log.start(PLAN, FIRST, "{}", STAMP)
    end = f"die_at({start!r})"
    if start == "COMMIT":
        end = "event.listen(Engine, 'commit', lambda c: os.kill(os.getpid(), signal.SIGKILL))"
    code = f"""
log = open_log(path, create=False)
log.record(1, cut, stamp)
{end}
log.record(1, replace(cut, piece=2), stamp)
"""
    assert place.child(code).wait(60) == -signal.SIGKILL
    counts = [
        place.rows(f"SELECT count(*) FROM {t}")[0][0] for t in ("trial_cut", "verdict", "reading")
    ]
    assert counts == [1, 3, 1]
    assert place.rows("SELECT kind FROM entry ORDER BY id") == [("start",), ("cut",)]
    sound(place)
    assert [c.piece for c in log.setup(1).cuts] == [1]


def test_two_processes_at_once(log: Log, place: Place) -> None:
    log.start(PLAN, FIRST, "{}", STAMP)
    code = """
done = 0
with open_log(path, create=False) as log:
    while done < 12:
        last = log.setup(1).last_piece()
        new = replace(cut, piece=last.number + 1 if last else 1)
        try:
            log.record(1, new, stamp, new_piece=True)
        except Refused as error:
            assert error.code == "log-moved-on", error.code
        else:
            done += 1
"""
    racers = [place.child(code) for _ in range(2)]
    assert [racer.wait(60) for racer in racers] == [0, 0]
    assert [c.piece for c in log.setup(1).cuts] == list(range(1, 25))


TEN, EACH = 10, 12


@pytest.mark.long
def test_ten_processes_at_once(log: Log, place: Place, tmp_path: Path) -> None:
    """Each tunes a bit of its own; none is refused, so none waits longer than the bound."""
    for number in range(TEN):
        log.add_bit(replace(BIT, name=f"bit {number}"))
    code = f"""
import time
from pathlib import Path
longest = 0.0
with open_log(path, create=False) as log:
    plan = log.setup(1).plan
    plan = replace(plan, bit=log.bit("bit " + os.environ["WHICH"]))
    number = log.start(plan, set_to(8.7, 70.2, 9.1), "{{}}", stamp)
    for piece in range({EACH}):
        began = time.monotonic()
        log.record(number, replace(cut, piece=piece + 1), stamp, new_piece=True)
        longest = max(longest, time.monotonic() - began)
Path(os.environ["TO"]).write_text(str(longest))
"""
    log.start(PLAN, FIRST, "{}", STAMP)
    racers = [
        place.child(code, WHICH=str(number), TO=str(tmp_path / f"{number}.txt"))
        for number in range(TEN)
    ]
    assert [racer.wait(120) for racer in racers] == [0] * TEN
    longest = max(float((tmp_path / f"{number}.txt").read_text()) for number in range(TEN))
    print(f"{TEN} processes, {TEN * EACH} cuts, longest wait {longest:.2f} s")
    assert place.rows("SELECT count(*), count(DISTINCT entry) FROM trial_cut") == [
        (TEN * EACH, TEN * EACH)
    ]
    assert place.rows("SELECT count(*), min(id), max(id) FROM entry") == [
        (1 + TEN + TEN * EACH, 1, 1 + TEN + TEN * EACH)
    ]
    assert {len(s.cuts) for s in log.setups() if s.number != 1} == {EACH}
    sound(place)


def test_two_processes_make_one_log(place: Place) -> None:
    racers = [
        place.child("open_log(path, create=True).prefer('x', units='in', at=stamp.at)")
        for _ in range(3)
    ]
    assert [racer.wait(60) for racer in racers] == [0, 0, 0]
    assert place.rows("SELECT count(*) FROM preference") == [(3,)]


def test_the_log_imports_no_maths_and_no_shell() -> None:
    code = "import sys, fitlog.log; print(*sys.modules)"
    names = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    ).stdout.split()
    wrong = (
        "rich",
        "typer",
        "numpy",
        "scipy",
        "fitlog.estimator",
        "fitlog.families.half_blind.joint",
        "fitlog.families.half_blind.geometry",
        "fitlog.advice",
        "fitlog.render",
    )
    assert "fitlog.log.log" in names and [n for n in names if n in wrong] == []
