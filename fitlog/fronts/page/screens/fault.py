"""What is wrong with a joint: its symptoms as places of a drawing and as bars, and the causes of
one with a test and a cure.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from ....domain import SetUp
from ....families.faults import Diagnosis, Symptom, faults_of
from ....families.telling import PAGE, say
from ....language.limits import Limit
from ....language.phrases import FAULT_GAP_LIMIT
from ....language.units import Ruler
from ....render.faults import size_told
from ....render.seen import Drawing, seen
from ....service.bench import Workbench
from ....service.faults import faults
from ....texts import tell
from ..desk import Sitting
from .common import Values, common, spoken
from .dial import unit


@dataclass(frozen=True, slots=True)
class Shown:
    """A symptom to touch. number: its place in the drawing, 0 where it has none."""

    code: str
    title: str
    number: int


@dataclass(frozen=True, slots=True)
class CauseTold:
    """A cause with what tells it from the others, and its cure."""

    text: str
    why: str
    test: str
    cure: str


def fault(sitting: Sitting, setup: SetUp, bench: Workbench, code: str, size: str) -> Values:
    """Return the symptoms, or the causes of the one of a `code`; size: as typed with it. Raises
    NotUnderstood, Refused as `service.faults.faults`.
    """
    units, plan, ruler = sitting.reader.units, setup.plan, bench.ruler
    every = faults_of(plan.joint).looked_for(None, None, (), units).list
    symptom = next((one for one in every if one.code == code), None)
    if symptom is not None and size.strip():
        # A number and no more words; those of the symptom are what it is typed behind.
        sitting.reader.size(size, Limit(symptom.size, 0.0, FAULT_GAP_LIMIT, "any joint"))
    words = () if symptom is None else (f"{symptom.words} {size}".strip(),)
    told = faults(bench, setup, words, units)
    drawing = seen(plan.joint)
    return {
        **common(sitting, setup),
        "drawing": drawing,
        "groups": _groups(every, drawing),
        "log": spoken(list(told.log), ruler),
        "found": _found(told.asked[0], ruler) if symptom is not None else None,
        "code": code,
        "sized": "" if symptom is None else symptom.size,
        "typed_size": size,
        "titles": {one.code: tell(one.title) for one in every},
        "unit": unit(ruler),
        "cautions": spoken(list(told.cautions), ruler),
    }


def _groups(every: tuple[Symptom, ...], drawing: Drawing | None) -> list[tuple[str, list[Shown]]]:
    places = {} if drawing is None else {p.code: p.number for p in drawing.places}
    return [
        (tell(group), [Shown(one.code, tell(one.title), places.get(one.code, 0)) for one in those])
        for group, those in groupby(every, key=lambda one: one.group)
    ]


def _found(told: Diagnosis, ruler: Ruler) -> Values:
    return {
        "title": tell(told.symptom.title),
        "first": "" if told.first is None else say(told.first, ruler, PAGE),
        "size": size_told(told, ruler, PAGE),
        "causes": [
            CauseTold(
                say(cause.text, ruler, PAGE),
                "; ".join(spoken(cause.why, ruler)),
                say(cause.test, ruler, PAGE),
                say(cause.cure, ruler, PAGE),
            )
            for cause in told.causes
        ],
    }
