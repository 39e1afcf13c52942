"""Straight fingers to touch, from the side. Not to scale; as many as say which is meant."""

from __future__ import annotations

from ...texts import tell
from ..seen import WIDE, Drawing, Point, box, drawn

_ENDS, _BASE, _TOP, _EACH, _COUNT = 20.0, 116.0, 30.0, 64.0, 5


def drawing() -> Drawing:
    """Return the joint with its places."""
    bottom = _TOP + _COUNT * _EACH
    comb: list[Point] = []
    for n in range(_COUNT):
        x = _BASE if n % 2 else _ENDS
        comb += [(x, _TOP + n * _EACH), (x, _TOP + (n + 1) * _EACH)]
    places = (
        ("ends-uneven", (50.0, 126.0), (_ENDS, _TOP + _EACH + 8)),
        ("corner-open", (164.0, 158.0), (_BASE, _TOP + 1.5 * _EACH)),
        ("slots-wide", (164.0, 70.0), (90.0, _TOP + _EACH)),
        ("tight-across", (164.0, 246.0), (90.0, _TOP + 3 * _EACH)),
        ("last-bind", (66.0, 312.0), (66.0, _TOP + 4 * _EACH)),
        ("torn-exit", (262.0, 306.0), (_BASE, bottom - 2)),
    )
    return drawn(
        bottom + 16,
        (
            (box(_ENDS + 4, _TOP, _BASE, bottom), False),
            ([*comb, (WIDE - 4, bottom), (WIDE - 4, _TOP)], True),
        ),
        places,
        ((tell("Side view, the first finger on top"), (4, 18)),),
    )
