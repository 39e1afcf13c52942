"""The options that say what sizes the shop's things have."""

from __future__ import annotations

from typing import Annotated

import typer

Diameter = Annotated[
    str, typer.Option(metavar="L", help="Cutting diameter at the tip, the widest part.")
]
Angle = Annotated[str, typer.Option(metavar="DEG", help="Side angle from the bit's axis, degrees.")]
CuttingLength = Annotated[str, typer.Option(metavar="L", help="Length of the cutting edges.")]
Neck = Annotated[
    str | None, typer.Option(metavar="L", help="Thinnest part above the edges, if known.")
]
HeightStep = Annotated[str | None, typer.Option(metavar="L", help="Smallest step of the lift.")]
HeightTurn = Annotated[str | None, typer.Option(metavar="L", help="Or its travel per turn.")]
Dial = Annotated[
    int | None,
    typer.Option(metavar="N", help="Divisions on the lift's dial, a turn: moves are told in them."),
]
DepthStep = Annotated[
    str | None,
    typer.Option(metavar="L", help="Smallest step of the stop that sets the socket depth."),
]
FenceStep = Annotated[str | None, typer.Option(metavar="L", help="Smallest step of the fence.")]
Backlash = Annotated[str | None, typer.Option(metavar="L", help="Play of the lift.")]
HeightZero = Annotated[
    str | None, typer.Option(metavar="L", help="What your height scale shows less the true height.")
]
FenceZero = Annotated[
    str | None, typer.Option(metavar="L", help="What your fence scale shows less the true offset.")
]
Between = Annotated[
    str | None,
    typer.Option(
        metavar="PARTS",
        help="Scales that you set by eye between their marks too: height,fence,depth; or none.",
    ),
]
PartSpec = Annotated[
    list[str] | None,
    typer.Option(
        metavar="NAME=SPEC",
        help='Any other part: "key=step 0.05, zero 0.2", "key=between", what is stacked to set it '
        '("key=at most 3 of paper 0.1 x4, tape 0.13"), or "key=none" to forget it; repeatable.',
    ),
]
