"""Geometry of the sliding dovetail cut with one bit: closed forms only. Lengths mm, angles radians.

The socket is cut in the panel at a height h by a bit of cutting diameter D at its tip and side
angle theta. The tongue of a shelf T thick is cut on end, the bit standing out of the fence by the
exposure p, on both faces or on one; it is g high from its shoulder to its end.
"""

from __future__ import annotations

import math

from ..half_blind.geometry import between_rods, mouth, rod_factor

__all__ = ["between_rods", "mouth", "rod_factor"]


def root(thickness: float, exposure: float, faces: int = 2) -> float:
    """Width of the tongue at its shoulder, T - faces * p, mm."""
    return thickness - faces * exposure


def tongue_end(
    thickness: float, exposure: float, height: float, theta: float, faces: int = 2
) -> float:
    """Width of the tongue at its end, mm: no wider than the shelf, where a strip of its face is
    left.
    """
    wide = root(thickness, exposure, faces) + faces * height * math.tan(theta)
    return min(thickness, wide)


def clearance(
    diameter: float,
    thickness: float,
    exposure: float,
    socket: float,
    theta: float,
    faces: int = 2,
) -> float:
    """Total play across the tongue, the socket's mouth less the root, mm; negative is
    interference. socket: its height.
    """
    return mouth(diameter, socket, theta) - root(thickness, exposure, faces)


def exposure_for(
    wanted: float, diameter: float, thickness: float, socket: float, theta: float, faces: int = 2
) -> float:
    """Exposure that gives a wanted clearance, mm."""
    return (wanted - clearance(diameter, thickness, 0.0, socket, theta, faces)) / faces


def felt(play: float, shoulder: float, theta: float, faces: int = 2) -> float:
    """The play that is felt, mm. shoulder: how far the tongue is higher than the socket, which
    wedges it once its end stands on the socket's floor.
    """
    return play - faces * math.tan(theta) * max(0.0, shoulder)


def pulled_gap(play: float, theta: float, faces: int = 2) -> float:
    """How far a tongue with play comes straight out until its flanks touch, c / (faces tan(theta)),
    mm, whether its end stands on the floor or not; 0 when tight.
    """
    return max(0.0, play) / (faces * math.tan(theta))


def over_rods(narrow: float, rod: float, theta: float, faces: int = 2) -> float:
    """Width over rods in the corners of a tongue whose root is `narrow`, x = a + faces d k / 2, mm;
    with one face cut the other side is the straight face.
    """
    return narrow + faces * rod * rod_factor(theta) / 2


def play_by_rods(between: float, over: float, rod: float, socket: float, theta: float) -> float:
    """Clearance by rods in the socket and on the tongue, c = y - x + 2 d k - 2 h tan(theta), mm."""
    wide = between + rod * rod_factor(theta)
    return mouth(wide, socket, theta) - (over - rod * rod_factor(theta))


def slope_clearance_angle(socket: float, theta: float) -> float:
    """dc/dtheta = -2 h sec^2(theta), mm per radian."""
    return -2 * socket / math.cos(theta) ** 2
