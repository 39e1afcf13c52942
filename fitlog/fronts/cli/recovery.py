"""`fitlog recover`: getting a lost setting back from a kept sample, or from a set-up with another
bit or table.
"""

from __future__ import annotations

from typing import Annotated

import typer

from .cut import Read
from .options import (
    BitName,
    Db,
    Json,
    MachineName,
    Pair,
    PinStock,
    StockName,
    complete_bit,
    length,
    pair,
)
from .setups import Joint


def recover(
    bit: BitName = None,
    stock: StockName = None,
    pin_stock: PinStock = None,
    machine: MachineName = None,
    origin: Annotated[
        int | None,
        typer.Option("--from", metavar="N", help="The set-up that the joint comes from."),
    ] = None,
    pitch: Annotated[str | None, length("Spacing of the cuts, if known.")] = None,
    slot: Annotated[str | None, length("The sample's slot at the surface.", "--mouth")] = None,
    tail: Annotated[str | None, length("Width of its tail at the end.", "--tail-width")] = None,
    over: Annotated[
        Pair, pair("--over-rods", "D X", "Rods of diameter D at the tail's root, X over them.")
    ] = None,
    over_other: Annotated[
        Pair, pair("--over-other-rods", "D X", "... with rods of another size.")
    ] = None,
    between: Annotated[
        Pair, pair("--between-rods", "D Y", "Rods of D in the slot's corners, Y between them.")
    ] = None,
    between_other: Annotated[
        Pair, pair("--between-other-rods", "D Y", "... with rods of another size.")
    ] = None,
    gap: Annotated[
        str | None, length("How far the sample comes apart before it binds.", "--pull-gap")
    ] = None,
    joint: Joint = None,
    read: Read = None,
    height: Annotated[str | None, length("A height you remember: how good it would be.")] = None,
    sample_bit: Annotated[
        str | None,
        typer.Option(
            metavar="NAME",
            help="The bit that cut the sample, if not --bit.",
            autocompletion=complete_bit,
        ),
    ] = None,
    thickness: Annotated[str | None, length("Today's tail board thickness.")] = None,
    pin_thickness: Annotated[str | None, length("Today's pin board thickness.")] = None,
    spacer: Annotated[
        bool | None,
        typer.Option(
            "--spacer/--by-scale", help="Whether the pitch is stepped by a spacer or block."
        ),
    ] = None,
    many_tails: Annotated[
        bool, typer.Option("--many-tails", help="Aim looser: many tails, a long glue-up, plywood.")
    ] = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """Get lost settings back: from a kept sample that was good, or for another bit or table. Writes
    nothing.

    You get them, of a dovetail the bit height, where each lies with a chance of 90 %, and whether a
    test piece first is worth its wood; whatever you measure of the sample narrows it. --from takes
    figures, boards and woods of a set-up that ended good.

    What is alone in the catalogue need not be named. A dovetail's sample needs its pitch: given, or
    its mouth and tail end width; that of another joint is measured by --read.

    \b
    Examples:
      fitlog recover --pitch 20.6 --mouth 7.96 --tail-width 12.6
      fitlog recover --from 3 --bit quarter --machine bench
    """
    from ...render.own import recovery_of
    from ...service.again import Named
    from ...service.reader.recover import RecoverTyped, SampleTyped, TodayTyped, asked_of
    from ...service.recovery import recovered
    from .session import open_session, put_json

    named = Named(bit, stock, pin_stock, machine)
    one = (("--mouth", slot), ("--tail-width", tail), ("--pull-gap", gap))
    all_over = (("--over-rods", over), ("--over-rods", over_other))
    all_between = (("--between-rods", between), ("--between-rods", between_other))
    sample = SampleTyped(sample_bit, pitch, (*one, *all_over, *all_between), read or ())
    today = TodayTyped(height, thickness, pin_thickness, spacer, many_tails)
    typed = RecoverTyped(named, origin, joint, sample, today)
    with open_session(db, create=False) as session:
        asked = asked_of(session, typed)
        answer = recovered(session.bench(asked.machine), asked)
        own, ruler = recovery_of(asked.joint), session.ruler(asked.machine)
        if json:
            put_json(own.recovered_document(answer, ruler))
        else:
            own.recovery(session.screen, answer, ruler)
