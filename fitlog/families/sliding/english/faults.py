"""Faults of a sliding dovetail in English: their sentences are rows of the faults' own table."""

from __future__ import annotations

from ....language.saying import Sentence, Tongue
from ....texts import tell


def fault(
    t: Tongue,
    *,
    symptom: str,
    cause: str,
    part: str,
    gap_mm: float,
    thick_mm: float,
    lean_deg: float,
    plane_mm: float,
    least_mm: float,
    play_mm: float,
) -> str:
    """The sentence of a cause, by the table of the symptoms. part: "text", "test" or "cure"."""
    # A table of many sentences: imported by the one command that says them.
    from ..faults.table import SYMPTOMS

    of = next(s for s in SYMPTOMS if s.code == symptom)
    row = next(c for c in of.causes if c.code == cause)
    return tell(
        getattr(row, part),
        gap=t.length(gap_mm),
        thick=t.size(thick_mm),
        lean=f"{lean_deg:.2f} deg",
        plane=t.length(plane_mm),
        least=t.length(least_mm),
        play=t.length(play_mm),
    )


SENTENCES: dict[str, Sentence] = {"slide-fault": fault}
