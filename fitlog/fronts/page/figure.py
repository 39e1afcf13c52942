"""A length to dial, as large as the screen allows: its digits apart from its unit."""

from __future__ import annotations

import re
from dataclasses import dataclass

from ...language.inches import beside
from ...texts import tell

_PARTS = re.compile(
    r"(?P<sign>-?)(?:(?P<whole>\d+(?:\.\d+)?)(?![/\d]))?(?:[ -]?(?P<over>\d+)/(?P<under>\d+))? ?"
    r"(?P<rest>.*)"
)
_WIDE = 66  # units of a digit's width; its height is 100
_SMALL = 36  # of a digit's of a fraction, which is 41 high
_MINUS = 46  # of a minus sign and the air behind it: a stroke, since a hyphen squeezed is a dot


@dataclass(frozen=True, slots=True)
class Figure:
    """text: as it is read out; minus: whether it is below zero; whole, over, under: the digits, ""
    for none; rest: the unit and what stands behind it. width: of the drawing, whose height is 100.
    """

    text: str
    minus: bool
    whole: str
    over: str
    under: str
    rest: str

    @property
    def whole_at(self) -> int:
        """Where the digits before the fraction begin, in the drawing's units."""
        return _MINUS if self.minus else 0

    @property
    def whole_width(self) -> int:
        """How wide they are."""
        return sum(_WIDE // 2 if c == "." else _WIDE for c in self.whole)

    @property
    def fraction_at(self) -> int:
        """Where the fraction begins."""
        return self.whole_at + (self.whole_width + 12 if self.whole else 0)

    @property
    def fraction_width(self) -> int:
        """How wide its bar is: wider than either of its numbers."""
        return max(self.over_width, self.under_width) + 8 if self.over else 0

    @property
    def over_width(self) -> int:
        """How wide the number above the bar is."""
        return len(self.over) * _SMALL

    @property
    def under_width(self) -> int:
        """How wide the number below the bar is."""
        return len(self.under) * _SMALL

    @property
    def middle(self) -> float:
        """Where the middle of both is."""
        return self.fraction_at + self.fraction_width / 2

    @property
    def width(self) -> int:
        """How wide the drawing is."""
        fraction = self.fraction_at + self.fraction_width if self.over else 0
        return max(self.whole_at + self.whole_width, fraction, _WIDE)


def figure(text: str) -> Figure:
    """Return a length as it is drawn. text: as a ruler shows it, such as "18.85 mm". Of one on no
    mark, "45/64 in (0.706)", the decimal is large: its mark is that of its neighbours, too.
    """
    both = beside(text)
    shown = text if both is None else f"{float(both[1]):.3f} in"
    found = _PARTS.fullmatch(shown)
    assert found is not None, text
    parts = (found["whole"] or "", found["over"] or "", found["under"] or "")
    near = "" if both is None else tell(", near {mark}", mark=both[0].removesuffix(" in"))
    return Figure(text, bool(found["sign"]), *parts, found["rest"] + near)
