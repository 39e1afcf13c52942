"""Nothing lost: processes that log, open an old log or back one up are killed at random moments,
thousands of times.

    python tests/benchmarks/bench_durability.py --kills 4000 --cuts 200 --upgrades 500 --backups 500
    --together 10

Every kill is SIGKILL, which no process can catch; the moment is drawn from a seeded uniform law.
After each one the log must hold all that was acknowledged (a line written to a pipe after the call
returned, or an answer of `fitlog cut`), at most one thing more (what was being acknowledged), each
whole, and SQLite's own checks must find nothing. A kill takes the process away, not the power: what
the system holds in memory survives it. `synchronous = FULL` is what asks SQLite to wait for the
disk (https://www.sqlite.org/pragma.html#pragma_synchronous).
"""

from __future__ import annotations

import argparse
import json
import os
import random
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import closing
from datetime import date
from pathlib import Path
from typing import Any

import beside  # noqa: F401
from durable import (
    CUT,
    FIRST,
    ROOT,
    STOCK,
    Lost,
    Tell,
    killed,
    new_log,
    noted,
    now,
    pieces,
    recorder,
    sound,
    step,
    stored,
    undisturbed,
)

from fitlog.errors import FitlogError
from fitlog.families.half_blind.plan import DovetailPlan
from fitlog.log import open_log
from fitlog.log.care import copies, rebuilding

KILLS_PER_LOG = 25
MOMENT = 0.25  # seconds: some ten records
FIXED = (STOCK, STOCK, None, 150.0, 17.0, 17.0)


def kill_recorders(folder: Path, times: int, draw: random.Random) -> dict[str, Any]:
    """Kill processes that log as fast as they can."""
    acknowledged, path, figures = (
        set[str](),
        folder,
        dict.fromkeys(("acknowledged", "found", "found_unacknowledged"), 0),
    )
    for number in range(times):
        if number % KILLS_PER_LOG == 0:
            acknowledged, path = set(), folder / f"log-{number}.db"
            new_log(path)
        before = stored(path)
        lines = killed(
            recorder(path, random.Random(draw.random())),
            draw.uniform(0, MOMENT),
            draw.random() < 0.8,
        )
        new = {line for line in lines if line not in ("ready", "shown", "")}
        acknowledged |= new
        found = stored(path)
        if missing := acknowledged - found:
            raise Lost(f"kill {number}: {sorted(missing)[:5]}")
        if len(more := found - before - new) > 1:
            raise Lost(f"kill {number}: {sorted(more)} were never acknowledged")
        for name, things in (
            ("acknowledged", new),
            ("found", new & found),
            ("found_unacknowledged", more),
        ):
            figures[name] += len(things)
        sound(path)
        noted(path)
    return {"kills": times, **figures}


def kill_cuts(folder: Path, times: int, draw: random.Random) -> dict[str, Any]:
    """Kill whole `fitlog cut` processes, from the first line of fitlog on."""
    path = folder / "cuts.db"
    new_log(path)
    command = [sys.executable, "-m", "fitlog", "--db", str(path)]
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "OPENBLAS_NUM_THREADS": "1"}
    subprocess.run([*command, "start"], env=environment, check=True, capture_output=True)
    began = time.monotonic()
    subprocess.run([*command, "cut", "tight"], env=environment, check=True, capture_output=True)
    whole, answered, ended, before = time.monotonic() - began, 0, 0, pieces(path)
    for _ in range(times):
        running = subprocess.Popen(
            [*command, "cut", "slightly", "tight"],
            env=environment,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
        )
        time.sleep(draw.uniform(0.2 * whole, 1.3 * whole))
        running.kill()
        out, _ = running.communicate()
        said = running.returncode == 0 or "logged" in out
        after = pieces(path)
        if not said <= after - before <= 1:
            raise Lost(f"answered {said}, but {after - before} cuts more")
        answered, ended, before = answered + said, ended + (running.returncode == 0), after
    sound_command(command, environment)
    return {"processes": times, "killed": times - ended, "answered": answered, "found": before - 1}


def sound_command(command: list[str], environment: dict[str, str]) -> None:
    """Ask `fitlog log health`."""
    subprocess.run([*command, "log", "health"], env=environment, check=True, capture_output=True)


def kill_upgrades(folder: Path, times: int, draw: random.Random) -> dict[str, Any]:
    """Kill processes that open a log of layout 1: it is of the old layout or of the new, and all in
    it is there.
    """
    old, path, upgraded = ROOT / "data" / "log-v1.db", folder / "old.db", 0

    def work(tell: Tell) -> None:
        open_log(path, create=False).__exit__(None, None, None)
        tell("opened")

    with closing(sqlite3.connect(old)) as plain:
        said = plain.execute("SELECT * FROM verdict").fetchall()
    whole = 0.0
    for number in range(-3, times):  # three undisturbed first: how long does it take
        for left in folder.glob("*old.db*"):
            left.unlink()
        shutil.copy(old, path)
        if number < 0:
            whole = max(whole, undisturbed(work))
            continue
        lines = killed(work, draw.uniform(0, whole), False)
        with closing(sqlite3.connect(path)) as plain:
            (layout,) = plain.execute("PRAGMA user_version").fetchone()
            if plain.execute("SELECT * FROM verdict").fetchall() != said or (lines and layout == 1):
                raise Lost(f"upgrade {number} left layout {layout}")
        made = list(folder.glob("old.db.layout-1-*.backup"))
        if layout > 1 and len(made) != 1:
            raise Lost(f"upgrade {number} has no backup")
        for backup in made:
            copies.verified(backup)
        upgraded += layout > 1
        with open_log(path, create=False) as log, log.store.reading() as connection:
            if list(rebuilding.faults(connection)):
                raise Lost(f"upgrade {number} cannot be read back")
    return {"kills": times, "already_upgraded": upgraded, "left_at_layout_1": times - upgraded}


def kill_backups(folder: Path, times: int, draw: random.Random) -> dict[str, Any]:
    """Kill processes that make a backup: there is a whole one or none."""
    path, target, made = folder / "source.db", folder / "copy.backup", 0
    new_log(path)
    with open_log(path, create=False) as log:
        for _ in range(40):
            step(log, draw)

    def work(tell: Tell) -> None:
        copies.backup(path, target)
        tell("made")

    whole = max(undisturbed(work, target) for _ in range(3))
    for number in range(times):
        target.unlink(missing_ok=True)
        lines = killed(work, draw.uniform(0, whole), False)
        if lines and not target.exists():
            raise Lost(f"backup {number} was told and is not there")
        if target.exists():
            copies.verified(target)
            made += 1
    return {"kills": times, "whole": made, "none": times - made}


def together(folder: Path, processes: int, rows: int) -> dict[str, Any]:
    """Let processes log into one file at once, each in a set-up of its own; return the longest wait
    of any cut.
    """
    path = folder / f"together-{processes}.db"
    new_log(path, processes)
    with open_log(path, create=False) as log:
        setups = [
            log.start(DovetailPlan(bit, *FIXED, pitch=22.6, rabbet_depth=6.3), FIRST, "{}", now())
            for bit in log.bits()
        ]
    children = [_writer(path, setup, rows) for setup in setups]
    told = [line.split() for child, pipe in children for line in _lines(child, pipe)]
    entries, waits = [int(entry) for entry, _ in told], [float(wait) for _, wait in told]
    sound(path)
    if (
        len(entries) != processes * rows
        or len(set(entries)) != len(entries)
        or pieces(path) != len(entries)
    ):
        raise Lost(
            f"{len(entries)} acknowledged, {len(set(entries))} different, {pieces(path)} found"
        )
    return {
        "processes": processes,
        "acknowledged": len(entries),
        "found": pieces(path),
        "twice": 0,
        "longest_wait_s": round(max(waits), 3),
        "mean_wait_s": round(sum(waits) / len(waits), 4),
    }


def _writer(path: Path, setup: int, rows: int) -> tuple[int, int]:
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            with open_log(path, create=False) as log:
                for _ in range(rows):
                    began = time.monotonic()
                    entry = log.record(setup, CUT, now())
                    os.write(writing, f"{entry} {time.monotonic() - began}\n".encode())
        except FitlogError as error:
            os.write(2, f"{error.message}\n".encode())
        finally:
            os._exit(0)
    os.close(writing)
    return child, reading


def _lines(child: int, pipe: int) -> Iterator[str]:
    with os.fdopen(pipe, encoding="utf-8") as told:
        yield from told.read().splitlines()
    os.waitpid(child, 0)


def main() -> None:
    """Print one JSON document of figures, or fail at the first thing lost."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    for name, standard in (
        ("kills", 4000),
        ("cuts", 200),
        ("upgrades", 500),
        ("backups", 500),
        ("together", 10),
        ("rows", 200),
        ("seed", 20310304),
    ):
        parser.add_argument(f"--{name}", type=int, default=standard)
    asked = parser.parse_args()
    draw = random.Random(asked.seed)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        figures = {
            "recorders": kill_recorders(folder, asked.kills, draw),
            "cuts": kill_cuts(folder, asked.cuts, draw),
            "upgrades": kill_upgrades(folder, asked.upgrades, draw),
            "backups": kill_backups(folder, asked.backups, draw),
            "together": together(folder, asked.together, asked.rows),
        }
    print(json.dumps({"seed": asked.seed, "day": date.today().isoformat(), **figures}))


if __name__ == "__main__":
    main()
