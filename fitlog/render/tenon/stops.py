"""The real boards of tenons: those of every joint cut from both faces."""

from ..flip.stops import as_csv, job_document, parts, stops

__all__ = ["as_csv", "job_document", "parts", "stops"]
