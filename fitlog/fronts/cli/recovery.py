"""`fitlog recover`: getting a lost setting back from a kept sample, or from a set-up with another
bit or table.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from .options import BitName, Db, Json, MachineName, PinStock, StockName, complete_bit

if TYPE_CHECKING:
    from ...domain import Bit, Reading
    from ...service.recovery import Asked
    from .session import Session

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
    from ...service.recovery import recovered
    from .session import open_session, put_json

    given = locals()
    with open_session(db, create=False) as session:
        asked = _asked(session, given)
        answer = recovered(session.bench(asked.machine), asked)
        if json:
            put_json(answer.document)
            return
        from ...render.recovery import recovery

        talk = (("Why", answer.reasons), ("Note", answer.notices), ("Care", answer.cautions))
        recovery(session.screen, answer.found, talk, answer.start, session.ruler(asked.machine))


def _asked(session: Session, given: dict[str, Any]) -> Asked:
    from ...service.recovery import Asked

    log = session.log
    origin = log.setup(given["origin"]) if given["origin"] is not None else None
    old = origin.plan if origin else None
    bit = log.bit(old.bit.name) if old and not given["bit"] else session.only("bit", given["bit"])
    stock = (
        log.stock(old.stock.name)
        if old and not given["stock"]
        else session.only("stock", given["stock"])
    )
    pin = given["pin_stock"] or (old.pin_stock.name if old and not given["stock"] else stock.name)
    here = old.machine.name if old and old.machine and not given["machine"] else given["machine"]
    machine = session.machine(here)
    sample_bit = log.bit(given["sample_bit"]) if given["sample_bit"] else None
    zero, thick = machine.height_zero if machine else 0.0, "any board's thickness"
    reach = f"this bit's cutting length of {bit.cutting_length:g} mm"
    height = session.size(
        given["height"], "the bit height", 0.5 + zero, bit.cutting_length + zero, reach, machine
    )
    return Asked(
        bit,
        stock,
        log.stock(pin),
        machine,
        origin,
        sample_bit,
        pitch=_pitch(session, given["pitch"], bit),
        readings=tuple(_readings(session, given)),
        remembered=None if height is None else height - zero,
        thickness=session.size(given["thickness"], "the tail board's thickness", 1, 100, thick),
        pin_thickness=session.size(
            given["pin_thickness"], "the pin board's thickness", 1, 100, thick
        ),
        spaced=given["spacer"],
        many_tails=given["many_tails"],
    )


def _pitch(session: Session, text: str | None, bit: Bit) -> float | None:
    fit = f"what a {bit.diameter:g} mm bit can space"
    return session.size(text, "the pitch", bit.diameter, 2 * bit.diameter, fit)


def _readings(session: Session, given: dict[str, Any]) -> list[Reading]:
    """The sample's readings, mm, in the order in which they are weighed."""
    from ...domain import Reading

    def read(text: str, what: str, high: float = 200.0) -> float:
        return session.size(text, what, 0.0, high, "anything on a sample") or 0.0

    found = [
        Reading(
            kind, read(text, f"the {kind.replace('_', ' ')}", 6.0 if kind == "pull_gap" else 200.0)
        )
        for kind in ("mouth", "tail_width", "pull_gap")
        if (text := given[kind]) is not None
    ]
    for kind, option in (
        ("over_rods", "over_rods"),
        ("over_rods", "over_other_rods"),
        ("between_rods", "between_rods"),
        ("between_rods", "between_other_rods"),
    ):
        if (pair := given[option]) is not None:
            width = read(pair[1], f"the width {kind.replace('_', ' ')}")
            found.append(Reading(kind, width, rod=read(pair[0], "the rods", 50.0)))
    return found
