"""Getting the setting of the fit back: see `families.recovering.Recovering`."""

from ..fingers.recover import recovered

__all__ = ["recovered"]
