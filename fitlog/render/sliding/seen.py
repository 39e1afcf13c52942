"""A sliding dovetail to touch: the shelf's end in the panel, seen from the front, and the panel's
face with the socket across it. Not to scale.
"""

from __future__ import annotations

from ...texts import tell
from ..seen import WIDE, Drawing, Point, box, drawn

_ROOT, _END = (130.0, 190.0), (116.0, 204.0)  # of the tongue, left and right
_SHELF, _FACE, _BOTTOM, _BACK = (100.0, 220.0), 160.0, 206.0, 250.0


def drawing() -> Drawing:
    """Return the joint with its places."""
    tongue: list[Point] = [(_ROOT[0], _FACE), (_END[0], _BOTTOM - 4), (_END[1], _BOTTOM - 4)]
    shelf = [(_SHELF[0], 30.0), (_SHELF[0], _FACE), *tongue, (_ROOT[1], _FACE)]
    shelf += [(_SHELF[1], _FACE), (_SHELF[1], 30.0)]
    panel = [(4.0, _FACE), (_ROOT[0], _FACE), (_END[0], _BOTTOM), (_END[1], _BOTTOM)]
    panel += [(_ROOT[1], _FACE), (WIDE - 4, _FACE), (WIDE - 4, _BACK), (4.0, _BACK)]
    places = (
        ("one-shoulder", (52.0, 110.0), (_SHELF[0] + 6, _FACE)),
        ("both-shoulders", (268.0, 110.0), (_SHELF[1] - 6, _FACE)),
        ("root-and-end", (160.0, 110.0), (_ROOT[0] + 6, _FACE + 6)),
        ("later-deeper", (160.0, 236.0), (160.0, _BOTTOM)),
        ("binds-half-way", (160.0, 350.0), (160.0, 340.0)),
        ("jams-in-glue", (254.0, 350.0), (230.0, 340.0)),
    )
    return drawn(
        410,
        (
            (panel, False),
            (shelf, True),
            (box(4, 300, WIDE - 4, 400), False),
            (box(4, 322, WIDE - 4, 358), True),
        ),
        places,
        (
            (tell("From the front"), (4, 18)),
            (tell("The panel's face, the socket along it"), (4, 292)),
        ),
    )
