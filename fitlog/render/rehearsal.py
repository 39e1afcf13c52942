"""How a rehearsal looks in the terminal: a table, bars side by side, and the progress on the way
there.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from ..language.english.names import woods
from ..language.numbers import narrow
from ..language.units import Ruler, counted
from ..simulation import MANY, MOST, Comparison, Conditions, Mean
from ..simulation.simulated import simulated
from ..simulation.tuned import BASE, first_moves
from ..texts import tell
from .blocks import bar, has_blocks
from .screen import Screen, plain

NOT_A_PROMISE = tell(
    "A simulation drawn from the uncertainties that fitlog assumes, with invented "
    "seeds: not a promise."
)
_ROWS = 10  # the last one counts all that took more
_PIPE_WIDTH, _WIDEST = 80, 120


def comparison(screen: Screen, found: Comparison, ruler: Ruler) -> None:
    """Print what a rehearsal found."""
    screen.line()
    screen.head("Rehearsal with {what}: {how_many}", what=what(found), how_many=how_many(found))
    screen.line()
    table = [
        [
            name,
            mean_of(t.mean_first()),
            mean_of(t.mean_later()),
            *(narrow(x, counted=True) for x in (t.good_at_once, t.over(), t.share_within)),
        ]
        for name, t in found.tallies.items()
    ]
    headers = [
        "method",
        "first set-up",
        "later ones",
        "good at once",
        tell("over {n} pieces", n=MANY),
        "inside",
    ]
    screen.table(headers, table, right=(1, 2, 3, 4, 5))
    screen.line()
    screen.line(_explained(found, ruler))
    given_up = [f"{name} {t.unsolved}" for name, t in found.tallies.items() if t.unsolved]
    if given_up:
        screen.line(
            "Given up after {n} pieces and counted so: {given_up}.",
            n=MOST,
            given_up=", ".join(given_up),
        )
    screen.line()
    screen.head("Share of the set-ups by the pieces they took")
    width = min(screen.width, _WIDEST) if screen.terminal else _PIPE_WIDTH
    for row in bars(found, width, blocks=screen.terminal and has_blocks(screen)):
        print(plain(row), file=screen.stream)
    screen.line()
    screen.line(NOT_A_PROMISE)


def what(found: Comparison) -> str:
    """Name the bit, the boards and the machine."""
    plan = found.plan
    wood = woods(plan.stock.name, plan.pin_stock.name)
    return ", ".join([plan.bit.name, wood, *([plan.machine.name] if plan.machine else [])])


def how_many(found: Comparison) -> str:
    """Say how many set-ups were made in how many shops."""
    shops = len(next(iter(found.tallies.values())).seasons)
    few = "" if found.setups % found.in_a_row == 0 else tell("up to ")
    row = (
        tell(", {few}{min} in a row in each", few=few, min=min(found.in_a_row, found.setups))
        if found.in_a_row > 1
        else ""
    )
    words = tell(", words only") if found.plan.words_only else ""
    return tell(
        "{setups} in {shops}{row} (seed {seed}){words}",
        setups=counted(found.setups, "set-up"),
        shops=counted(shops, "invented shop"),
        row=row,
        seed=found.seed,
        words=words,
    )


def _explained(found: Comparison, ruler: Ruler) -> str:
    family, joint = found.plan.family, found.plan.joint
    moves = first_moves(joint, "habit", BASE, found.plan.words_only)
    steps = [f"{ruler.size(moves[a])} ({family.adjusted(a).part})" for a in family.setting_of]
    asked = " and ".join([", ".join(found.plan.in_play[:-1]), found.plan.in_play[-1]]).removeprefix(
        " and "
    )
    one, repeats = len(found.plan.in_play) == 1, found.conditions.repeats
    later = tell("the same joint" if repeats else "the same bit and boards")
    where = tell(", the fence taken off") if repeats else f", {simulated(joint).ANOTHER}"
    return tell(
        "Test pieces until {asked} {how} believed settled, mean +- standard "
        "error. First: a bit nobody has "
        "used before; later: {later} on another day{where}. Inside: the real boards come out "
        "inside every window. Habit: from the printed figures, a number said is corrected by, else "
        "steps of {steps} and {last}, half after slightly, twice after very, "
        "halved after a reversal. Notebook: the same, from the "
        "mean of what was good before.{unusual}",
        asked=asked,
        how="is" if one else "are",
        later=later,
        where=where,
        steps=", ".join(steps[:-1]),
        last=steps[-1],
        unusual=_unusual(found.conditions, ruler),
    )


def _unusual(told: Conditions, ruler: Ruler) -> str:
    """What the shop is like where it is not the usual one."""
    usual = Conditions()
    parts = [tell("slips {share:g} %", share=100 * told.slips)] if told.slips != usual.slips else []
    parts += [tell("swapped sides {share:g} %", share=100 * told.swaps)] if told.swaps else []
    parts += [tell("true spreads {sds:g} times the assumed", sds=told.sds)] if told.sds != 1 else []
    parts += (
        [tell("nothing is read")]
        if told.words_only
        else [tell("readings to {readings}", readings=ruler.size(told.readings))]
        if told.readings
        else []
    )
    parts += [
        tell("{part} zero {off} off", part=part, off=ruler.size(off))
        for part, off in told.zeros_off.items()
        if off
    ]
    parts += (
        [tell("words {edges_off} off", edges_off=ruler.size(told.edges_off))]
        if told.edges_off
        else []
    )
    return tell(" The shop: {parts}.", parts=", ".join(parts)) if parts else ""


def mean_of(found: Mean) -> str:
    """Return a mean with its standard error as text, "-" where there is none."""
    if found.mean is None:
        return "-"
    return f"{found.mean:.2f}" if found.se is None else f"{found.mean:.2f} +- {found.se:.2f}"


def rows(found: Comparison) -> tuple[list[str], dict[str, list[float]]]:
    """Return the labels of the rows (pieces), and by method the share of all its set-ups in each
    row.
    """
    most = max(max(t.counts) for t in found.tallies.values())
    last = min(most, _ROWS)
    labels = [str(n) for n in range(1, last + 1)]
    if most > last:
        labels[-1] += "+"
    return labels, {name: t.shares(last) for name, t in found.tallies.items()}


def bars(found: Comparison, width: int, *, blocks: bool) -> list[str]:
    """Return the histograms side by side, at most `width` - 1 characters wide (39 at least); ASCII
    without `blocks`.
    """
    labels, by_method = rows(found)
    lead, n = len(tell("pieces")) if width >= 60 else 3, len(by_method)
    room = (width - 1 - lead) // n - 7  # two spaces, the percentage, a space
    top = max(max(values) for values in by_method.values())
    head = tell("pieces").rjust(lead) if lead > 3 else " " * lead
    out = [head + "".join("  " + f"{name:<{room + 5}}" for name in by_method)]
    for i, label in enumerate(labels):
        here = [values[i] for values in by_method.values()]
        cells = (
            f"  {narrow(v, counted=True) if v else '-':>4} {bar(v / top * room, blocks):<{room}}"
            for v in here
        )
        out.append(label.rjust(lead) + "".join(cells))
    return [line.rstrip() for line in out]


@contextmanager
def progress(total: int) -> Iterator[Callable[[], object]]:
    """Show a bar on standard error while work goes on, and nothing where nobody looks; call what it
    yields per step.
    """
    if not Screen(sys.stderr).terminal:
        yield lambda: None
        return
    from rich.console import Console
    from rich.progress import (
        BarColumn,
        MofNCompleteColumn,
        Progress,
        TextColumn,
        TimeRemainingColumn,
    )

    columns = (
        TextColumn(tell("rehearsing")),
        BarColumn(None),
        MofNCompleteColumn(),
        TimeRemainingColumn(compact=True),
    )
    with Progress(*columns, console=Console(file=sys.stderr), transient=True) as shown:
        task = shown.add_task("", total=total)
        yield lambda: shown.advance(task)
