"""`fitlog rehearse`: the user's own bit, boards and machine in many simulated shops. The log is
only read.
"""

from __future__ import annotations

import gc
from typing import TYPE_CHECKING, Annotated

import typer

from .options import BitName, Db, Force, Json, MachineName, Only, PinStock, StockName, WordsOnly
from .rehearse_conditions import (
    EdgesOff,
    FenceZeroOff,
    HeightZeroOff,
    Readings,
    Repeats,
    Sds,
    Slips,
    Swaps,
)
from .setups import Joint

if TYPE_CHECKING:
    from ...domain import Plan
    from ...language.units import Ruler
    from ...newfile import Place
    from ...render.screen import Screen
    from ...service.reader.rehearse import Runs
    from ...simulation import Comparison, Conditions


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
    joint: Joint = None,
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
    from ...render import canvas
    from ...service.again import Named
    from ...service.reader.choices import aspects_of, joint_of
    from ...service.reader.rehearse import Runs, Shops, rehearsal_of
    from .session import open_session

    name = joint_of(joint)
    runs, aspects = Runs(setups, in_a_row, seed).check(), aspects_of(only, name)
    off = (fence_zero_off, height_zero_off, edges_off)
    shops = Shops(sds, slips, swaps, readings, *off, repeats)
    named = Named(bit, stock, pin_stock, machine, name)
    target = None if picture is None else canvas.checked(picture, over=force)
    with open_session(db, create=False) as session:
        screen, ruler = session.screen, session.ruler()
        plan, told = rehearsal_of(session, named, aspects, words_only, shops)
    _show(_compared(plan, runs, told), target, screen, ruler, json)


def _show(
    found: Comparison, target: Place | None, screen: Screen, ruler: Ruler, json: bool
) -> None:
    from ...render import pictures
    from ...render.documents.rehearsal import comparison_document
    from ...render.rehearsal import comparison
    from .session import put_json, say

    if target is not None:
        pictures.draw(found, target)
        say("The picture is in {target}.", target=target.name)
    if json:
        put_json(comparison_document(found))
    else:
        comparison(screen, found, ruler)


def _compared(plan: Plan, runs: Runs, told: Conditions) -> Comparison:
    from ...render.rehearsal import progress
    from ...simulation import METHODS, compare

    gc.enable()  # off in short processes: this one makes much that must go
    with progress(runs.setups * len(METHODS)) as done:
        return compare(plan, *runs, done=done, conditions=told)
