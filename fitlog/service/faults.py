"""The use case of `fault`: what the log shows, and the causes of what was seen. The log is only
read.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ..advice.cautions import FULL
from ..document import Document, remarks_document
from ..domain import SetUp
from ..families.half_blind.faults import (
    SYMPTOMS,
    VOCABULARY,
    Bench,
    Diagnosis,
    Faults,
    Likely,
    parse_symptoms,
)
from ..families.telling import say
from ..language.units import Ruler
from .bench import Workbench

__all__ = ["VOCABULARY", "faults", "faults_document"]

_CAUTIONS = (
    "unplug",
    "one-pass",
    "new-height",
)  # every test and cure is about the bit or a new cut


def faults(bench: Workbench, setup: SetUp | None, words: Sequence[str], units: str) -> Faults:
    """Return the causes of what was typed for a set-up, or all symptoms when nothing was typed.

    units: preferred unit of bare numbers. Raises NotUnderstood or Refused for words that name no
    symptom.
    """
    seen = parse_symptoms(words, units=units)
    if setup is None:
        return Faults(None, (), (), SYMPTOMS, ())
    at = Bench(setup, bench.past(setup))
    asked = at.diagnose(seen)
    cautions = tuple(c for c in FULL if c.code in _CAUTIONS) if asked else ()
    return Faults(setup, at.log_shows(gaps=not asked), asked, () if asked else SYMPTOMS, cautions)


def faults_document(found: Faults, ruler: Ruler) -> Document:
    """Return the JSON of `fault`: every key always there, lengths in mm."""
    return {
        "setup": found.setup.number if found.setup else None,
        "log": remarks_document(found.log, ruler),
        "found": [_diagnosis(d, ruler) for d in found.asked],
        "symptoms": [
            {"code": s.code, "words": s.words, "title": s.title, "size": s.size or None}
            for s in found.list
        ],
        "cautions": remarks_document(found.cautions, ruler),
    }


def _diagnosis(found: Diagnosis, ruler: Ruler) -> dict[str, Any]:
    return {
        "symptom": found.symptom.code,
        "words": found.symptom.words,
        "title": found.symptom.title,
        "size": None if found.size is None else round(found.size, 4),
        "size_from": found.source,
        "causes": [_cause(c, ruler) for c in found.causes],
    }


def _cause(cause: Likely, ruler: Ruler) -> dict[str, Any]:
    return {
        "code": cause.code,
        "share": round(cause.share, 3),
        "text": say(cause.text, ruler),
        "why": [say(why, ruler) for why in cause.why],
        "test": say(cause.test, ruler),
        "cure": say(cause.cure, ruler),
        "amounts": cause.amounts,
    }
