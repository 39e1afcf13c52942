"""The JSON of `fault`."""

from __future__ import annotations

from ...document import Document, remarks_document
from ...families.half_blind.faults import Diagnosis, Faults, Likely


def faults_document(found: Faults) -> Document:
    """Return the JSON of `fault`: every key always there, lengths in mm."""
    return {
        "setup": found.setup.number if found.setup else None,
        "log": remarks_document(found.log),
        "found": [_diagnosis(d) for d in found.asked],
        "symptoms": [
            {"code": s.code, "words": s.words, "title": s.title, "size": s.size or None}
            for s in found.list
        ],
        "cautions": remarks_document(found.cautions),
    }


def _diagnosis(found: Diagnosis) -> Document:
    return {
        "symptom": found.symptom.code,
        "words": found.symptom.words,
        "title": found.symptom.title,
        "size": None if found.size is None else round(found.size, 4),
        "size_from": found.source,
        "causes": [_cause(c) for c in found.causes],
    }


def _cause(cause: Likely) -> Document:
    return {
        "code": cause.code,
        "share": round(cause.share, 3),
        "text": cause.text,
        "why": list(cause.why),
        "test": cause.test,
        "cure": cause.cure,
        "amounts": cause.amounts,
    }
