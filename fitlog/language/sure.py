"""How sure a number is, in the user's units: as fine as the uncertainty asks for, not as a setting
is dialled.
"""

from __future__ import annotations

from collections.abc import Sequence

from .units import MM_PER_INCH, Ruler

# mm: what is surer than this deserves a third decimal (JCGM 100:2008, 7.2.6: two digits at most)
_FINE = 0.0295


def give_or_take(law: Sequence[float], ruler: Ruler) -> str:
    """Return a mean and its sd, mm, as text: "12.63 +- 0.03 mm"; inches are decimal, fractions are
    too coarse for it.
    """
    mean, sd = law
    digits = digits_for([sd])
    if ruler.units != "mm":
        return f"{mean / MM_PER_INCH:.4f} +- {sd / MM_PER_INCH:.4f} in"
    return f"{mean:.{digits}f} +- {sd:.{digits}f} mm"


def small(
    mm: Sequence[float], ruler: Ruler, between: str = " to ", digits: int | None = None
) -> str:
    """Return small lengths, mm, with their unit: hundredths or thousandths of a mm, tenths of a
    thousandth of an inch.

    digits: decimals of a mm; None: as many as the smallest asks for.
    """
    if ruler.units != "mm":
        return (
            between.join(f"{round(value / MM_PER_INCH * 1000, 1) + 0.0:.1f}" for value in mm)
            + " thou"
        )
    decimals = digits_for(mm) if digits is None else digits
    return (
        between.join(f"{round(value, decimals) + 0.0:.{decimals}f}" for value in mm) + " mm"
    )  # + 0.0: no -0.00


def by_eye(mm: Sequence[float], ruler: Ruler) -> str:
    """Return the lengths, mm, between which a word holds: as `small`, but in an inch shop whole
    thousandths, which is what is told by eye. Each is rounded by itself, so that neighbours meet.
    """
    if ruler.units == "mm":
        return small(mm, ruler)
    return " to ".join(str(round(value / MM_PER_INCH * 1000)) for value in mm) + " thou"


def digits_for(sds: Sequence[float]) -> int:
    """Return how many decimals of a mm these uncertainties, mm, ask for."""
    return 2 if min(sds) >= _FINE else 3
