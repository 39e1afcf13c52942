"""Between which limits a size is believed, and whose limit that is."""

from __future__ import annotations

import math
import re
from typing import NamedTuple

from ..errors import Least, Most, Refused
from .inches import spelled
from .units import MM_PER_INCH, Length, shown

# a range this narrow or narrower tells a slipped decimal point: its ends are so many times each
# other
_TELLING = 40.0
_REMEDIES = {
    "mm": "did you mean {meant:g} mm?",
    "in": "did you mean {meant:g} in?",
    "least": "give {what} as {low} or more",
    "most": "give {what} up to {high}",
    "both": "give {what} between {low:bare} and {high}",
}


class Limit(NamedTuple):
    """A size's name in messages, its limits in mm, and what the upper one is in words."""

    what: str
    low: float
    high: float
    why: str

    def moved(self, by: float) -> Limit:
        """Return the limit as a scale reads it that shows `by` mm more than the truth."""
        return Limit(self.what, self.low + by, self.high + by, self.why)

    def check(self, length: Length) -> float:
        """Return a length that lies inside, mm; raises Refused (absurd-size, bad-size)."""
        return check_range(length, self.low, self.high, self.what, self.why)


def check_range(length: Length, low: float, high: float, what: str, why: str) -> float:
    """Return `length.mm` when it lies from `low` to `high`, mm, the ends included.

    why: the limit in words, such as "this bit's cutting length of 22 mm".
    Raises `Refused` (code "absurd-size"), and asks about the other unit when that would fit.
    """
    if low <= length.mm <= high:
        return length.mm
    remedy, meant = _remedy(length, low, high)
    values = {
        "what": what,
        "named": shown(length.text)
        + (f" {length.unit}" if re.search(r"[0-9]\.?$", length.text) else ""),
        "why": why,
        "low": Least(low),
        "high": Most(high),
        "meant": meant,
    }
    if length.mm <= 0 < low:
        said = "{what} must be a size above zero, not {named}"
        raise Refused("bad-size", said, _REMEDIES[remedy], **values)
    raise Refused(
        "absurd-size",
        "{what} of {named} is below {why}"
        if length.mm < low
        else "{what} of {named} is beyond {why}",
        _REMEDIES[remedy],
        **values,
    )


def _remedy(length: Length, low: float, high: float) -> tuple[str, float]:
    """Return which remedy there is, and the number that was likely meant, in its unit."""
    # Only mm and inches are confused with each other; nobody types cm, thou or 3/4 so.
    confusable = not re.search(r"thou|cm|centi|/", spelled(length.text.lower()))
    if confusable and length.unit == "in" and low <= length.mm / MM_PER_INCH <= high:
        return "mm", length.mm / MM_PER_INCH
    if confusable and length.unit == "mm" and low <= length.mm * MM_PER_INCH <= high:
        return "in", length.mm
    if confusable and low > 0 and high <= _TELLING * low and length.unit in ("mm", "in"):
        for number in (length.mm / 10, length.mm * 10):
            if low <= number <= high:
                return length.unit, number / (1.0 if length.unit == "mm" else MM_PER_INCH)
    if not math.isfinite(high):
        return "least", 0.0
    return "both" if math.isfinite(low) else "most", 0.0
