"""A rabbet to touch: the sheet in the side's step, seen from the edge, and the side's face. Not to
scale.
"""

from __future__ import annotations

from ...texts import tell
from ..seen import WIDE, Drawing, box, drawn

_STEP, _FACE, _BOTTOM, _BACK = 70.0, 150.0, 200.0, 246.0


def drawing() -> Drawing:
    """Return the joint with its places."""
    side = [(4.0, _BOTTOM), (_STEP, _BOTTOM), (_STEP, _FACE), (WIDE - 4, _FACE)]
    side += [(WIDE - 4, _BACK), (4.0, _BACK)]
    places = (
        ("gap-lean", (120.0, 100.0), (_STEP, _FACE - 4)),
        ("wont-bottom", (130.0, 218.0), (_STEP - 20, _BOTTOM)),
        ("one-edge", (70.0, 330.0), (16.0, 330.0)),
        ("splintered", (220.0, 110.0), (_STEP + 3, _FACE)),
        ("wider-end", (250.0, 330.0), (WIDE - 12, 330.0)),
    )
    return drawn(
        400,
        (
            (box(6, 30, _STEP - 2, _BOTTOM), True),
            (side, False),
            (box(4, 290, WIDE - 4, 390), False),
            (box(4, 312, WIDE - 4, 348), True),
        ),
        places,
        (
            (tell("From the edge"), (4, 18)),
            (tell("The side's face, the cut along it"), (4, 282)),
        ),
    )
