"""Whole-process and in-process times as ratios in one run: `python tests/benchmarks/bench_speed.py`
(fitlog installed).

Commands are run in turn, A B A B, so that a machine that slows down slows both; the medians are
compared. Nothing is asserted: the table goes into MEASURED.md.
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
from itertools import cycle
from pathlib import Path
from typing import TYPE_CHECKING

from fitlog.families.half_blind.names import judged, say, set_to
from fitlog.families.half_blind.plan import DovetailPlan

if TYPE_CHECKING:
    from fitlog.domain import Plan, SetUp, TrialCut
    from fitlog.families import Joint

RUNS = 15
FINISHED = (0, 50, 500, 2000, 5000)  # set-ups already in the log, for the curve
IMPORTS = "import typer, sqlmodel, scipy.special, rich.table"
FROZEN = (
    f"import gc; gc.disable(); {IMPORTS}; gc.freeze()"  # without any collection, as fitlog ends
)
FITLOG = [sys.executable, "-c", "from fitlog.fronts.cli import main; main()"]


def seconds(command: list[str], env: dict[str, str]) -> float:
    """Wall time of one whole process."""
    begun = time.perf_counter()
    subprocess.run(command, env=env, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - begun


def ratio(name: str, one: Callable[[], float], other: Callable[[], float], bound: float) -> None:
    """Print the medians of two timings taken in turn, and their ratio beside its bound."""
    pairs = [(one(), other()) for _ in range(RUNS + 1)][1:]
    mine, base = (statistics.median(column) for column in zip(*pairs, strict=True))
    print(
        f"| {name} | {mine * 1000:.0f} ms | {base * 1000:.0f} ms | {mine / base:.2f} | {bound:.2f} "
        "|"
    )


def processes(folder: Path) -> None:
    """Time whole commands on the demo's log."""
    env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"} | {
        "HOME": str(folder)
    }
    demo = folder / "demo.db"
    subprocess.run(
        [*FITLOG, "demo", "--to", str(demo)], env=env, check=True, stdout=subprocess.DEVNULL
    )

    def on_copy(*words: str) -> float:
        copy = folder / "copy.db"
        for ending in ("", "-wal", "-shm"):
            Path(f"{copy}{ending}").unlink(missing_ok=True)
        shutil.copy(demo, copy)
        return seconds([*FITLOG, *words], env | {"FITLOG_DB": str(copy)})

    def python(code: str) -> float:
        return seconds([sys.executable, "-c", code], env)

    ratio("`fitlog next`", lambda: on_copy("next"), lambda: python(IMPORTS), 1.35)
    ratio(
        "`fitlog cut good, flush`",
        lambda: on_copy("cut", "good,", "flush"),
        lambda: python(IMPORTS),
        1.35,
    )
    for words in (("next",), ("cut", "good,", "flush")):
        named = f"`fitlog {' '.join(words)}`, against imports let go in the same way"
        ratio(named, lambda words=words: on_copy(*words), lambda: python(FROZEN), 1.35)  # type: ignore[misc]
    ratio("`fitlog --help`", lambda: on_copy("--help"), lambda: python("import typer"), 2.5)


def tuning(plan: Plan, cuts: int, *, readings: bool) -> SetUp:
    """A set-up in the middle of its work: about its first settings, words against each other,
    seeded.
    """
    from fitlog.advice.history import History
    from fitlog.domain import SetUp, TrialCut
    from fitlog.families.half_blind.opening import first_settings

    first, r = first_settings(plan, History()), random.Random(50)

    def cut(number: int) -> TrialCut:
        off = [0.1 * r.gauss(0, 1) for _ in range(3)]
        settings = set_to(
            first["bit_height"] + off[0],
            first["fence_offset"] + off[1],
            first["socket_depth"] + off[2],
        )
        sizes = [round(r.uniform(0.1, 0.6), 2) if readings else None for _ in range(3)]
        words = (
            r.choice(("slightly tight", "slightly loose")),
            r.choice(("gap far", "gap near")),
            r.choice(("proud", "shy")),
        )
        said = [
            say(a, w, s) for a, w, s in zip(("fit", "centre", "seat"), words, sizes, strict=True)
        ]
        return TrialCut(number, number, settings, judged(*said))

    setup = replace(
        SetUp(1, plan, first, first, datetime.now(UTC)),
        cuts=tuple(cut(n) for n in range(1, cuts + 1)),
    )
    return replace(setup, number=1_000_000)


def advice(readings: bool) -> None:
    """Time one advice in process with 50 trial cuts in the set-up."""
    from fitlog.advice import advise
    from fitlog.advice.history import History
    from fitlog.domain import Bit, Stock

    stock = Stock("invented", "ash", 17, 150)
    plan = DovetailPlan(
        Bit("invented", 12.7, 9.0, 16),
        stock,
        stock,
        None,
        pitch=22.4,
        board_width=150,
        tail_thickness=17,
        pin_thickness=17,
        rabbet_depth=6.35,
    )
    setup = tuning(plan, 50, readings=readings)
    median = middle(lambda: advise(setup, History()))
    kind = "words and readings" if readings else "words only"
    print(
        f"| one advice, 50 cuts, {kind} in all three aspects | {median:.1f} ms | 20 ms | "
        f"{median / 20:.2f} | 1.00 |"
    )


def middle(work: Callable[[], object], runs: int = RUNS) -> float:
    """Median time of some work, ms, after three runs that do not count."""
    return statistics.median([timed(work) for _ in range(runs + 3)][3:])


def timed(work: Callable[[], object]) -> float:
    """Time of some work, ms."""
    begun = time.perf_counter()
    work()
    return (time.perf_counter() - begun) * 1000


def finished(count: int) -> list[SetUp]:
    """Finished set-ups of an invented shop (5 bits, 6 stocks, one machine): two pieces each, words
    and numbers, seeded.

    The bits, woods and days are drawn by the shop's own stated spreads, the verdicts by its person;
    the first piece is cut by the printed figures, the second is about right and called good.
    """
    from fitlog.advice.history import History
    from fitlog.domain import SetUp, TrialCut
    from fitlog.families import joint_of
    from fitlog.families.half_blind.names import ASPECTS
    from fitlog.families.half_blind.opening import first_settings
    from fitlog.simulation import Person, Truth, year

    truth, person, r = Truth(7), Person(7), random.Random(7)
    plans = [replace(plan, in_play=ASPECTS) for plan in year(7, min(count, 120), ASPECTS)]
    starts = [(plan, first_settings(plan, History())) for plan in plans]
    good = judged(say("fit", "good"), say("centre", "centred"), say("seat", "flush"))
    made: list[SetUp] = []
    for number, (plan, first) in zip(range(1, count + 1), cycle(starts), strict=False):
        joint, settings = joint_of(plan), first
        said = person.judge(
            plan, number, 1, truth.misfits(plan, number, 1, first), truth.stands_for(plan, number)
        )
        for aspect in ASPECTS:  # the fit first: it moves the seat
            off = (
                truth.misfits(plan, number, 2, settings)[aspect]
                - joint.window(aspect).middle
                + 0.02 * r.gauss(0, 1)
            )
            settings = settings.moved(
                aspect, settings.of(aspect) - off / joint.slope(aspect, settings)
            )
        cuts = (TrialCut(2 * number, 1, first, said), TrialCut(2 * number + 1, 2, settings, good))
        setup = SetUp(
            number, plan, first, settings, datetime.now(UTC), cuts=cuts, outcome="finished"
        )
        made.append(setup)
    return made


def learning() -> None:
    """Time what the history costs: to learn it, its first law of each aspect, and one advice after
    that.
    """
    from fitlog.advice import advise
    from fitlog.advice.history import History
    from fitlog.families.half_blind.names import ASPECTS

    shop = finished(max(FINISHED))
    setup = tuning(shop[0].plan, 50, readings=True)
    advise(setup, History(shop[:50]))  # imports what is imported late

    def first_law(past: History) -> None:
        for aspect in ASPECTS:
            past.of(aspect).components  # noqa: B018
            past.of(aspect).law(setup_terms[aspect])

    setup_terms = {a: joint.terms(a, setup.first) for joint in [_joint(setup)] for a in ASPECTS}
    past = History(shop[:500])
    once = timed(lambda: advise(setup, past))
    after = middle(lambda: advise(setup, past))
    print("\n| one advice, 50 cuts and readings, 500 finished set-ups | time |\n| --- | --- |")
    print(f"| the first: 500 set-ups replayed, variances estimated | {once:.0f} ms |")
    print(f"| the next ones | {after:.1f} ms |")
    print(
        "\n| finished set-ups | learning them | first law of each aspect | one advice after | load "
        "|"
    )
    print("| --- | --- | --- | --- | --- |")
    for count in FINISHED:
        times: list[tuple[float, float]] = []
        for _ in range(3):
            past = History(shop[:count])
            times.append(
                (timed(lambda past=past: past.lessons), timed(lambda past=past: first_law(past)))
            )
        learn, law = (statistics.median(column) for column in zip(*times, strict=True))
        later = middle(lambda past=past: advise(setup, past))
        print(
            f"| {count} | {learn:.1f} ms | {law:.1f} ms | {later:.1f} ms | "
            f"{os.getloadavg()[0]:.1f} |"
        )


def _joint(setup: SetUp) -> Joint:
    from fitlog.families import joint_of

    return joint_of(setup.plan)


if __name__ == "__main__":
    print("| command | median | against | ratio | bound |\n| --- | --- | --- | --- | --- |")
    with tempfile.TemporaryDirectory() as made:
        processes(Path(made))
    advice(readings=False)
    advice(readings=True)
    learning()
