"""Geometry of housings: closed forms only. Lengths mm.

b: the bit; d: the second pass, further out; t: the sheet; x1: the bit's axis at the first pass from
the side's reference edge; z: the depth; h: a rabbet on the shelf's end.
"""

from __future__ import annotations


def play(bit: float, second: float, sheet: float) -> float:
    """Play of the sheet, c = b + d - t, mm; below 0 interference."""
    return bit + second - sheet


def tongued(bit: float, thickness: float, rabbet: float) -> float:
    """Play of a shelf whose end is rabbeted to a tongue, in a housing of one pass, c = b - (T - h),
    mm.
    """
    return bit - (thickness - rabbet)


def near_wall(first: float, bit: float) -> float:
    """The wall nearer to the reference edge, x1 - b/2, mm, which the second pass does not move."""
    return first - bit / 2


def far_wall(first: float, bit: float, second: float) -> float:
    """The other wall, x1 + b/2 + d, mm."""
    return first + bit / 2 + second


def shelf_length(clear: float, depth: float) -> float:
    """Length of a shelf between two sides, its clear width and both depths, mm."""
    return clear + 2 * depth


def spacer(sheet: float, bit: float, play: float) -> float:
    """The block that moves the bit on for the second pass, d = t - b + c, mm."""
    return sheet - bit + play
