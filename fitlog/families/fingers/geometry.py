"""Geometry of box joints: closed forms only. Lengths mm.

w: width of a slot as cut; g: the key gap, from the key's near face to the near side of the slot;
k: the key's width; t: the starter, between the key and the second board's edge; P: from a finger to
the next, by steps of the fence; b: the bit; d: a second pass, further out; u: sd of one step.
"""

from __future__ import annotations

import math


def play_on_key(slot: float, gap: float) -> float:
    """Play of fingers pressed toward the key each time, c = w - g, mm; below 0 interference."""
    return slot - gap


def play_off_key(slot: float, gap: float, key: float) -> float:
    """Play of a finger but the first of a board, pressed toward the cutter each time, c = 2 w - g -
    k, mm.

    The second board's first slot is open at its edge, so that nothing can be pressed toward the
    cutter there: its first finger is g wide, and the joint as a whole has the play w - g.
    """
    return 2 * slot - gap - key


def finger(slot: float, gap: float, key: float | None = None) -> float:
    """Width of a finger, mm: g; pressed toward the cutter (a key is given) g + k - w."""
    return gap if key is None else gap + key - slot


def edge(slot: float, gap: float, starter: float) -> float:
    """How far the second board's edge lies inside, the play halved, e = t - (w + g) / 2, mm."""
    return starter - (slot + gap) / 2


def creep(slot: float, key: float, pushes: int) -> float:
    """How far the fingers of one board run ahead of the other's, (w - k) times the pushes toward
    the cutter that one had more, mm.
    """
    return (slot - key) * pushes


def play_by_steps(bit: float, second: float, pitch: float) -> float:
    """Play with steps of the fence, c = 2 (b + d) - P, mm."""
    return 2 * (bit + second) - pitch


def loss_on_key(fingers: int, step_sd: float) -> float:
    """What errors of the steps take from the play of a whole joint on a key, where they add up:
    (2.26 sqrt(n) - 1.8) u, mm.
    """
    return max(0.0, 2.26 * math.sqrt(fingers) - 1.8) * step_sd


def loss_by_steps(fingers: int, step_sd: float) -> float:
    """The same with absolute steps of the fence, which do not add up: (1.6 ln n + 0.6) u, mm."""
    return (1.6 * math.log(fingers) + 0.6) * step_sd


def width_alike(fingers: int, slot: float, play: float) -> float:
    """Width of a board that begins and ends with a finger, W = q (2 w - c) + w - c, mm; fingers: of
    that board, q + 1.
    """
    return (fingers - 1) * (2 * slot - play) + slot - play


def width_opposite(fingers: int, slot: float, play: float) -> float:
    """Width of a board that begins with a finger and ends with a slot, W = q (2 w - c), mm."""
    return fingers * (2 * slot - play)


def out_of_square(thickness: float, angle: float) -> float:
    """What a cutter out of square by an angle, radians, takes from the play, T tan(phi), mm."""
    return thickness * math.tan(angle)
