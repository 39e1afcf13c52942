"""The options that say what a simulated shop is like: its people's lapses and readings, and priors
that are off.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Annotated

import typer

from ...errors import Refused

if TYPE_CHECKING:
    from ...simulation import Conditions
    from .session import Session

_MOST_LAPSES = 50.0  # per cent: beyond, a word says the opposite
_MOST_SDS, _FARTHEST_ZERO, _COARSEST, _FARTHEST_EDGE = 5.0, 5.0, 1.0, 0.5  # multiples; mm; mm; mm
_EDGES_WHY = f"{_FARTHEST_EDGE:g} mm: farther off, the words mean something else"

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
FenceZeroOff = Annotated[
    str | None, typer.Option(metavar="L", help="How far off the fence's zero is besides.")
]
HeightZeroOff = Annotated[
    str | None, typer.Option(metavar="L", help="How far off the height's zero is besides.")
]
EdgesOff = Annotated[
    str | None, typer.Option(metavar="L", help="How far the words lie from where they are assumed.")
]
Repeats = Annotated[
    bool,
    typer.Option("--repeats", help="Later ones are the same joint again, the fence taken off."),
]


def conditions(
    session: Session,
    slips: str | None,
    swaps: str | None,
    sds: float,
    readings: str | None,
    fence_zero_off: str | None,
    height_zero_off: str | None,
    edges_off: str | None,
    repeats: bool,
) -> Conditions:
    """Return what the options say; raises `Refused` or `NotUnderstood` for what no shop is like."""
    from ...simulation import Conditions

    if not (math.isfinite(sds) and 0 <= sds <= _MOST_SDS):
        raise Refused("out-of-range", f"--sds cannot be {sds:g}", f"give 0 to {_MOST_SDS:g}")
    usual = Conditions()
    return Conditions(
        sds=sds,
        slips=_share(slips, "--slips", usual.slips),
        swaps=_share(swaps, "--swaps", usual.swaps),
        readings=_readings(session, readings),
        fence_zero_off=_zero(session, fence_zero_off, "--fence-zero-off"),
        height_zero_off=_zero(session, height_zero_off, "--height-zero-off"),
        edges_off=session.size(edges_off, "--edges-off", 0.0, _FARTHEST_EDGE, _EDGES_WHY) or 0.0,
        repeats=repeats,
    )


def _share(text: str | None, option: str, usual: float) -> float:
    from .moisture import percent

    if text is None:
        return usual
    value = percent(text, option)
    if not 0 <= value <= _MOST_LAPSES:
        raise Refused(
            "out-of-range", f"{option} cannot be {value:g} %", f"give 0 to {_MOST_LAPSES:g} %"
        )
    return value / 100


def _readings(session: Session, text: str | None) -> float | None:
    if text is not None and text.strip().casefold() == "none":
        return None
    why = f"{_COARSEST:g} mm: coarser, nothing is read"
    return session.size(text, "--readings (a length, or none)", 0.0, _COARSEST, why) or 0.0


def _zero(session: Session, text: str | None, option: str) -> float:
    why = f"the {_FARTHEST_ZERO:g} mm by which a zero may be off here"
    return session.size(text, option, -_FARTHEST_ZERO, _FARTHEST_ZERO, why) or 0.0
