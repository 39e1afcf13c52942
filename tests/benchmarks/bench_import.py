"""How long an import takes by the number of its lines, and how long nobody else can write then.

    python tests/benchmarks/bench_import.py --lines 20000 --lines 50000 [--server] [--tables]

Seconds by the clock: a table of trial cuts that starts a set-up (of up to 19,990 lines, and only
with --tables); the JSON of such a log into one that has a tenth of it, and the same JSON again;
the JSON into an empty log; and as many bits of one name. Held is from the turn to write to the end
of COMMIT, the longest of one import. --server: on a PostgreSQL server, run for it. Everything is
invented.
"""

from __future__ import annotations

import argparse
import csv
import io
import json
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, nullcontext
from datetime import datetime, timedelta
from itertools import count
from pathlib import Path
from typing import Any

from sqlalchemy import Connection

from fitlog.domain import Bit, Stock
from fitlog.exchange.document import rows_of
from fitlog.exchange.sheet import read_sheet
from fitlog.log import Log, open_log
from fitlog.service.again import Named
from fitlog.service.cuts import log_cuts
from fitlog.service.exchange import read_log, write_log
from fitlog.service.reader.table import TableTyped, asked_of, columns_for
from fitlog.service.session import Session

sys.path.insert(0, str(Path(__file__).parent.parent / "support"))

WORDS = ("slightly tight", "slightly loose", "good", "tight", "loose, gap far 0.3")
BIT, STOCK = Bit("half", 13.1, 9.0, 14.0), Stock("ash", "ash (invented)", 17.0, 150.0)
held: list[float] = []


def watched(log: Log) -> Log:
    """A log whose turns to write are noted in `held`."""
    store: Any = log.store
    plain = store.writing

    @contextmanager
    def writing() -> Iterator[Connection]:
        given = 0.0
        try:
            with plain() as connection:
                given = time.perf_counter()
                yield connection
        finally:
            held.append(time.perf_counter() - given)

    store.writing = writing
    return log


def table(lines: int) -> bytes:
    """A table of so many trial cuts, seven minutes apart."""
    out, at = io.StringIO(), datetime(2021, 1, 1, 8)
    write = csv.writer(out, delimiter=";").writerow
    write(("date", "height", "fence", "depth", "said", "note"))
    for n in range(lines):
        at += timedelta(minutes=7)
        write((f"{at:%Y-%m-%d %H:%M}", 12.3 + n % 7 * 0.05, 75.2, 11.7, WORDS[n % 5], f"n{n}"))
    return out.getvalue().encode()


def stocked(place: str) -> Log:
    """A new log with one bit and one stock."""
    log = open_log(place, create=True)
    log.add_bit(BIT)
    log.add_stock(STOCK)
    return watched(log)


def import_table(log: Log, data: bytes) -> int:
    """Import a table as the command does; return how many cuts it logged."""
    session = Session(log, "mira")
    typed = TableTyped(named=Named("half", "ash"), yes=True)
    where = typed.target(session)
    columns = columns_for(session, where)
    asked = asked_of(session.reader, typed, read_sheet(data, columns), columns, False)
    return len(log_cuts(log, "mira", session.ruler(), where, asked).cuts)


def timed(what: str, lines: int, do: Callable[[], object]) -> None:
    """Print a line of the table."""
    held.clear()
    began = time.perf_counter()
    done = do()
    spent, turn = time.perf_counter() - began, max(held, default=0.0)
    print(f"{what:<34} {lines:>7,} {spent:>8.1f} {turn:>6.1f}   {done}", flush=True)


def document(lines: int) -> str:
    """The JSON of a log with so many cuts, made in tables that may be imported."""
    out = io.StringIO()
    with tempfile.TemporaryDirectory() as folder, stocked(f"{folder}/made.db") as log:
        import_table(log, table(10))
        write_log(log, out.write)
    return grown(json.loads(out.getvalue()), lines)


def grown(small: dict[str, Any], lines: int) -> str:
    """The document of a log of a few cuts as one of many cuts; version 3, which has no digests."""
    rows, at = small["rows"], datetime(2022, 1, 1, 8)
    plain = [{kind: {**row, "digest": None} for kind, row in one.items()} for one in rows]
    for one in plain:
        for row in one.values():
            del row["digest"]
    (model,) = (one["entry"] for one in plain[-1:])
    said = count(max(one["id"] for one in model["cut"]["verdicts"]) + 1)
    for n in range(1, lines - 9):
        at += timedelta(minutes=7)
        moment = f"{at:%Y-%m-%dT%H:%M:%S.000000Z}"
        number = model["id"] + n
        cut = {**model["cut"], "piece": model["cut"]["piece"] + n, "note": f"more {n}"}
        cut["verdicts"] = [{**one, "id": next(said)} for one in cut["verdicts"]]
        more = {"id": number, "at": moment, "key": f"key of {n}", "cut": cut}
        plain.append({"entry": {**model, **more}})
    return json.dumps({**small, "version": 3, "rows": plain, "count": len(plain)})


def part(text: str, tenth: int) -> str:
    """The document without the last of its rows."""
    whole = json.loads(text)
    rows = whole["rows"][: len(whole["rows"]) // tenth]
    return json.dumps({**whole, "rows": rows, "count": len(rows)})


def merge(log: Log, text: str) -> dict[str, int]:
    """Import a document; return how many rows of each kind it added."""
    return dict(read_log(log, rows_of(io.StringIO(text)), "mira").merged.added)


def measure(place: Callable[[str], str], lines: int, tables: bool) -> None:
    """Print the lines of the table for one size."""
    if tables:
        data = table(min(lines, 19_990))
        with stocked(place(f"t{lines}")) as log:
            timed("a table that starts a set-up", lines, lambda: import_table(log, data))
            timed("the same table again", lines, lambda: import_table(log, data))
    text = document(lines)
    with watched(open_log(place(f"p{lines}"), create=True)) as log:
        merge(log, part(text, 10))
        timed("its JSON into a log with a tenth", lines, lambda: merge(log, text))
        timed("the same JSON again", lines, lambda: merge(log, text))
    with watched(open_log(place(f"e{lines}"), create=True)) as log:
        timed("its JSON into an empty log", lines, lambda: merge(log, text))
    with stocked(place(f"b{lines}")) as log:
        bit = next(one["bit"] for one in json.loads(text)["rows"] if "bit" in one)
        bits = [{"bit": {**bit, "id": n, "diameter": 14 + n / 1000}} for n in range(1, lines + 1)]
        many = json.dumps({**json.loads(text), "rows": bits, "count": lines})
        timed("bits of one name", lines, lambda: merge(log, many))


def main() -> None:
    """Measure every size asked for."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("--lines", type=int, action="append")
    parser.add_argument("--server", action="store_true")
    parser.add_argument("--tables", action="store_true")
    asked = parser.parse_args()
    print(f"{'':<34} {'lines':>7} {'seconds':>8} {'held':>6}")
    with tempfile.TemporaryDirectory() as folder, running_or(asked.server) as server:
        for lines in asked.lines or [20_000, 50_000]:

            def place(name: str) -> str:
                return str(server.place() if server else Path(folder) / f"{name}.db")

            measure(place, lines, asked.tables)


def running_or(wanted: bool) -> Any:
    """A server where one is wanted."""
    from postgres import running

    return running() if wanted else nullcontext()


if __name__ == "__main__":
    main()
