"""The options that say what a simulated shop is like: its people's lapses and readings, and priors
that are off.
"""

from __future__ import annotations

from typing import Annotated

import typer

from .options import length

Slips = Annotated[
    str | None,
    typer.Option(metavar="P", help="Per cent of the verdicts that are another word (2)."),
]
Swaps = Annotated[
    str | None,
    typer.Option(metavar="P", help="Per cent said of the other side: shy for proud (0)."),
]
Sds = Annotated[
    float,
    typer.Option(metavar="F", help="True spread of bits, machine and wood, of the assumed one."),
]
Readings = Annotated[
    str | None, typer.Option(metavar="L|none", help="What gaps, steps and walls are read to.")
]
FenceZeroOff = Annotated[str | None, length("How far off the fence's zero is besides.")]
HeightZeroOff = Annotated[str | None, length("How far off the height's zero is besides.")]
EdgesOff = Annotated[str | None, length("How far the words lie from where they are assumed.")]
Repeats = Annotated[
    bool,
    typer.Option("--repeats", help="Later ones are the same joint again, the fence taken off."),
]
