"""A half-lap to touch, along one part, the other end-on. Not to scale."""

from __future__ import annotations

from ...texts import tell
from ..seen import WIDE, Drawing, box, drawn

_TIP, _SHOULDER, _FACE, _HALF, _BACK = 24.0, 170.0, 70.0, 150.0, 230.0


def drawing() -> Drawing:
    """Return the joint with its places."""
    part = [(_TIP, _HALF), (_SHOULDER, _HALF), (_SHOULDER, _FACE), (WIDE - 4, _FACE)]
    part += [(WIDE - 4, _BACK), (_TIP, _BACK)]
    places = (
        ("tip-proud", (46.0, 272.0), (_TIP + 4, _BACK)),
        ("tapered", (70.0, 190.0), (_TIP + 20, _HALF)),
        ("some-fit", (150.0, 210.0), (_SHOULDER - 30, _HALF)),
        ("shoulders-crooked", (226.0, 130.0), (_SHOULDER, _FACE + 40)),
        ("torn-exit", (226.0, 44.0), (_SHOULDER + 2, _FACE)),
    )
    return drawn(
        320,
        ((box(_TIP, _FACE, _SHOULDER, _HALF), False), (part, True)),
        places,
        ((tell("Along the part, from its edge"), (4.0, 18.0)),),
    )
