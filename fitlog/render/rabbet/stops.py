"""The sides of a rabbet: shown as those of a housing."""

from ..housing.stops import as_csv, job_document, parts, stops

__all__ = ["as_csv", "job_document", "parts", "stops"]
