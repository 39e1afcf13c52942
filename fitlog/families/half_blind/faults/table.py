"""All symptoms, in the order they are listed in."""

from __future__ import annotations

from ...faults import Symptom
from . import cuts, fits, gaps, moves, seats

SYMPTOMS: tuple[Symptom, ...] = (
    *gaps.SYMPTOMS,
    *fits.SYMPTOMS,
    *seats.SYMPTOMS,
    *cuts.SYMPTOMS,
    *moves.SYMPTOMS,
)
