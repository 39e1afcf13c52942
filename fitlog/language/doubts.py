"""What no shop would mean: a doubt with its likely meaning, and how a decimal, a unit or two digits
slip.

A doubt is asked about where somebody can answer, and refused everywhere else; typing the same again
is never an answer.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise

from ..errors import Refused
from ..texts import tell
from .units import MM_PER_INCH, Ruler

# mm from what is expected: so far a slipped point or unit may land and still explain what was typed
NEAR = 1.0
# mm: swapped digits that give the very number as it is shown, to half a thousandth of an inch
EXACT = 0.015


@dataclass(frozen=True, slots=True)
class Doubt:
    """Something typed that no shop would mean.

    refusal: what is told where nobody can be asked.  meant: the likely meaning as it would be
    typed, "" for none. mend: what to put in its place, true mm by name; empty where that cannot be
    told. insist: the question whose yes takes it as typed.
    """

    refusal: Refused
    meant: str = ""
    mend: Mapping[str, float] = field(default_factory=dict)
    insist: str = "Take it as typed?"

    @property
    def question(self) -> str:
        """The doubt as a question; the answer yes takes the likely meaning, where there is one."""
        said = self.refusal.message
        said = f"{said[:1].upper()}{said[1:]}."
        asked = "{said} Did you mean {meant}?"
        return tell(asked, said=said, meant=self.meant) if self.meant else said


def remedy(meant: str) -> str:
    """Return the hint of a doubt that is put together elsewhere."""
    return tell(
        "did you mean {meant}? To take it as typed, add --yes"
        if meant
        else "check it; to take it as typed, add --yes",
        meant=meant,
    )


def doubted(
    code: str, message: str, meant: str, mend: Mapping[str, float], /, **values: object
) -> Doubt:
    """Return a doubt, whose hint is its likely meaning, and how to insist."""
    refusal = Refused(
        code,
        message,
        "did you mean {meant}? To take it as typed, add --yes"
        if meant
        else "check it; to take it as typed, add --yes",
        meant=meant,
        **values,
    )
    return Doubt(refusal, meant, mend)


def likely(
    value: float, wanted: Iterable[float], ruler: Ruler, digits: float = NEAR
) -> tuple[float, str] | None:
    """Return what was likely meant by `value`, and how that is written: the slip of it that lands
    nearest to one of `wanted`.

    All mm on the same scale; None where no slip explains it. Slips: the decimal point, the other
    unit, swapped digits. digits: how near swapped ones must come, NEAR or, where the length itself
    is not strange, EXACT.
    """
    aims = tuple(wanted)
    ways = [
        *((way, NEAR) for way in slips(value, ruler)),
        *(((v, ruler.size(v)), digits) for v in transposed(value, ruler)),
    ]
    found = [
        (abs(way[0] - aim), way) for way, near in ways for aim in aims if abs(way[0] - aim) <= near
    ]
    return min(found)[1] if found else None


def slips(value: float, ruler: Ruler) -> Iterator[tuple[float, str]]:
    """Yield what a length may have been meant as, mm, and how that is written: in the other unit,
    or a place further on.
    """
    if ruler.units == "mm":
        yield value * MM_PER_INCH, f"{value:g} in"
        yield value / MM_PER_INCH, f"{value / MM_PER_INCH:.3g} mm"
    else:
        yield value / MM_PER_INCH, f"{value / MM_PER_INCH:g} mm"
    for way in (value * 10, value / 10):
        yield way, ruler.size(way)


def transposed(value: float, ruler: Ruler) -> Iterator[float]:
    """Yield a length with two neighbouring digits swapped, as its user writes numbers; fractions
    have no such digits.
    """
    if ruler.units == "fraction":
        return
    unit = MM_PER_INCH if ruler.units == "inch" else 1.0
    text = f"{value / unit:.3f}"
    digits = [i for i, char in enumerate(text) if char.isdigit()]
    for one, other in pairwise(digits):
        if text[one] != text[other]:
            swapped = list(text)
            swapped[one], swapped[other] = text[other], text[one]
            yield float("".join(swapped)) * unit


def beside(kind: str) -> str:
    """Return what the second number of a reading is called in a doubt's `mend`."""
    return f"beside {kind}"
