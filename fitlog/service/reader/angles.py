"""An angle as it was typed."""

from __future__ import annotations

import re

from ...errors import NotUnderstood
from ...language.units import LENGTH_LIMIT, quoted

_ANGLE = re.compile(
    r"(?P<number>[+\u2212-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+))"
    r" ?(?:\u00b0|\u00ba|deg\.?|degrees?)?"
)


def degrees(text: str) -> float:
    """Return an angle such as `14`, `7,5`, `7.5 deg` or one with the degree sign, degrees; raises
    NotUnderstood ("bad-angle").
    """
    found = _ANGLE.fullmatch(" ".join(text.lower().split())[: LENGTH_LIMIT + 1])
    if found is None or len(text) > LENGTH_LIMIT:
        raise NotUnderstood(
            "bad-angle",
            "the angle {typed} cannot be read",
            "write it in degrees, like 14 or 7.5 deg",
            typed=quoted(text.strip()),
        )
    return float(found["number"].replace(",", ".").replace("\u2212", "-"))
