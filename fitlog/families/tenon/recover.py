"""Getting a tenon back: see `families.recovering.Recovering`."""

from ..flip.recover import recovered

__all__ = ["recovered"]
