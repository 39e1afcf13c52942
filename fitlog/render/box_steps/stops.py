"""The boards of a box joint by steps: shown as those of one on a sled, with the fence's stops."""

from ..box.stops import as_csv, job_document, parts, stops

__all__ = ["as_csv", "job_document", "parts", "stops"]
