"""Geometry of the half-blind dovetail cut with one bit: closed forms only. Lengths mm, angles
radians.

Both boards are cut by the same bit of cutting diameter D at its tip and side angle theta, at height
h; the cuts of one board lie a pitch P apart.
"""

from __future__ import annotations

import math

from ...errors import Mm, Refused


def mouth(diameter: float, height: float, theta: float) -> float:
    """Width of a slot at the table-side surface, m = D - 2 h tan(theta), mm."""
    return diameter - 2 * height * math.tan(theta)


def clearance(diameter: float, pitch: float, height: float, theta: float) -> float:
    """Total play across one tail, c = 2 D - P - 2 h tan(theta), mm; negative is interference."""
    return 2 * diameter - pitch - 2 * height * math.tan(theta)


def height_for(clearance: float, diameter: float, pitch: float, theta: float) -> float:
    """Bit height that gives a wanted clearance, mm."""
    return (2 * diameter - pitch - clearance) / (2 * math.tan(theta))


def pitch_for(clearance: float, diameter: float, height: float, theta: float) -> float:
    """Pitch that gives a wanted clearance at a height, mm."""
    return 2 * diameter - clearance - 2 * height * math.tan(theta)


def pull_apart_gap(clearance: float, theta: float) -> float:
    """How far a seated tail with play comes straight back out, g = c / (2 tan(theta)), mm; 0 when
    tight.
    """
    return max(0.0, clearance) / (2 * math.tan(theta))


def tail_end_width(diameter: float, pitch: float, height: float, theta: float) -> float:
    """Width of a tail at its end (the widest part), P - m, mm."""
    return pitch - mouth(diameter, height, theta)


def tail_root_width(diameter: float, pitch: float) -> float:
    """Width of a tail at its root (the narrowest part), P - D, mm."""
    return pitch - diameter


def rod_factor(theta: float) -> float:
    """k = 1 + sec(theta) + tan(theta): what a rod of diameter d adds, d k, in a dovetail's corner.

    The 1 + cot(alpha / 2) of Machinery's Handbook, "Measuring dovetail slides", with alpha = 90 deg
    - theta.
    """
    return 1 + 1 / math.cos(theta) + math.tan(theta)


def between_rods(wide: float, rod: float, theta: float) -> float:
    """Width between two rods in the corners of a slot whose wide floor is `wide`, y = b
    - d k, mm.
    """
    return wide - rod * rod_factor(theta)


def over_rods(narrow: float, rod: float, theta: float) -> float:
    """Width over two rods at the root of a tail whose narrow root is `narrow`, x = a + d k, mm."""
    return narrow + rod * rod_factor(theta)


def theta_from_rods(rod1: float, width1: float, rod2: float, width2: float) -> float:
    """Side angle in radians from one dovetail measured over two sizes of rods.

    k = (x1 - x2) / (d1 - d2), theta = 2 atan(k - 1) - 90 deg. Raises `Refused` for equal rods.
    """
    if rod1 == rod2:
        raise Refused(
            "bad-reading",
            "two rods of {rod1} cannot give an angle",
            "use two different rod sizes",
            rod1=Mm(rod1),
        )
    k = (width1 - width2) / (rod1 - rod2)
    return 2 * math.atan(k - 1) - math.pi / 2


def seat_depth_taken(clearance: float, round_end: float) -> float:
    """How far past the bit's centre line the tails' corners go, sqrt(round_end * c), mm; 0 when
    tight.

    round_end: radius r of the socket's end where it decides: D / 2 with a rabbet cut by the same
    bit, m / 2 with one cut by a straight bit. A corner r - c / 2 off the centre line meets the arc
    sqrt(r^2 - (r - c / 2)^2) = sqrt(r c - c^2 / 4) past the centre; c^2 / 4 (0.001 mm) is left out.
    """
    return math.sqrt(max(0.0, round_end * clearance))


def step(
    tail_thickness: float,
    rabbet: float,
    rise: float,
    socket_depth: float,
    clearance: float,
    round_end: float,
) -> float:
    """How proud the tail board stands of the pin board's end, mm.

    step = T - rabbet + rise - s - sqrt(round_end * c); rise is h tan(theta) with a rabbet cut by
    the same bit (the corner at the tail's end decides) and 0 with a straight bit.
    """
    return tail_thickness - rabbet + rise - socket_depth - seat_depth_taken(clearance, round_end)


def least_rabbet(clearance: float, round_end: float) -> float:
    """The shallowest rabbet that still clears the sockets' round ends, r - sqrt(r c), mm."""
    return round_end - seat_depth_taken(clearance, round_end)


def slope_clearance_height(theta: float) -> float:
    """dc/dh = -2 tan(theta): raising the bit tightens."""
    return -2 * math.tan(theta)


def slope_clearance_angle(height: float, theta: float) -> float:
    """dc/dtheta = -2 h sec^2(theta), mm per radian."""
    return -2 * height / math.cos(theta) ** 2
