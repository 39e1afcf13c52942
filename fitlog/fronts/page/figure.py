"""A length to dial, as large as the screen allows: its digits apart from its unit."""

from __future__ import annotations

import re
from dataclasses import dataclass

_PARTS = re.compile(
    r"(?P<sign>-?)(?:(?P<whole>\d+(?:\.\d+)?)(?![/\d]))?(?:[ -]?(?P<over>\d+)/(?P<under>\d+))? ?"
    r"(?P<rest>.*)"
)
_WIDE = 66  # units of a digit's width; its height is 100


@dataclass(frozen=True, slots=True)
class Figure:
    """text: as it is read out; whole, over, under: the digits, "" for none; rest: the unit and what
    stands behind it. width: of the drawing, whose height is 100.
    """

    text: str
    whole: str
    over: str
    under: str
    rest: str
    width: int

    @property
    def whole_width(self) -> int:
        """How wide the digits before the fraction are."""
        return _width(self.whole)

    @property
    def fraction_at(self) -> int:
        """Where the fraction begins, in the drawing's units."""
        return _width(self.whole) + (12 if self.whole else 0)

    @property
    def fraction_width(self) -> int:
        """How wide the fraction is."""
        return self.width - self.fraction_at


def figure(text: str) -> Figure:
    """Return a length as it is drawn. text: as a ruler shows it, such as "18.85 mm"."""
    found = _PARTS.fullmatch(text)
    assert found is not None, text
    whole = found["sign"] + (found["whole"] or "")
    over, under = found["over"] or "", found["under"] or ""
    wide = max(len(over), len(under)) * _WIDE * 6 // 10
    width = _width(whole) + (wide + 12 if over and whole else wide)
    return Figure(text, whole, over, under, found["rest"], max(width, _WIDE))


def _width(digits: str) -> int:
    return sum(_WIDE // 2 if c in ".-" else _WIDE for c in digits)
