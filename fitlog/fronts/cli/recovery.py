"""`fitlog recover`: getting a lost setting back from a kept sample, or from a set-up with another
bit or table.
"""

from __future__ import annotations

from typing import Annotated

import typer

from .options import BitName, Db, Json, MachineName, PinStock, StockName, complete_bit

Pair = tuple[str, str] | None


def recover(
    bit: BitName = None,
    stock: StockName = None,
    pin_stock: PinStock = None,
    machine: MachineName = None,
    origin: Annotated[
        int | None,
        typer.Option("--from", metavar="N", help="The set-up that the joint comes from."),
    ] = None,
    pitch: Annotated[
        str | None, typer.Option(metavar="L", help="Spacing of the cuts, if known.")
    ] = None,
    mouth: Annotated[
        str | None, typer.Option(metavar="L", help="The sample's slot at the surface.")
    ] = None,
    tail_width: Annotated[
        str | None, typer.Option(metavar="L", help="Width of its tail at the end.")
    ] = None,
    over_rods: Annotated[
        Pair,
        typer.Option(metavar="D X", help="Rods of diameter D at the tail's root, X over them."),
    ] = None,
    over_other_rods: Annotated[
        Pair, typer.Option(metavar="D X", help="... with rods of another size.")
    ] = None,
    between_rods: Annotated[
        Pair, typer.Option(metavar="D Y", help="Rods of D in the slot's corners, Y between them.")
    ] = None,
    between_other_rods: Annotated[
        Pair, typer.Option(metavar="D Y", help="... with rods of another size.")
    ] = None,
    pull_gap: Annotated[
        str | None,
        typer.Option(metavar="L", help="How far the sample comes apart before it binds."),
    ] = None,
    height: Annotated[
        str | None, typer.Option(metavar="L", help="A height you remember: how good it would be.")
    ] = None,
    sample_bit: Annotated[
        str | None,
        typer.Option(
            metavar="NAME",
            help="The bit that cut the sample, if not --bit.",
            autocompletion=complete_bit,
        ),
    ] = None,
    thickness: Annotated[
        str | None, typer.Option(metavar="L", help="Today's tail board thickness.")
    ] = None,
    pin_thickness: Annotated[
        str | None, typer.Option(metavar="L", help="Today's pin board thickness.")
    ] = None,
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
    """Get a lost height back: from a kept sample that was good, or for another bit or table. Writes
    nothing.

    What is alone in the catalogue need not be named. A sample needs its pitch: given, or its mouth
    and tail end width.

    \b
    Examples:
      fitlog recover --pitch 20.6 --mouth 7.96 --tail-width 12.6
      fitlog recover --from 3 --bit quarter --machine bench
    """
    from ...service.again import Named
    from ...service.reader.recover import RecoverTyped, SampleTyped, TodayTyped, asked_of
    from ...service.recovery import recovered
    from .session import open_session, put_json

    named = Named(bit, stock, pin_stock, machine)
    one = (("mouth", mouth), ("tail_width", tail_width), ("pull_gap", pull_gap))
    over = (("over_rods", over_rods), ("over_rods", over_other_rods))
    between = (("between_rods", between_rods), ("between_rods", between_other_rods))
    sample = SampleTyped(sample_bit, pitch, (*one, *over, *between))
    today = TodayTyped(height, thickness, pin_thickness, spacer, many_tails)
    typed = RecoverTyped(named, origin, sample, today)
    with open_session(db, create=False) as session:
        asked = asked_of(session, typed)
        answer = recovered(session.bench(asked.machine), asked)
        if json:
            from ...render.documents.recovery import recovered_document

            put_json(recovered_document(answer, session.ruler(asked.machine)))
            return
        from ...render.recovery import recovery

        recovery(session.screen, answer, session.ruler(asked.machine))
