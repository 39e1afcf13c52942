"""How to cut a test piece of a half-blind dovetail, in English."""

from __future__ import annotations

from ....language.saying import Sentence, Tongue


def tail_piece(
    t: Tongue, *, width: float, thickness: float, rabbet: float, height: float, same: bool
) -> str:
    """The tail piece and its rabbet."""
    return (
        f"Tail piece: {t.size(width)} wide, {t.size(thickness)} thick; first rabbet it "
        f"{t.length(rabbet)} deep and {t.length(height)} long with "
        f"{'this bit' if same else 'a straight bit'}."
    )


def passes(t: Tongue, *, first: float, then: float) -> str:
    """The two passes on end, on the user's scale, mm."""
    return (
        f"On end against the fence: a pass at {t.length(first)}, then one at {t.length(then)} (go "
        "in past it and come out to it), the same edge to the fence."
    )


def pin_strip(t: Tongue, *, width: float, height: float, depth: float, deepest: float) -> str:
    """The strip and its socket. deepest: what a caliper reads, mm."""
    return (
        f"Pin strip about {t.size(width)} wide, inside face down in a carrier: bit at "
        f"{t.length(height)}, one socket {t.length(depth)} deep, from the end to the bit's centre "
        f"(a caliper to the deepest point of its mouth reads {t.length(deepest)})."
    )


def try_it(_: Tongue) -> str:
    """The joint is tried before the turn."""
    return "Try the joint: judge fit and seat now, before the turn widens the slot."


def turn(t: Tongue, *, fence: float, most: float | None) -> str:
    """The turn. most: what the wall at the fence may be the thicker by, mm, where the walls come
    first.
    """
    lead = (
        "Turn"
        if most is None
        else "Only where the wall at the fence is the thicker one, by no more than "
        f"{t.length(most)}, you may also turn"
    )
    return (
        f"{lead} the tail piece about its upright axis (the other edge to the fence, the same end "
        f"down), mark the edge now at the fence, and pass again at {t.length(fence)}: the shaving, "
        "far or near, shows the centre."
    )


def walls(t: Tongue, *, fence: float) -> str:
    """The two walls are measured."""
    return (
        f"Before any turn measure the two walls beside the slot at {t.length(fence)}, the one at "
        f"the fence and the far one ({t.act('walls', them='')}): half their difference is the "
        "error of the centre. That is all it takes."
    )


SENTENCES: dict[str, Sentence] = {
    "cut-tail-piece": tail_piece,
    "cut-passes": passes,
    "cut-pin-strip": pin_strip,
    "try-joint": try_it,
    "measure-walls": walls,
    "turn-piece": turn,
}
