"""Processor time of the keys of the dialogue that end a piece: `python
tests/benchmarks/bench_keys.py LOG`, on a copy of a log with a current set-up (the demo's, for one).

Six pieces are judged in all three aspects, each recorded and answered in one process.
"""

from __future__ import annotations

import gc
import shutil
import sys
import tempfile
import time
from pathlib import Path

from fitlog.domain import Verdict
from fitlog.families.half_blind.names import say
from fitlog.service.asked import Reported
from fitlog.service.session import Session, opened

PIECES = (
    ("slightly tight", "gap far", "proud"),
    ("slightly loose", "centred", "shy"),
    ("slightly tight", "gap near", "flush"),
    ("slightly loose", "gap far", "slightly proud"),
    ("slightly tight", "centred", "flush"),
    ("slightly loose", "centred", "flush"),
)


def keys(place: Path) -> list[float]:
    """Return the time of each key, ms; the log is written to."""
    times = []
    with opened(str(place), create=False) as (log, _):
        setup, bench = Session(log, "somebody").at()
        bench.answer(setup.number)  # imports what is imported late, learns from earlier set-ups
        gc.freeze()
        for words in PIECES:
            said = zip(("fit", "centre", "seat"), words, strict=True)
            verdict = Verdict(tuple(say(aspect, word) for aspect, word in said))
            setup = log.setup(setup.number)
            begun = time.process_time()
            bench.record(setup, Reported(verdict))
            bench.answer(setup.number)
            times.append((time.process_time() - begun) * 1000)
    return times


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as made:
        copy = Path(made, "copy.db")
        shutil.copy(sys.argv[1], copy)
        print(" ".join(f"{key:.1f}" for key in keys(copy)), "ms")
