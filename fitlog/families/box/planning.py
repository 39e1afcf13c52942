"""What is decided before the first cut of a box joint on a key: see `families.planning`."""

from ..fingers.planning import FIGURES
from ..fingers.planning import widths as planned

__all__ = ["FIGURES", "planned"]
