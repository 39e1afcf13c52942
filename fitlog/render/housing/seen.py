"""A housing to touch: the sheet in its side, seen from the edge, and the side's face. Not to
scale.
"""

from __future__ import annotations

from ...texts import tell
from ..seen import WIDE, Drawing, box, drawn

_LEFT, _RIGHT, _FACE, _BOTTOM, _BACK = 130.0, 190.0, 160.0, 200.0, 246.0


def drawing() -> Drawing:
    """Return the joint with its places."""
    side = [(4.0, _FACE), (_LEFT - 3, _FACE), (_LEFT - 3, _BOTTOM), (_RIGHT + 3, _BOTTOM)]
    side += [(_RIGHT + 3, _FACE), (WIDE - 4, _FACE), (WIDE - 4, _BACK), (4.0, _BACK)]
    places = (
        ("gap-lean", (70.0, 110.0), (_LEFT, _FACE - 4)),
        ("wont-bottom", (160.0, 232.0), (160.0, _BOTTOM)),
        ("one-edge", (70.0, 330.0), (16.0, 330.0)),
        ("splintered", (250.0, 110.0), (_RIGHT + 5, _FACE)),
        ("wider-end", (250.0, 330.0), (WIDE - 12, 330.0)),
    )
    return drawn(
        400,
        (
            (box(_LEFT, 30, _RIGHT, _BOTTOM), True),
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
