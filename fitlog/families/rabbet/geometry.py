"""Geometry of rabbets: closed forms only. Lengths mm.

r: the exposure, how wide the rabbet is; z: its depth; t_m: the mate's thickness; t: the back's.
"""

from __future__ import annotations


def mate_proud(mate: float, exposure: float) -> float:
    """How far the mate in a corner rabbet stands proud of the side's end, t_m - r, mm."""
    return mate - exposure


def back_proud(back: float, depth: float) -> float:
    """How far a back in a rabbet stands proud of the side's edge, t - z, mm."""
    return back - depth
