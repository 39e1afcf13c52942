"""A half-blind dovetail to touch: from the side, where the tails show, and from above at the corner
with the lap. Not to scale; as many tails as say which is meant.
"""

from __future__ import annotations

from ...texts import tell
from ..seen import WIDE, Drawing, Point, box, drawn

_HIGH = 560.0
_LAP, _BASE, _TOP, _BOTTOM = 34.0, 116.0, 30.0, 276.0  # of the side view
_TAILS, _FLARE = 3, 9.0
_INSIDE, _FACE = 436.0, 496.0  # of the corner: the tail board's two faces


def drawing() -> Drawing:
    """Return the joint with its places."""
    each = (_BOTTOM - _TOP) / _TAILS
    side: list[Point] = [(_BASE, _TOP)]
    for n in range(_TAILS):
        top, bottom = _TOP + n * each + 20, _TOP + (n + 1) * each - 20
        side += [(_BASE, top), (_LAP, top - _FLARE), (_LAP, bottom + _FLARE), (_BASE, bottom)]
    side += [(_BASE, _BOTTOM), (WIDE - 4, _BOTTOM), (WIDE - 4, _TOP)]
    middle, last = _TOP + 1.5 * each, _TOP + 2.5 * each
    places = (
        ("gap-baseline", (172.0, middle), (_BASE, _TOP + each)),
        ("gap-one-edge", (172.0, _TOP + 22), (_BASE, _TOP + 8)),
        ("gap-flank", (75.0, middle), (75.0, middle - each / 2 + 16)),
        ("far-tail-loose", (75.0, last + 2), (75.0, _BOTTOM - 20)),
        ("edges-do-not-meet", (262.0, _BOTTOM - 26), (_BASE, _BOTTOM)),
        ("gap-inside", (142.0, 378.0), (90.0, _INSIDE)),
        ("gap-outside", (152.0, 516.0), (90.0, _FACE)),
        ("stands-proud", (52.0, 516.0), (66.0, _FACE)),
        ("springs-open", (250.0, 400.0), (92.0, _INSIDE + 30)),
    )
    return drawn(
        _HIGH,
        (
            (box(4, _TOP, _BASE, _BOTTOM), False),
            (side, True),
            (box(20, 330, 90, _FACE), False),
            (box(46, _INSIDE, WIDE - 4, _FACE), True),
        ),
        places,
        (
            (tell("Side view, the fence's edge on top"), (4, 18)),
            (tell("The corner from above"), (100, 326)),
        ),
    )
