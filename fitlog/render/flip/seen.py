"""A joint cut from both faces to touch, along the part: what is cut thinner in what takes it. Not
to scale.
"""

from __future__ import annotations

from ...texts import tell
from ..seen import WIDE, Drawing, drawn

TIP, SHOULDER, FACE, CHEEK, OTHER, BACK = 60.0, 170.0, 60.0, 110.0, 200.0, 250.0


def tongued(*more: tuple[str, tuple[float, float], tuple[float, float]]) -> Drawing:
    """Return a tenon or a tongue in its mortise or groove. more: places of one of them alone."""
    part = [(TIP, CHEEK), (SHOULDER, CHEEK), (SHOULDER, FACE), (WIDE - 4, FACE)]
    part += [(WIDE - 4, BACK), (SHOULDER, BACK), (SHOULDER, OTHER), (TIP, OTHER)]
    taken = [(4.0, FACE - 24), (SHOULDER, FACE - 24), (SHOULDER, CHEEK), (TIP - 12, CHEEK)]
    taken += [(TIP - 12, OTHER), (SHOULDER, OTHER), (SHOULDER, BACK + 24), (4.0, BACK + 24)]
    places = (
        ("tapered", (108.0, 155.0), (TIP + 8, CHEEK)),
        ("shoulders-crooked", (236.0, 110.0), (SHOULDER, FACE + 20)),
        ("some-fit", (206.0, 204.0), (SHOULDER - 20, OTHER)),
        ("torn-exit", (277.0, 38.0), (SHOULDER + 2, FACE)),
        *more,
    )
    views = ((tell("Along the part, from its edge"), (4.0, 18.0)),)
    return drawn(BACK + 80, ((taken, False), (part, True)), places, views)
