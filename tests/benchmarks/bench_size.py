"""What a command costs on a long log, against one with a single set-up: python
tests/benchmarks/bench_size.py [--folder DIR]

Logs of 1,000 to 1,000,000 trial cuts (`bigshop`: 20 to a set-up, advice as long as the real one;
the longest takes 3 GB). Whole processes in turn, one on the long log, one on the short, medians of
RUNS pairs; the memory is the most that a process ever held. What is written is taken back before
the next pair, so that both logs stay as they are but for that.
"""

from __future__ import annotations

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import NamedTuple

import beside  # noqa: F401
from bench_dialogue import first_screen, rounds
from bigshop import BITS, MACHINES, PEOPLE, STOCKS, make
from pane import Pane
from shop import Shop

# At its end the process says the most memory it held; the system's own account would begin with
# that of this program.
ENDING = (
    "open(os.environ['HELD'], 'w').write([x for x in open('/proc/self/status') if "
    "x.startswith('VmHWM')][0])"
)
FITLOG = [
    sys.executable,
    "-c",
    f"import os\nfrom fitlog.fronts.cli import main\ntry: main()\nfinally: {ENDING}",
]
SETUPS = (50, 500, 5_000, 50_000)
RUNS = 15
SAME = ("--bit", BITS[0].name, "--stock", STOCKS[0].name)


class Command(NamedTuple):
    """A command, what takes back what it wrote, and how many times the short log's time it may
    take.
    """

    words: tuple[str, ...]
    undo: tuple[str, ...] = ()
    bound: float | None = None


TUNING = (
    Command(("next",), (), 1.5),
    Command(("cut", "slightly tight, gap far 0.2"), ("undo",), 1.5),
    Command(("review", *SAME), (), 2.0),
    Command(("review",)),
    Command(("show",)),
    Command(("progress",)),
    Command(("fault",)),
    Command(("words",)),
    Command(("bit", "show", BITS[0].name)),
    Command(("plan", *SAME)),
    Command(("progress", "--months", "--bit", BITS[0].name)),
)
ENDED = (Command(("start", *SAME, "--machine", MACHINES[0].name), ("undo", "--yes"), 2.0),)


class Run(NamedTuple):
    """Wall time, s, and the most memory held, MB."""

    seconds: float
    memory: float


def run(db: Path, words: tuple[str, ...]) -> Run:
    """Run one whole process."""
    held = db.with_suffix(".held")
    env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    env |= {"FITLOG_DB": str(db), "LOGNAME": PEOPLE[0], "HELD": str(held)}
    begun = time.perf_counter()
    done = subprocess.run(
        [*FITLOG, *words], env=env, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, check=False
    )
    seconds = time.perf_counter() - begun
    if done.returncode != 0:
        raise SystemExit(f"{words} on {db} ended with {done.returncode}: {done.stderr.decode()}")
    return Run(seconds, int(held.read_text().split()[1]) / 1024)


def compared(command: Command, long: Path, short: Path, runs: int) -> str:
    """Return one row of a table."""
    pairs: list[tuple[Run, Run]] = []
    for _ in range(runs + 1):  # the first does not count
        pair = (run(long, command.words), run(short, command.words))
        pairs.append(pair)
        if command.undo:
            run(long, command.undo)
            run(short, command.undo)
    mine, base = (
        statistics.median(r.seconds for r in column) for column in zip(*pairs[1:], strict=True)
    )
    held, plain = (max(r.memory for r in column) for column in zip(*pairs[1:], strict=True))
    bound = f"{command.bound:.1f}" if command.bound else ""
    name = f"`{' '.join(command.words)}`"
    times = f"{mine * 1000:.0f} ms | {base * 1000:.0f} ms | {mine / base:.2f} | {bound}"
    return f"| {name} | {times} | {held:.0f} MB | {plain:.0f} MB |"


def dialogue(db: Path, folder: Path) -> tuple[float, float]:
    """Seconds to the first screen of `bench`, and the median from a key to the next screen, ms."""
    shop = Shop(folder)
    shop.db = db
    with Pane(
        shop,
        HOME=str(folder),
        XDG_CONFIG_HOME=str(folder),
        OPENBLAS_NUM_THREADS="1",
        LOGNAME=PEOPLE[0],
    ) as pane:
        start = first_screen(pane)
        times = rounds(pane, 4)
    return start, statistics.median(t for found in times.values() for t in found)


def measure(folder: Path, setups: int, runs: int, only: list[str]) -> None:
    """Print the tables of one size."""
    long, short = folder / f"log-{setups}.db", folder / f"one-{setups}.db"
    begun = time.perf_counter()
    cuts = make(long, setups)
    make(short, setups, only_last=True)
    size = long.stat().st_size / 1e6
    print(
        f"\n{cuts:,} trial cuts, {setups:,} set-ups, {size:,.0f} MB, made in "
        f"{time.perf_counter() - begun:.0f} s\n"
    )
    print(
        "| command | long log | one set-up | ratio | bound | memory | one set-up |\n| --- "
        + "| --- " * 6
        + "|"
    )

    def all_of(commands: tuple[Command, ...]) -> None:
        for command in commands:
            if not only or command.words[0] in only:
                print(
                    compared(command, long, short, runs if command.bound else max(3, runs // 3)),
                    flush=True,
                )

    all_of(TUNING)
    for path in (long, short):
        run(path, ("finish", "--as-it-is"))
    all_of(ENDED)
    for path in (long, short):
        run(path, ("undo",))
    if not only or "bench" in only:
        (first, key), (base, other) = dialogue(long, folder), dialogue(short, folder)
        print(
            f"| `bench`, first screen (once) | {first * 1000:.0f} ms | {base * 1000:.0f} ms | "
            f"{first / base:.2f} | | | |"
        )
        print(
            f"| `bench`, from a key to the next screen | {key:.1f} ms | {other:.1f} ms | "
            f"{key / other:.2f} | | | |"
        )
    for path in folder.glob("*.db*"):
        path.unlink()


def main() -> None:
    """Measure every size asked for."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument(
        "--folder",
        type=Path,
        help="where the logs are made; a folder for the time being if not said",
    )
    asked.add_argument("--setups", type=int, nargs="*", default=SETUPS)
    asked.add_argument("--runs", type=int, default=RUNS)
    asked.add_argument(
        "--only",
        nargs="*",
        default=[],
        help="commands to measure, such as: next cut; all if not said",
    )
    told = asked.parse_args()
    with tempfile.TemporaryDirectory(dir=told.folder) as made:
        for setups in told.setups:
            measure(Path(made), setups, told.runs, told.only)
    print(f"\nload {os.getloadavg()[0]:.1f}, {os.cpu_count()} processors")


if __name__ == "__main__":
    main()
