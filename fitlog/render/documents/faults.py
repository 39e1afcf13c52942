"""The JSON of `fault`."""

from __future__ import annotations

from ...document import Document, remarks_document
from ...families.faults import Diagnosis, Faults, Likely
from ...families.telling import say
from ...language.units import Ruler


def faults_document(found: Faults, ruler: Ruler) -> Document:
    """Return the JSON of `fault`: every key always there, lengths in mm."""
    return {
        "setup": found.setup.number if found.setup else None,
        "log": remarks_document(found.log, ruler),
        "found": [_diagnosis(d, ruler) for d in found.asked],
        "symptoms": [
            {
                "code": s.code,
                "group": s.group,
                "words": s.words,
                "title": s.title,
                "size": s.size or None,
            }
            for s in found.list
        ],
        "cautions": remarks_document(found.cautions, ruler),
    }


def _diagnosis(found: Diagnosis, ruler: Ruler) -> Document:
    return {
        "symptom": found.symptom.code,
        "words": found.symptom.words,
        "title": found.symptom.title,
        "size": None if found.size is None else round(found.size, 4),
        "size_from": found.source,
        "first": say(found.first, ruler) if found.first else None,
        "causes": [_cause(c, ruler) for c in found.causes],
    }


def _cause(cause: Likely, ruler: Ruler) -> Document:
    return {
        "code": cause.code,
        "share": round(cause.share, 3),
        "text": say(cause.text, ruler),
        "why": [say(why, ruler) for why in cause.why],
        "test": say(cause.test, ruler),
        "cure": say(cause.cure, ruler),
        "amounts": cause.amounts,
    }
