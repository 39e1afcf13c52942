"""`fitlog machine add` and `edit`: what its parts can be set to."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from .options import Db, Json, Name, NewName, Restore, Yes, complete_machine
from .sizes import (
    Backlash,
    Between,
    DepthStep,
    Dial,
    FenceStep,
    FenceZero,
    HeightStep,
    HeightTurn,
    HeightZero,
    PartSpec,
)
from .things import agree, show

if TYPE_CHECKING:
    from ...service.catalogue import Value

machine_app = typer.Typer(
    help="Router tables: add, list, edit, retire.", no_args_is_help=True, rich_markup_mode=None
)
MachineArg = Annotated[
    str, typer.Argument(metavar="NAME", help="Its name.", autocompletion=complete_machine)
]


@machine_app.command("add")
def machine_add(
    name: Name,
    height_step: HeightStep = None,
    height_turn: HeightTurn = None,
    dial: Dial = None,
    fence_step: FenceStep = None,
    depth_step: DepthStep = None,
    between: Between = None,
    backlash: Backlash = None,
    height_zero: HeightZero = None,
    fence_zero: FenceZero = None,
    part: PartSpec = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Add a router table: what its lift, its fence and the stop for the socket depth can set.

    Only what it can make is then advised, on its own scales: say by how much they show more than
    the truth (--height-zero, --fence-zero), and --between where you set between marks by eye.

    \b
    Examples:
      fitlog machine add bench --height-turn 1.5 --dial 60 --backlash 0.1
      fitlog machine add corner --fence-step 1/64in --depth-step 0.5mm --between fence
      fitlog machine add jig --part "key=at most 3 of paper 0.1 x4, tape 0.13"
    """
    from ...service.reader.parts import PartsTyped, parts_of
    from .session import open_session

    sizes = {
        ("height", "step"): height_step,
        ("height", "turn"): height_turn,
        ("fence", "step"): fence_step,
        ("depth", "step"): depth_step,
        ("height", "backlash"): backlash,
        ("height", "zero"): height_zero,
        ("fence", "zero"): fence_zero,
    }
    with open_session(db, create=True) as session:
        told = parts_of(session.reader, PartsTyped(sizes, between, part or (), dial))
        show(session, "machine", session.machines.add(name, {"parts": told}), json)


@machine_app.command("edit")
def machine_edit(
    name: MachineArg,
    new_name: NewName = None,
    height_step: HeightStep = None,
    height_turn: HeightTurn = None,
    dial: Dial = None,
    fence_step: FenceStep = None,
    depth_step: DepthStep = None,
    between: Between = None,
    backlash: Backlash = None,
    height_zero: HeightZero = None,
    fence_zero: FenceZero = None,
    part: PartSpec = None,
    restore: Restore = False,
    yes: Yes = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """Change a machine's figures. Another zero of a scale moves what is shown of its set-ups: you
    are asked.

    \b
    Examples:
      fitlog machine edit bench --fence-step 0.05
      fitlog machine edit bench --between none
    """
    from ...service.reader.parts import PartsTyped, parts_of
    from .session import open_session

    sizes = {
        ("height", "step"): height_step,
        ("height", "turn"): height_turn,
        ("fence", "step"): fence_step,
        ("depth", "step"): depth_step,
        ("height", "backlash"): backlash,
        ("height", "zero"): height_zero,
        ("fence", "zero"): fence_zero,
    }
    with open_session(db, create=False) as session:
        told = parts_of(session.reader, PartsTyped(sizes, between, part or (), dial))
        changes: dict[str, Value] = {} if new_name is None else {"name": new_name}
        asked = session.machines.edit(
            name, {**changes, **({"parts": told} if told else {})}, restore=restore
        )
        agree(session, "machine", asked, json, yes=yes)
