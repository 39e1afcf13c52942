"""How long the dialogue takes from a key to the next screen: python
tests/benchmarks/bench_dialogue.py

Through a real pseudo-terminal: from the key sent to the last byte of the frame that follows,
everything included (the entry on disk, the log read again, the advice worked out and kept, the
frame drawn). Set-ups of 50 trial cuts and more, alone and after 500 finished ones. All names and
numbers are invented.
"""

from __future__ import annotations

import os
import statistics
import tempfile
import time
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import beside  # noqa: F401
from bench_speed import finished, tuning
from pane import Pane
from shop import Shop

from fitlog.domain import SetUp
from fitlog.log import Log, Stamp, open_log

ROUNDS = 15
KEYS = (  # the key, what the next screen shows, what it is
    (b" ", b"piece %d: fit", "SPACE, it is cut: log, ask for the fit"),
    (b"3", b"piece %d: seat", "fit: log, ask for the seat"),
    (b"5", b"piece %d: centre", "seat: log, ask for the centre with what to mind before the turn"),
    (b"3", b"to cut: piece %d", "centre: log, the next settings"),
)


def write(log: Log, setup: SetUp) -> int:
    """Write a set-up into a log, its catalogue too; return its number there."""
    stamp, plan = Stamp("somebody", datetime.now(UTC), plan_machine(setup)), setup.plan
    for have, add, item in (
        (log.bits, log.add_bit, plan.bit),
        (log.stocks, log.add_stock, plan.stock),
        (log.stocks, log.add_stock, plan.pin_stock),
        (log.machines, log.add_machine, plan.machine),
    ):
        if item is not None and item.name not in {known.name for known in have()}:
            add(item)  # type: ignore[operator]
    number = log.start(plan, setup.first, "{}", stamp)
    for cut in setup.cuts:
        log.record(number, cut, stamp)
    if setup.outcome is not None:
        log.close(number, setup.outcome, stamp)
    return number


def plan_machine(setup: SetUp) -> str | None:
    """The name of a set-up's machine."""
    return setup.plan.machine.name if setup.plan.machine else None


def first_screen(pane: Pane) -> float:
    """Seconds until the first frame."""
    begun = time.perf_counter()
    until(pane, b"q quit")
    return time.perf_counter() - begun


def until(pane: Pane, wanted: bytes) -> None:
    """Wait for a frame that holds some bytes, to its end (the erasing of what lies below)."""
    found = b""
    while wanted not in found or not found.endswith(b"\x1b[J"):
        found += pane.child.read_nonblocking(65536, timeout=60)


def rounds(pane: Pane, piece: int) -> dict[str, list[float]]:
    """Judge ROUNDS pieces and more; return the times of each kind of key, ms, the first round left
    out.
    """
    times: dict[str, list[float]] = {}
    for number in range(piece, piece + ROUNDS + 1):
        for key, screen, what in KEYS:
            begun = time.perf_counter()
            pane.child.send(key)
            until(pane, screen % (number + (what.startswith("centre"))))
            if number > piece:
                times.setdefault(what, []).append((time.perf_counter() - begun) * 1000)
    return times


def measure(folder: Path, earlier: Sequence[SetUp], readings: bool) -> None:
    """Print one table."""
    shop = Shop(folder)
    plan = finished(1)[0].plan
    open_one = replace(tuning(plan, 50, readings=readings), outcome=None)
    with open_log(shop.db, create=True) as log:
        for setup in earlier:
            write(log, setup)
        write(log, open_one)
    with Pane(
        shop, HOME=str(folder), XDG_CONFIG_HOME=str(folder), OPENBLAS_NUM_THREADS="1"
    ) as pane:
        start = first_screen(pane)
        times = rounds(pane, 51)
    said = "words and readings" if readings else "words only"
    print(
        f"\n| 50 to {50 + ROUNDS + 1} cuts, {said}, after {len(earlier)} finished set-ups | median "
        "| slowest |"
    )
    print("| --- | --- | --- |")
    print(f"| from the command to the first screen | {start * 1000:.0f} ms | |")
    for what, found in times.items():
        print(f"| {what} | {statistics.median(found):.1f} ms | {max(found):.1f} ms |")


if __name__ == "__main__":
    for count in (0, 500):
        for readings in (False, True):
            with tempfile.TemporaryDirectory() as made:
                measure(Path(made), finished(count) if count else [], readings)
    print(f"\nload {os.getloadavg()[0]:.1f}, {os.cpu_count()} processors")
