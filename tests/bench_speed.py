"""Whole-process and in-process times as ratios in one run: `python tests/bench_speed.py` (fitlog installed).

Commands are run in turn, A B A B, so that a machine that slows down slows both; the medians are compared. Nothing is
asserted: the table goes into DEVELOPERS.md.
"""

from __future__ import annotations

import os
import random
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

RUNS = 15
IMPORTS = "import typer, sqlmodel, scipy.special, rich.table"
FITLOG = [sys.executable, "-c", "from fitlog.cli import main; main()"]


def seconds(command: list[str], env: dict[str, str]) -> float:
    """Wall time of one whole process."""
    begun = time.perf_counter()
    subprocess.run(command, env=env, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - begun


def ratio(name: str, one: Callable[[], float], other: Callable[[], float], bound: float) -> None:
    """Print the medians of two timings taken in turn, and their ratio beside its bound."""
    pairs = [(one(), other()) for _ in range(RUNS + 1)][1:]
    mine, base = (statistics.median(column) for column in zip(*pairs, strict=True))
    print(f"| {name} | {mine * 1000:.0f} ms | {base * 1000:.0f} ms | {mine / base:.2f} | {bound:.2f} |")


def processes(folder: Path) -> None:
    """Time whole commands on the demo's log."""
    env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"} | {"HOME": str(folder)}
    demo = folder / "demo.db"
    subprocess.run([*FITLOG, "demo", "--to", str(demo)], env=env, check=True, stdout=subprocess.DEVNULL)

    def on_copy(*words: str) -> float:
        copy = folder / "copy.db"
        for ending in ("", "-wal", "-shm"):
            Path(f"{copy}{ending}").unlink(missing_ok=True)
        shutil.copy(demo, copy)
        return seconds([*FITLOG, *words], env | {"FITLOG_DB": str(copy)})

    def python(code: str) -> float:
        return seconds([sys.executable, "-c", code], env)

    ratio("`fitlog next`", lambda: on_copy("next"), lambda: python(IMPORTS), 1.35)
    ratio("`fitlog cut good, flush`", lambda: on_copy("cut", "good,", "flush"), lambda: python(IMPORTS), 1.35)
    ratio("`fitlog --help`", lambda: on_copy("--help"), lambda: python("import typer"), 2.5)


def advice(readings: bool) -> None:
    """Time one advice in process with 50 trial cuts in the set-up."""
    from fitlog.advisor import advise
    from fitlog.advisor.history import History
    from fitlog.advisor.opening import first_settings
    from fitlog.domain import Bit, Plan, Said, Settings, SetUp, Stock, TrialCut, Verdict
    from fitlog.units import Ruler

    stock = Stock("invented", "ash", 17, 150)
    plan = Plan(Bit("invented", 12.7, 9.0, 16), stock, stock, None, 22.4, 150, 17, 17, 6.35)
    first, r = first_settings(plan, History()), random.Random(50)

    def cut(number: int) -> TrialCut:
        off = [0.1 * r.gauss(0, 1) for _ in range(3)]
        settings = Settings(first.bit_height + off[0], first.fence_offset + off[1], first.socket_depth + off[2])
        sizes = [round(r.uniform(0.1, 0.6), 2) if readings else None for _ in range(3)]
        words = (r.choice(("slightly tight", "slightly loose")), r.choice(("gap far", "gap near")), r.choice(("proud", "shy")))
        said = [Said(a, w, s) for a, w, s in zip(("fit", "centre", "seat"), words, sizes, strict=True)]
        return TrialCut(number, number, settings, Verdict(*said))

    setup = replace(SetUp(1, plan, first, first, datetime.now(UTC)), cuts=tuple(cut(n) for n in range(1, 51)))
    times = []
    for _ in range(RUNS + 3):
        begun = time.perf_counter()
        advise(setup, History(), Ruler())
        times.append(time.perf_counter() - begun)
    median = statistics.median(times[3:]) * 1000
    kind = "words and readings" if readings else "words only"
    print(f"| one advice, 50 cuts, {kind} in all three aspects | {median:.1f} ms | 20 ms | {median / 20:.2f} | 1.00 |")


if __name__ == "__main__":
    print("| command | median | against | ratio | bound |\n| --- | --- | --- | --- | --- |")
    with tempfile.TemporaryDirectory() as made:
        processes(Path(made))
    advice(readings=False)
    advice(readings=True)
