"""How long an import takes by the number of its lines, and how long nobody else can write then.

    python tests/benchmarks/bench_import.py --lines 1500 --lines 19990

Seconds of processor time (user and system) in one process: a table of trial cuts that starts a
set-up; the same table again, of which all is known; the JSON of that log into one that has a tenth
of it; and as many bits of one name. The table is invented; 20,000 lines with its header are the
most that one may have.
"""

from __future__ import annotations

import argparse
import csv
import io
import json
import resource
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import fitlog.service.cuts as cuts
import fitlog.service.exchange as exchange
from fitlog.domain import Bit, Stock
from fitlog.exchange.document import rows_of
from fitlog.exchange.sheet import read_sheet
from fitlog.log import Log, open_log
from fitlog.log.transfer.bulk import together
from fitlog.service.again import Named
from fitlog.service.reader.table import TableTyped, asked_of, columns_for
from fitlog.service.session import Session

WORDS = ("slightly tight", "slightly loose", "good", "tight", "loose, gap far 0.3")
BIT, STOCK = Bit("half", 13.1, 9.0, 14.0), Stock("ash", "ash (invented)", 17.0, 150.0)
held: list[float] = []


def spent() -> float:
    """Seconds of processor time so far."""
    used = resource.getrusage(resource.RUSAGE_SELF)
    return used.ru_utime + used.ru_stime


@contextmanager
def watched(log: Log) -> Iterator[Any]:
    """`together`, its time noted."""
    began = spent()
    with together(log) as found:
        yield found
    held.append(spent() - began)


def table(lines: int) -> bytes:
    """A table of so many trial cuts, seven minutes apart."""
    out, at = io.StringIO(), datetime(2021, 1, 1, 8)
    write = csv.writer(out, delimiter=";").writerow
    write(("date", "height", "fence", "depth", "said", "note"))
    for n in range(lines):
        at += timedelta(minutes=7)
        write((f"{at:%Y-%m-%d %H:%M}", 12.3 + n % 7 * 0.05, 75.2, 11.7, WORDS[n % 5], f"n{n}"))
    return out.getvalue().encode()


def stocked(place: Path) -> Log:
    """A new log with one bit and one stock."""
    log = open_log(place, create=True)
    log.add_bit(BIT)
    log.add_stock(STOCK)
    return log


def import_table(log: Log, data: bytes) -> int:
    """Import a table as the command does; return how many cuts it logged."""
    session = Session(log, "mira")
    typed = TableTyped(named=Named("half", "ash"), yes=True)
    where = typed.target(session)
    columns = columns_for(session, where)
    asked = asked_of(session.reader, typed, read_sheet(data, columns), columns, False)
    return len(cuts.log_cuts(log, "mira", session.ruler(), where, asked).cuts)


def timed(what: str, lines: int, do: Callable[[], object]) -> None:
    """Print a line of the table."""
    held.clear()
    began = spent()
    done = do()
    turn = f"{sum(held):6.1f}"
    print(f"{what:<34} {lines:>7,} {spent() - began:>8.1f} {turn}   {done}", flush=True)


def measure(folder: Path, lines: int) -> None:
    """Print the lines of the table for one size."""
    data = table(lines)
    with stocked(folder / f"{lines}.db") as log:
        timed("a table that starts a set-up", lines, lambda: import_table(log, data))
        timed("the same table again", lines, lambda: import_table(log, data))
        out = io.StringIO()
        exchange.write_log(log, out.write)

    def merge(log: Log, text: str) -> dict[str, int]:
        return dict(exchange.read_log(log, rows_of(io.StringIO(text)), "mira").merged.added)

    with stocked(folder / f"{lines}-part.db") as log:
        import_table(log, table(lines // 10))
        timed("its JSON into a log with a tenth", lines, lambda: merge(log, out.getvalue()))
        timed("the same JSON again", lines, lambda: merge(log, out.getvalue()))
    with stocked(folder / f"{lines}-bits.db") as log:
        one = io.StringIO()
        exchange.write_log(log, one.write)
        document = json.loads(one.getvalue())
        (bit,) = (row["bit"] for row in document["rows"] if "bit" in row)
        del bit["digest"]
        bits = [{"bit": {**bit, "id": n, "diameter": 14 + n / 1000}} for n in range(1, lines + 1)]
        text = json.dumps({**document, "rows": bits, "count": lines})
        timed("bits of one name", lines, lambda: merge(log, text))


def main() -> None:
    """Measure every size asked for."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("--lines", type=int, action="append")
    setattr(cuts, "together", watched)  # noqa: B010  (its time is noted there)
    setattr(exchange, "together", watched)  # noqa: B010
    print(f"{'':<34} {'lines':>7} {'seconds':>8} {'of it with the turn to write'}")
    with tempfile.TemporaryDirectory() as folder:
        for lines in parser.parse_args().lines or [1500, 19_990]:
            measure(Path(folder), lines)


if __name__ == "__main__":
    main()
