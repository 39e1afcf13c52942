"""What a simulated shop is like, as typed."""

from __future__ import annotations

import math
from typing import NamedTuple

from ...errors import Refused
from ...simulation import Conditions
from ..limits import Limit
from .lengths import Reader
from .wood import percent

_MOST_LAPSES = 50.0  # per cent: beyond, a word says the opposite
_MOST_SDS, _FARTHEST_ZERO, _COARSEST, _FARTHEST_EDGE = 5.0, 5.0, 1.0, 0.5  # multiples; mm; mm; mm
_READINGS = Limit(
    "--readings (a length, or none)",
    0.0,
    _COARSEST,
    f"{_COARSEST:g} mm: coarser, nothing is read",
)
_EDGES = Limit(
    "--edges-off",
    0.0,
    _FARTHEST_EDGE,
    f"{_FARTHEST_EDGE:g} mm: farther off, the words mean something else",
)


class Lapses(NamedTuple):
    """How often a verdict is another word, and is said of the other side; None: as usual."""

    slips: str | None
    swaps: str | None


class Off(NamedTuple):
    """How far zeros and words lie from where they are assumed; None: not at all."""

    fence_zero: str | None
    height_zero: str | None
    edges: str | None


def conditions(
    reader: Reader, sds: float, lapses: Lapses, readings: str | None, off: Off, repeats: bool
) -> Conditions:
    """Return what the options say; raises `Refused` or `NotUnderstood` for what no shop is like."""
    if not (math.isfinite(sds) and 0 <= sds <= _MOST_SDS):
        raise Refused("out-of-range", f"--sds cannot be {sds:g}", f"give 0 to {_MOST_SDS:g}")
    usual = Conditions()
    return Conditions(
        sds=sds,
        slips=_share(lapses.slips, "--slips", usual.slips),
        swaps=_share(lapses.swaps, "--swaps", usual.swaps),
        readings=_readings(reader, readings),
        fence_zero_off=_zero(reader, off.fence_zero, "--fence-zero-off"),
        height_zero_off=_zero(reader, off.height_zero, "--height-zero-off"),
        edges_off=reader.maybe(off.edges, _EDGES) or 0.0,
        repeats=repeats,
    )


def _share(text: str | None, option: str, usual: float) -> float:
    if text is None:
        return usual
    value = percent(text, option)
    if not 0 <= value <= _MOST_LAPSES:
        raise Refused(
            "out-of-range", f"{option} cannot be {value:g} %", f"give 0 to {_MOST_LAPSES:g} %"
        )
    return value / 100


def _readings(reader: Reader, text: str | None) -> float | None:
    if text is not None and text.strip().casefold() == "none":
        return None
    return reader.maybe(text, _READINGS) or 0.0


def _zero(reader: Reader, text: str | None, option: str) -> float:
    why = f"the {_FARTHEST_ZERO:g} mm by which a zero may be off here"
    return reader.maybe(text, Limit(option, -_FARTHEST_ZERO, _FARTHEST_ZERO, why)) or 0.0
