"""A lock mitre to touch: the corner seen from the end, and its outside along the edge. Not to
scale.
"""

from __future__ import annotations

from ...texts import tell
from ..seen import WIDE, Drawing, Point, box, drawn

_OUT, _IN, _TOP = 40.0, 130.0, 40.0
# The line at which the boards meet, from the outside corner to the inside: the lock is its step.
_MEET: tuple[Point, ...] = ((40, 230), (70, 200), (70, 170), (100, 170), (130, 140))


def drawing() -> Drawing:
    """Return the joint with its places."""
    upright = [(_OUT, _TOP), *_MEET, (_IN, _TOP)]
    flat = [*_MEET, (WIDE - 4.0, 140.0), (WIDE - 4.0, 230.0)]
    places = (
        ("open-inside", (180.0, 100.0), (_IN, 140.0)),
        ("not-square", (262.0, 100.0), (_IN + 30, 140.0)),
        ("batch-steps", (46.0, 270.0), (_OUT, 230.0)),
        ("varies-along", (110.0, 370.0), (110.0, 350.0)),
        ("end-bite", (200.0, 370.0), (WIDE - 20, 350.0)),
        ("torn", (276.0, 292.0), (WIDE - 8, 330.0)),
    )
    return drawn(
        430,
        (
            (upright, False),
            (flat, True),
            (box(4, 326, WIDE - 4, 350), True),
            (box(4, 350, WIDE - 4, 410), False),
        ),
        places,
        (
            (tell("The corner from the end"), (4, 18)),
            (tell("The corner along its edge"), (4, 320)),
        ),
    )
