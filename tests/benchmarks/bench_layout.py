"""How the settings of a trial cut are kept best: as columns, as JSON text, or a row a name.

    python tests/benchmarks/bench_layout.py [--cuts N] [--folder DIR]

Plain SQLite, the same random cuts three times: 20 to a set-up, three settings and three advised
ones each, and an advice with its three. `columns` is what layout 3 had; `json` what layout 4 has;
`rows` a table of one row a name, with an index by its owner. What is read is made a dict in each.
"""

from __future__ import annotations

import argparse
import json
import random
import sqlite3
import statistics
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

NAMES = ("bit_height", "fence_offset", "socket_depth")
EACH = 20  # cuts to a set-up
HISTORY = 48  # set-ups that an advice reads
COMMIT = 1000
Numbers = dict[str, float]

_THREE = "bit_height REAL NOT NULL, fence_offset REAL NOT NULL, socket_depth REAL NOT NULL"
_ADVISED = "advised_height REAL, advised_fence REAL, advised_depth REAL"
_OBJECT = "TEXT NOT NULL CHECK (json_valid({0}) AND {0} LIKE '{{%' AND length({0}) <= 4000)"
_CUT = "entry INTEGER PRIMARY KEY, setup INTEGER NOT NULL, piece INTEGER NOT NULL, heard TEXT"
TABLES = {
    "columns": (
        f"CREATE TABLE trial_cut ({_CUT}, {_THREE}, {_ADVISED}) STRICT",
        f"CREATE TABLE advice (id INTEGER PRIMARY KEY, {_THREE}) STRICT",
    ),
    "json": (
        f"CREATE TABLE trial_cut ({_CUT}, settings {_OBJECT.format('settings')},"
        f" advised {_OBJECT.format('advised')}) STRICT",
        f"CREATE TABLE advice (id INTEGER PRIMARY KEY, settings {_OBJECT.format('settings')})"
        " STRICT",
    ),
    "rows": (
        f"CREATE TABLE trial_cut ({_CUT}) STRICT",
        "CREATE TABLE advice (id INTEGER PRIMARY KEY) STRICT",
        "CREATE TABLE setting (of INTEGER NOT NULL, kind INTEGER NOT NULL, name TEXT NOT NULL,"
        " value REAL NOT NULL, PRIMARY KEY (of, kind, name)) STRICT, WITHOUT ROWID",
    ),
}
USED, ADVISED, SHOWN = 1, 2, 3


def drawn(seed: int) -> Iterator[Numbers]:
    """Yield settings as they come out of the advice, rounded, or out of a person's turns, not."""
    draw = random.Random(seed)
    while True:
        digits = draw.choice((2, 2, 2, 15))
        yield {name: round(draw.uniform(5, 90), digits) for name in NAMES}


def put(plain: sqlite3.Connection, way: str, entry: int, numbers: Iterator[Numbers]) -> None:
    """Append one cut and the advice after it."""
    used, advised, shown = next(numbers), next(numbers), next(numbers)
    cut = (entry, 1 + entry // EACH, 1 + entry % EACH, "slightly tight, gap far 0.2")
    if way == "columns":
        values = (*cut, *used.values(), *advised.values())
        plain.execute("INSERT INTO trial_cut VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", values)
        plain.execute("INSERT INTO advice VALUES (?, ?, ?, ?)", (entry, *shown.values()))
    elif way == "json":
        values = (*cut, json.dumps(used), json.dumps(advised))
        plain.execute("INSERT INTO trial_cut VALUES (?, ?, ?, ?, ?, ?)", values)
        plain.execute("INSERT INTO advice VALUES (?, ?)", (entry, json.dumps(shown)))
    else:
        plain.execute("INSERT INTO trial_cut VALUES (?, ?, ?, ?)", cut)
        plain.execute("INSERT INTO advice VALUES (?)", (entry,))
        kinds = ((USED, used), (ADVISED, advised), (SHOWN, shown))
        rows = [(entry, kind, n, v) for kind, numbers in kinds for n, v in numbers.items()]
        plain.executemany("INSERT INTO setting VALUES (?, ?, ?, ?)", rows)


def got(plain: sqlite3.Connection, way: str, setups: list[int] | None) -> list[tuple[int, Numbers]]:
    """Read the settings of the cuts of some set-ups, or of all."""
    marks = "" if setups is None else f" WHERE setup IN ({', '.join('?' * len(setups))})"
    given = setups or []
    if way == "columns":
        asked = "SELECT entry, bit_height, fence_offset, socket_depth FROM trial_cut" + marks
        return [
            (row[0], dict(zip(NAMES, row[1:], strict=True))) for row in plain.execute(asked, given)
        ]
    if way == "json":
        asked = "SELECT entry, settings FROM trial_cut" + marks
        return [(entry, json.loads(text)) for entry, text in plain.execute(asked, given)]
    asked = (
        "SELECT entry, name, value FROM trial_cut JOIN setting ON of = entry AND kind = 1"
        f"{marks} ORDER BY entry"
    )
    found: dict[int, Numbers] = {}
    for entry, name, value in plain.execute(asked, given):
        found.setdefault(entry, {})[name] = value
    return list(found.items())


def seconds(work: Callable[[], object], times: int) -> float:
    """Return the median time of `work`, s."""
    taken = []
    for _ in range(times):
        begun = time.perf_counter()
        work()
        taken.append(time.perf_counter() - begun)
    return statistics.median(taken)


def measured(way: str, path: Path, cuts: int) -> str:
    """Return the row of one way."""
    numbers, draw = drawn(1), random.Random(2)
    with closing(sqlite3.connect(path, isolation_level=None)) as plain:
        plain.execute("PRAGMA journal_mode = WAL")
        for statement in TABLES[way]:
            plain.execute(statement)
        plain.execute("CREATE INDEX cut_of_setup ON trial_cut (setup)")
        for first in range(0, cuts, COMMIT):
            plain.execute("BEGIN")
            for entry in range(first, min(cuts, first + COMMIT)):
                put(plain, way, entry, numbers)
            plain.execute("COMMIT")
        entries = iter(range(cuts, cuts + 200))

        def one() -> None:
            plain.execute("BEGIN IMMEDIATE")
            put(plain, way, next(entries), numbers)
            plain.execute("COMMIT")

        appended = seconds(one, 200)
        plain.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        some = range(1, cuts // EACH)
        setup = seconds(lambda: got(plain, way, [draw.choice(some)]), 300)
        history = seconds(lambda: got(plain, way, draw.sample(some, HISTORY)), 100)
        everything = seconds(lambda: len(got(plain, way, None)), 1)
    size = path.stat().st_size / 1e6
    return (
        f"| {way} | {size:.0f} MB | {appended * 1e6:.0f} us | {setup * 1e6:.0f} us |"
        f" {history * 1e3:.2f} ms | {everything:.1f} s |"
    )


def main() -> None:
    """Measure every way."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--cuts", type=int, default=1_000_000)
    asked.add_argument("--folder", type=Path, help="where the files are made")
    told = asked.parse_args()
    print("| kept as | file | append one cut | read a set-up | read 48 | read all |")
    print("| --- | --- | --- | --- | --- | --- |")
    with tempfile.TemporaryDirectory(dir=told.folder) as made:
        for way in TABLES:
            print(measured(way, Path(made) / f"{way}.db", told.cuts), flush=True)


if __name__ == "__main__":
    main()
