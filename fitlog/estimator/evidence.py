"""What the mathematics is told: plain numbers that a joint derives from a set-up and the estimator
consumes.

Neither side knows the other: a joint knows geometry and fills these in, the estimator knows none.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple, Protocol, Self, runtime_checkable

from ..defaults import Band
from ..domain import Aspect

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Term:
    """One cause of an aspect's offset: offset = sum of factor * (mean +- sd), mm (or radians
    inside).

    key names the cause, so that set-ups with the same bit, machine or stock share it; its first
    word is the kind. own: the cause belongs to this set-up alone, whatever its key.
    """

    key: tuple[str, ...]
    factor: float
    mean: float
    sd: float
    own: bool = False


@dataclass(frozen=True, slots=True)
class TermReading:
    """A reading of a sum of terms: value = sum of factor * term + noise of standard deviation sd,
    mm.
    """

    kind: str
    terms: tuple[Term, ...]
    value: float
    sd: float


class Voice(NamedTuple):
    """How one person uses the words of an aspect, mm.

    shift: the edges between neighbouring words less the assumed ones.  noise: sd of a word about
    its band. doubt: how well the edges are known, as an sd.
    """

    shift: tuple[float, ...]
    noise: float
    doubt: float


Voices = Mapping[
    tuple[str, Aspect], Voice
]  # by person and aspect; whoever is missing speaks as assumed


@dataclass(frozen=True, slots=True)
class Evidence:
    """What one piece says of one aspect, on that aspect's misfit scale, mm.

    The piece's own misfit is nominal + offset + N(0, piece_sd^2), for a coupled aspect less what
    the coupling takes. bands: those of the word said, None without a word; read: the reading, None
    without one. background: likelihood of this verdict when it is a slip. other: the same verdict
    with its sides swapped (tight for loose, far for near), None where it has no side or cannot have
    been swapped; swap: chance that it was, this once. end, end_sd: verdicts on cuts of one end
    share a part of their misfit, N(0, end_sd^2), beside the piece's own; end names it.
    """

    piece: int
    nominal: float
    bands: tuple[Band, ...] | None
    word_noise: float
    read: float | None
    read_sd: float
    piece_sd: float
    slip: float
    background: float
    other: Evidence | None = None
    swap: float = 0.0
    end: int | None = None
    end_sd: float = 0.0


class Observed(Protocol):
    """What a coupled aspect shows of its driver's misfit c: how much is taken from its own misfit.
    Hashable for one piece.
    """

    def taken(self, driver: Array) -> Array:
        """Return what each driver's misfit takes, mm."""

    def kinks(self) -> tuple[float, ...]:
        """Return the driver's misfits at which what is taken has a bend, mm."""

    def steepness(self, driver: float) -> float:
        """Return d taken / d driver's misfit."""


@runtime_checkable
class Rooted(Observed, Protocol):
    """One that takes nothing up to c = 0 and rises from there like a root: what is taken is then
    the smooth variable.
    """

    def driver(self, taken: Array) -> Array:
        """Return the driver's misfit that takes each of these, from 0 on, mm."""

    def weight(self, taken: Array, step: float) -> Array:
        """Return how much of the driver's range each of these stands for, `step` apart, mm."""

    def stacked(self, several: Sequence[Self]) -> Self:
        """Return those of several pieces as one, a row each."""


class Coupled(NamedTuple):
    """Evidence of a coupled aspect (the seat) with the driver it depends on (the clearance).

    The misfit is nominal + offset - observed.taken(c), where c, the driver's misfit on the same
    piece, is driver_nominal + driver offset + N(0, driver_sd^2); `driver`: what the piece says of c
    itself, or None.
    """

    evidence: Evidence
    observed: Observed
    driver_nominal: float
    driver_sd: float
    driver: Evidence | None
