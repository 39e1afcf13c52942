"""What a command costs on one set-up of many pieces: python tests/benchmarks/bench_long_setup.py
[--pieces 40 100 1000]

Logs with one open set-up, invented and seeded: words on fit, centre and seat, numbers with some of
them. Whole processes, the best of RUNS by processor time, so that a busy machine spoils it little.
What is written is taken back.
"""

from __future__ import annotations

import argparse
import os
import random
import resource
import subprocess
import sys
import tempfile
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

import beside  # noqa: F401
from building import make_cut, make_plan
from tables import table

from fitlog.domain import Said
from fitlog.families.half_blind.names import say, set_to
from fitlog.log import Stamp, open_log

RUNS = 3
OPENED = datetime(2031, 1, 1, 9, tzinfo=UTC)
FIRST = (8.41, 75.2, 11.2)
FITS = ("tight", "slightly tight", "good", "slightly loose")
SEATS = ("flush", "proud", "shy")
COMMANDS = (
    "progress",
    "progress --json",
    "next",
    "cut tight",
    "undo",
    "found --height 8.4",
    "undo",
    "show",
    "review",
    "fault",
    "stops",
    "sheet --out sheet.pdf --force",
    "progress --picture progress.png --force",
    "log health",
)


def centre(draw: random.Random) -> str | Said:
    """What is said of the centre."""
    return draw.choice(
        ["centred", say("centre", "gap far", 0.3), say("centre", "gap near", 0.2), "gap far"]
    )


def make(path: Path, pieces: int) -> None:
    """Write a log with one set-up."""
    draw, plan = random.Random(pieces), make_plan(machine=table("table (invented)"))
    with open_log(path, create=True) as log:
        log.add_bit(plan.bit)
        for stock in {plan.stock.name: plan.stock, plan.pin_stock.name: plan.pin_stock}.values():
            log.add_stock(stock)
        log.add_machine(table("table (invented)"))
        number = log.start(plan, set_to(*FIRST), "{}", Stamp("wren", OPENED, None))
        for piece in range(1, pieces + 1):
            at = set_to(*(round(x + draw.uniform(-0.2, 0.2), 2) for x in FIRST))
            cut = make_cut(piece, at, draw.choice(FITS), centre(draw), draw.choice(SEATS))
            log.record(number, cut, Stamp("wren", OPENED + timedelta(minutes=5 * piece), None))


def run(folder: Path, db: Path, words: str) -> tuple[float, float]:
    """Processor and wall time of one whole process, s."""
    before, begun = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    subprocess.run(
        [sys.executable, "-m", "fitlog", *words.split()],
        cwd=folder,
        env=os.environ | {"FITLOG_DB": str(db), "LOGNAME": "wren", "OPENBLAS_NUM_THREADS": "1"},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        check=True,
    )
    wall, after = time.perf_counter() - begun, resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime, wall


def main() -> None:
    """Print a table: a row a command, a column a size, processor and wall time of the best run."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--pieces", type=int, nargs="*", default=(40, 100, 1000))
    asked.add_argument("--runs", type=int, default=RUNS)
    told = asked.parse_args()
    best: dict[tuple[str, int], tuple[float, float]] = {}
    with tempfile.TemporaryDirectory() as made:
        for pieces in told.pieces:
            db = Path(made) / f"{pieces}.db"
            make(db, pieces)
            for _ in range(told.runs):
                for words in COMMANDS:
                    found = run(Path(made), db, words)
                    best[words, pieces] = min(found, best.get((words, pieces), found))
    print("| command |" + "".join(f" {n:,} pieces |" for n in told.pieces))
    print("| --- |" + " --- |" * len(told.pieces))
    for words in dict.fromkeys(COMMANDS):
        cells = (best[words, n] for n in told.pieces)
        print(f"| `{words}` |" + "".join(f" {cpu:.2f} ({wall:.2f}) s |" for cpu, wall in cells))
    print(f"\nload {os.getloadavg()[0]:.1f}, {os.cpu_count()} processors")


if __name__ == "__main__":
    main()
