"""Geometry of the lock mitre: closed forms only. Lengths mm.

One bit of 45 deg with a tongue in its profile, the same about a point whose middle is z above the
table and x out from the fence. A flat board F thick lies on the table, outside up, its end to the
fence; an upright one V thick stands with its inside to the fence.
"""

from __future__ import annotations


def flats(z: float, thick: float) -> float:
    """How proud, on top, a flat stands that is turned over and put to another one."""
    return 2 * z - thick


def uprights(x: float, thick: float) -> float:
    """How far out an upright stands that is turned and put to another one, outside to outside."""
    return 2 * x - thick


def flat_over(x: float, z: float, flat: float, upright: float) -> float:
    """How far the end of the flat stands over the upright's outside, at a corner pushed home. Where
    the flat has a sharp end, that is shorter by x + z - F.
    """
    return uprights(x, upright) - max(0.0, edge(x, z, flat))


def upright_over(x: float, z: float, flat: float, upright: float) -> float:
    """How far the end of the upright stands over the flat's outside."""
    return flats(z, flat) - max(0.0, edge(x, z, upright))


def edge(x: float, z: float, thick: float) -> float:
    """How much an end is shortened to a sharp edge, x + z - T; below 0 so much of it is left
    blunt.
    """
    return x + z - thick


def sharp(x: float, z: float, thick: float) -> bool:
    """Whether nothing of an end is left."""
    return edge(x, z, thick) >= 0


def fence_from_corner(over: float, height: float) -> float:
    """What two uprights would show, by the corner of one with a flat of its own thickness, and by
    two flats of the same height: over + max(0, over + height).

    A corner tells a - b of a sharp edge and 2 a of a blunt one, a and b being half of what uprights
    and flats show; the edge is sharp, a + b >= 0, just where over + height >= 0.
    """
    return over + max(0.0, over + height)
