"""A half-blind dovetail to touch: from the side, where the tails show, and from above at the corner
with the lap. Not to scale; as many tails as say which is meant.
"""

from __future__ import annotations

from ...domain import Plan
from ...texts import tell
from ..seen import Drawing, Place, Point

_WIDE, _HIGH = 320.0, 560.0
_LAP, _BASE, _TOP, _BOTTOM = 34.0, 116.0, 30.0, 276.0  # of the side view
_TAILS, _FLARE = 3, 9.0
_INSIDE, _FACE = 436.0, 496.0  # of the corner: the tail board's two faces


def drawing(plan: Plan) -> Drawing:
    """Return the joint with its places."""
    each = (_BOTTOM - _TOP) / _TAILS
    side: list[Point] = [(_BASE, _TOP)]
    for n in range(_TAILS):
        top, bottom = _TOP + n * each + 20, _TOP + (n + 1) * each - 20
        side += [(_BASE, top), (_LAP, top - _FLARE), (_LAP, bottom + _FLARE), (_BASE, bottom)]
    side += [(_BASE, _BOTTOM), (_WIDE - 4, _BOTTOM), (_WIDE - 4, _TOP)]
    front = ((4.0, _TOP), (_BASE, _TOP), (_BASE, _BOTTOM), (4.0, _BOTTOM))
    upright = ((20.0, 330.0), (90.0, 330.0), (90.0, _FACE), (20.0, _FACE))
    across = ((46.0, _INSIDE), (_WIDE - 4, _INSIDE), (_WIDE - 4, _FACE), (46.0, _FACE))
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
    return Drawing(
        _WIDE,
        _HIGH,
        ((front, False), (tuple(side), True), (upright, False), (across, True)),
        tuple(Place(n, code, at, on) for n, (code, at, on) in enumerate(places, 1)),
        (
            (tell("Side view, the fence's edge on top"), (4.0, 18.0)),
            (tell("The corner from above"), (100.0, 326.0)),
        ),
    )
