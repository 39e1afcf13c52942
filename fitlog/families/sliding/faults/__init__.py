"""Faults of a sliding dovetail that no setting cures: symptoms in a maker's words, with the tests
and cures of their causes.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from ....advice.history import History
from ....domain import Plan, SetUp, remark
from ...faults import Cause, Diagnosis, Faults, Likely, Symptom
from ..cautions import CUTTING
from ..geometry import pulled_gap
from ..plan import sliding
from .table import SYMPTOMS
from .words import VOCABULARY, symptom_of

__all__ = ["VOCABULARY", "looked_for"]

_LEAST_PLAY, _OFF_THE_FLOOR = 0.05, 0.1  # mm of play that glue needs; that a tongue clears


def looked_for(
    setup: SetUp | None, past: History | None, words: Sequence[str], units: str
) -> Faults:
    """See `families.faults.Faulty`."""
    seen = symptom_of(words, units)
    if setup is None or seen is None:
        return Faults(setup, (), (), SYMPTOMS, ())
    return Faults(setup, (), (_diagnosis(setup, *seen),), (), CUTTING)


def _diagnosis(setup: SetUp, symptom: Symptom, said: float | None) -> Diagnosis:
    size, source = (said, "said") if said is not None else _logged(setup, symptom)
    told = _figures(setup.plan, size or symptom.typical or _LEAST_PLAY)
    total = sum(cause.weight for cause in symptom.causes)
    causes = (_likely(symptom, cause, cause.weight / total, told) for cause in symptom.causes)
    ordered = sorted(causes, key=lambda likely: -likely.share)
    return Diagnosis(symptom, size, source, None, tuple(ordered))


def _logged(setup: SetUp, symptom: Symptom) -> tuple[float | None, str | None]:
    """The gap of both shoulders as the last piece has it, else a typical one."""
    if not symptom.size:
        return None, None
    pieces = setup.pieces()
    said = pieces[-1].verdict.of("shoulder") if pieces else None
    if symptom.code == "both-shoulders" and said is not None and said.size is not None:
        return said.size, "log"
    return symptom.typical, "typical"


def _figures(plan: Plan, gap: float) -> dict[str, float]:
    own = sliding(plan)
    thick = own.figures()["thickness"]
    return {
        "gap_mm": gap,
        "thick_mm": thick,
        "lean_deg": math.degrees(math.atan(gap / thick)),
        "plane_mm": gap + _OFF_THE_FLOOR,
        "least_mm": pulled_gap(_LEAST_PLAY, plan.bit.theta, own.faces),
        "play_mm": _LEAST_PLAY,
    }


def _likely(symptom: Symptom, cause: Cause, share: float, told: dict[str, float]) -> Likely:
    text, test, cure = (
        remark("slide-fault", symptom=symptom.code, cause=cause.code, part=part, **told)
        for part in ("text", "test", "cure")
    )
    amounts = {name: round(told[name], 4) for name in cause.amounts}
    return Likely(cause.code, share, text, (), test, cure, amounts)
