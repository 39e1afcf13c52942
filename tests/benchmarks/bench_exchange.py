"""How fast a whole log goes out to JSON and in again, and how much memory that takes, by the size
of the log.

    python tests/benchmarks/bench_exchange.py --setups 500 --setups 5000 --setups 50000

Each step is a process of its own: rows a second and its peak resident memory as the system counts
it. The logs are those of `bigshop`, some 20 trial cuts a set-up; they lie in a temporary folder
unless --folder is given.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
WATCHED = """
import resource, sys
sys.argv[1:] = {args!r}
from fitlog.__main__ import main
try:
    main()
finally:
    print("PEAK", resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, file=sys.stderr)
"""


def run(*args: str) -> tuple[float, float]:
    """Run a command as a process of its own; return its seconds and its peak memory in MiB."""
    began = time.perf_counter()
    env = {**os.environ, "PYTHONPATH": str(ROOT), "OPENBLAS_NUM_THREADS": "1"}
    done = subprocess.run(
        [sys.executable, "-c", WATCHED.format(args=list(args))],
        env=env,
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    if done.returncode:
        raise SystemExit(f"{args}: {done.stdout[-500:]} {done.stderr[-2000:]}")
    return time.perf_counter() - began, int(done.stderr.rsplit("PEAK", 1)[1]) / 1024


def rows_of(export: Path) -> int:
    """How many rows of the tables an export holds, those inside an entry counted by themselves."""
    marks = (
        b'{"entry": {',
        b'{"advice": {',
        b'"started": {',
        b'"cut": {',
        b'"takes_back": {',
        b'"aspect": ',
        b'"value": ',
    )
    with export.open("rb") as lines:
        return sum(line.count(mark) for line in lines for mark in marks)


def measure(folder: Path, setups: int) -> None:
    """Print a line of the table for a log of so many set-ups."""
    log, copy, export = (folder / f"{setups}{end}" for end in (".db", "-copy.db", ".json"))
    if not log.exists():
        # In a process of its own: a child's peak counts what its parent held when it began.
        code = (
            f"from pathlib import Path; from bigshop import make; make(Path({str(log)!r}), "
            f"{setups})"
        )
        subprocess.run(
            [sys.executable, "-c", code],
            check=True,
            env={**os.environ, "PYTHONPATH": f"{ROOT}:{ROOT / 'tests'}"},
        )
    second = folder / "second.json"
    for old in (export, second):  # an export is never written over
        old.unlink(missing_ok=True)
    out, out_peak = run("log", "export", str(export), "--db", str(log))
    rows, size = rows_of(export), export.stat().st_size / 2**20
    copy.unlink(missing_ok=True)
    into, into_peak = run("log", "import", str(export), "--db", str(copy))
    again, again_peak = run("log", "import", str(export), "--db", str(copy))
    run("log", "export", str(second), "--db", str(copy))
    same = subprocess.run(["cmp", str(export), str(second)], check=False).returncode == 0
    print(
        f"| {setups:,} | {rows:,} | {size:.0f} | {out:.1f} s, {rows / out:,.0f}/s, {out_peak:.0f} "
        "MiB "
        f"| {into:.1f} s, {rows / into:,.0f}/s, {into_peak:.0f} MiB "
        f"| {again:.1f} s, {rows / again:,.0f}/s, {again_peak:.0f} MiB "
        f"| {'yes' if same else 'NO'} |",
        flush=True,
    )


def main() -> None:
    """Measure every size that was asked for."""
    wanted = argparse.ArgumentParser(description=__doc__)
    wanted.add_argument("--setups", type=int, action="append")
    wanted.add_argument("--folder", type=Path)
    given = wanted.parse_args()
    print(
        "| set-ups | rows | export, MiB | export | import into a new log | import once more | "
        "exports equal |"
    )
    print("| --- | --- | --- | --- | --- | --- | --- |")
    with tempfile.TemporaryDirectory() as spare:
        for setups in given.setups or [500, 5000]:
            measure(given.folder or Path(spare), setups)


if __name__ == "__main__":
    main()
