"""Geometry of parts cut from both faces against one reference: closed forms only. Lengths mm.

A board T thick lies flat and is passed over a bit that stands h above the table, then turned and
passed again; or it stands on edge at a fence x from the bit's axis, is turned and passed again.
"""

from __future__ import annotations


def web(thickness: float, height: float) -> float:
    """What two passes leave, T - 2 h; below 0 they meet and a notch is left."""
    return thickness - 2 * height


def clearance(hollow: float, thickness: float, height: float) -> float:
    """Total play of a tenon or tongue in its hollow; negative is interference."""
    return hollow - web(thickness, height)


def tenon_face(thickness: float, near_wall: float, hollow: float) -> float:
    """How proud a rail with a centred tenon stands of its stile, T/2 - q - M/2, mm."""
    return thickness / 2 - near_wall - hollow / 2


def groove(width: float, fence: float, thickness: float) -> float:
    """Width of a groove by a bit w at x, the board turned between two passes: w + 2 |x - T/2|."""
    return width + 2 * abs(fence - thickness / 2)


def lap_step(thickness: float, one: float, other: float) -> float:
    """How proud a part stands in a lap that takes one and the other off the two parts, mm."""
    return thickness - one - other
