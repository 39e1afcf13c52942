"""All symptoms, in the order they are listed in, each with what it is listed under."""

from __future__ import annotations

from dataclasses import replace

from ...faults import Symptom
from . import assembly, cuts, fits, gaps, moves, router, runs, seats, wood

_GROUPS = (
    ("Gaps", gaps.SYMPTOMS),
    ("Tight or loose in places", (*fits.SYMPTOMS, *runs.SYMPTOMS)),
    ("Won't go home, line up or lie flat", seats.SYMPTOMS),
    ("Putting it together", assembly.SYMPTOMS),
    ("The wood", wood.SYMPTOMS),
    ("The cut", cuts.SYMPTOMS),
    ("The bit", router.SYMPTOMS),
    ("The height", moves.SYMPTOMS),
)
SYMPTOMS: tuple[Symptom, ...] = tuple(
    replace(symptom, group=group) for group, symptoms in _GROUPS for symptom in symptoms
)
