"""`fitlog rehearse`: the user's own bit, boards and machine in many simulated shops. The log is
only read.
"""

from __future__ import annotations

import gc
from typing import TYPE_CHECKING, Annotated, Any

import typer

from ...errors import Refused
from .options import (
    BitName,
    Db,
    Force,
    Json,
    MachineName,
    Only,
    PinStock,
    StockName,
    WordsOnly,
    aspects_of,
)
from .rehearse_conditions import (
    EdgesOff,
    FenceZeroOff,
    HeightZeroOff,
    Readings,
    Repeats,
    Sds,
    Slips,
    Swaps,
    conditions,
)

if TYPE_CHECKING:
    from ...domain import Plan
    from ...simulation import Comparison, Conditions, Mean, Tally
    from .session import Session

_MOST_SETUPS, _LONGEST_ROW = 100_000, 60


Setups = Annotated[
    int, typer.Option(metavar="N", help="How many set-ups each way of working makes.")
]
InARow = Annotated[
    int, typer.Option(metavar="N", help="How many of them in each shop, one after the other.")
]
Seed = Annotated[int, typer.Option(metavar="N", help="Another number draws other shops.")]
Picture = Annotated[
    str | None,
    typer.Option(metavar="FILE", help="Draw it too: .svg, .png or .pdf (needs matplotlib)."),
]


def rehearse(
    bit: BitName = None,
    stock: StockName = None,
    pin_stock: PinStock = None,
    machine: MachineName = None,
    setups: Setups = 300,
    in_a_row: InARow = 6,
    only: Only = None,
    words_only: WordsOnly = False,
    seed: Seed = 1,
    slips: Slips = None,
    swaps: Swaps = None,
    sds: Sds = 1.0,
    readings: Readings = None,
    fence_zero_off: FenceZeroOff = None,
    height_zero_off: HeightZeroOff = None,
    edges_off: EdgesOff = None,
    repeats: Repeats = False,
    picture: Picture = None,
    force: Force = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """Rehearse with your own bit, boards and machine in simulated shops: how many test pieces will
    it take?

    Three ways of working meet the same shops: fitlog; the habit of the trade (a number said is
    corrected by, else fixed steps, halved after a reversal); and the same with a notebook (from
    what was good before). In each shop the bit is new at first, then set up again on other days, at
    other heights (--repeats: the same joint). All stop when they believe centre and seat known and
    the fit tried; "inside" is the share whose real boards then come out inside every window. Steps
    and marks are those of the machine. The log is not touched. What is alone in the catalogue need
    not be named.

    300 set-ups take about ten seconds.

    \b
    Examples:
      fitlog rehearse
      fitlog rehearse --bit half --stock ash --only fit --setups 1000
      fitlog rehearse --readings none --swaps 5 --sds 2
      fitlog rehearse --repeats --in-a-row 2 --fence-zero-off 3mm
      fitlog rehearse --picture pieces.svg
    """
    from ...render import canvas, pictures
    from ...render import rehearsal as show
    from .session import open_session, put_json, say

    _within("--setups", setups, _MOST_SETUPS)
    _within("--in-a-row", in_a_row, _LONGEST_ROW)
    in_play = aspects_of(only)
    target = None if picture is None else canvas.checked(picture, over=force)
    with open_session(db, create=False) as session:
        screen, ruler = session.screen, session.ruler()
        plan = _plan(session, bit, stock, pin_stock, machine, in_play, words_only)
        told = conditions(
            session,
            slips,
            swaps,
            sds,
            readings,
            fence_zero_off,
            height_zero_off,
            edges_off,
            repeats,
        )
    found = _compared(plan, setups, in_a_row, seed, told)
    if target is not None:
        pictures.draw(found, target)
        say(f"The picture is in {target.name}.")
    if json:
        put_json(_document(found))
    else:
        show.comparison(screen, found, ruler)


def _within(option: str, value: int, most: int) -> None:
    if not 1 <= value <= most:
        raise Refused("out-of-range", f"{option} cannot be {value}", f"give 1 to {most}")


def _plan(
    session: Session,
    bit: str | None,
    stock: str | None,
    pin_stock: str | None,
    machine: str | None,
    in_play: Any,
    words_only: bool,
) -> Plan:
    """Return the plan of what is named or alone in the catalogue, chosen as `start` does."""
    from ...simulation import plan_for

    found_bit, tail = session.only("bit", bit), session.only("stock", stock)
    pin = session.log.stock(pin_stock) if pin_stock else tail
    return plan_for(found_bit, tail, pin, session.machine(machine), in_play, words_only)


def _compared(plan: Plan, setups: int, in_a_row: int, seed: int, told: Conditions) -> Comparison:
    from ...render.rehearsal import progress
    from ...simulation import METHODS, compare

    gc.enable()  # off in short processes: this one makes much that must go
    with progress(setups * len(METHODS)) as done:
        return compare(plan, setups, in_a_row, seed, done=done, conditions=told)


def _document(found: Comparison) -> dict[str, Any]:
    from ...render.rehearsal import NOT_A_PROMISE

    plan = found.plan
    return {
        "setups": found.setups,
        "in_a_row": found.in_a_row,
        "seed": found.seed,
        "bit": plan.bit.name,
        "stock": plan.stock.name,
        "pin_stock": plan.pin_stock.name,
        "machine": plan.machine.name if plan.machine else None,
        "in_play": list(plan.in_play),
        "words_only": plan.words_only,
        "conditions": _conditions(found.conditions),
        "methods": {name: _method(tally) for name, tally in found.tallies.items()},
        "note": NOT_A_PROMISE,
    }


def _conditions(told: Conditions) -> dict[str, float | bool | None]:
    """Lengths in mm; chances as shares; readings: null where nobody reads."""
    return {
        "sds": told.sds,
        "slips": told.slips,
        "swaps": told.swaps,
        "readings": told.readings,
        "fence_zero_off": told.fence_zero_off,
        "height_zero_off": told.height_zero_off,
        "edges_off": told.edges_off,
        "repeats": told.repeats,
    }


def _method(tally: Tally) -> dict[str, Any]:
    """Shares are of all set-ups; one given up counts its 30 pieces, and as not inside."""
    return {
        "first": _mean(tally.mean_first()),
        "later": _mean(tally.mean_later()),
        "good_at_once": round(tally.good_at_once, 4),
        "over_3": round(tally.over(), 4),
        "unsolved": tally.unsolved,
        "inside": round(tally.share_inside, 4),
        "given_up": round(tally.given_up, 4),
        "counts": {str(k): n for k, n in tally.counts.items()},
    }


def _mean(found: Mean) -> dict[str, float | int | None]:
    mean, se = (None if x is None else round(x, 4) for x in (found.mean, found.se))
    return {"mean": mean, "se": se, "n": found.n}
