"""What digests, and the door that looks at each row read, cost a `cut` and a log's file.

    python tests/benchmarks/bench_digests.py [--pairs N] [--setups N]

`fitlog cut` as a process of its own, on one and the same log, with and without them in turn: CPU
time of the process, user and system, as the system counts it. Without: both modules are others
that do nothing. The file: a log of `bigshop`, and the same without a digest, both packed.
"""

from __future__ import annotations

import argparse
import os
import shutil
import sqlite3
import statistics
import sys
import tempfile
from contextlib import closing
from pathlib import Path

import beside  # noqa: F401
from bigshop import make

from fitlog.log import layout

WITHOUT = """
import sys, types
digests, door = types.ModuleType("fitlog.log.digests"), types.ModuleType("fitlog.log.door")
digests.FUNCTION, digests.LATER = "fitlog_digest", "~"
digests.chained = lambda before, said: "0" * 64
digests.said_of = digests.advice_said = lambda *rows: ""
digests.own = lambda row: {**row, "digest": "0" * 64}
digests.after_last = lambda table: "0" * 64
door.sound = lambda rows, *about: rows
sys.modules |= {"fitlog.log.digests": digests, "fitlog.log.door": door}
"""
CUT = """
import sys
sys.argv = ["fitlog", "cut", "slightly", "tight", "--yes"]
from fitlog.__main__ import main
main()
"""


def cpu(code: str, log: Path) -> float:
    """Return the CPU time of a process that runs some code on a log, ms."""
    nothing = os.open(os.devnull, os.O_WRONLY)
    place = {**os.environ, "FITLOG_DB": str(log)}
    to = [(os.POSIX_SPAWN_DUP2, nothing, stream) for stream in (1, 2)]
    process = os.posix_spawn(sys.executable, [sys.executable, "-c", code], place, file_actions=to)
    os.close(nothing)
    _, status, used = os.wait4(process, 0)
    assert status == 0, "the command was refused"
    return 1000 * (used.ru_utime + used.ru_stime)


def packed(log: Path, *statements: str) -> int:
    """Return the size of a copy of a log, packed, after some statements, bytes."""
    copy = log.with_name("packed.db")
    shutil.copy(log, copy)
    with closing(sqlite3.connect(copy, isolation_level=None)) as plain:
        for (name,) in plain.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'"):
            plain.execute(f"DROP TRIGGER {name}")
        for statement in (*statements, "VACUUM", "PRAGMA journal_mode = DELETE"):
            plain.execute(statement)
    return copy.stat().st_size


def main() -> None:
    """Measure, and print two lines."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--pairs", type=int, default=25)
    parser.add_argument("--setups", type=int, default=50)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        log, copy = Path(folder) / "log.db", Path(folder) / "copy.db"
        cuts = make(log, given.setups)
        pairs = []
        for number in range(given.pairs + 2):
            both = []
            for code in (CUT, WITHOUT + CUT) if number % 2 else (WITHOUT + CUT, CUT):
                shutil.copy(log, copy)
                both.append(cpu(code, copy))
            pairs.append(both if number % 2 else both[::-1])
        pairs = pairs[2:]  # bytecode is there by then
        without = statistics.median(pair[1] for pair in pairs)
        more = statistics.median(pair[0] - pair[1] for pair in pairs)
        print(f"a cut: {without:.0f} ms of CPU, {more:+.1f} ms for digests and door", end=" ")
        print(f"({100 * more / without:+.1f} %, {given.pairs} pairs, {cuts:,} cuts in the log)")
        digested = [t.name for t in (*layout.CATALOGUE, *layout.APPEND_ONLY) if "digest" in t.c]
        bare = packed(log, *(f"UPDATE {name} SET digest = NULL" for name in digested))
        whole = packed(log)
        print(f"the file: {bare / 1e6:.2f} MB, {whole / 1e6:.2f} MB", end=" ")
        print(f"with digests ({100 * (whole - bare) / bare:+.1f} %)")


if __name__ == "__main__":
    main()
