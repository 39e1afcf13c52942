"""How to cut a test piece of a half-blind dovetail, in English."""

from __future__ import annotations

from typing import Any

from ....language.english.care import same, scraps
from ....language.saying import Sentence, Tongue

# Along a socket's far wall the way back runs with the cutter.
DRAW_BACK = (
    "The way back runs with the cutter: with a foot or knee switch hold the board still, switch "
    "off, wait until the bit stands, then draw it back; without one draw it straight back with "
    "both hands on it and no side pressure, and never take a hand off to reach a switch."
)

STAND_SQUARE = (
    "Whatever stands on end: against the fence, held upright by a square block, a backer behind "
    "it, right through and on past the bit."
)


def tail_piece(
    t: Tongue,
    *,
    width: float,
    thickness: float,
    rabbet: float,
    height: float,
    over: float,
    same: bool,
) -> str:
    """The tail piece and its rabbet. over: what the rabbet of a test end may be longer, mm."""
    return (
        f"Tail piece: {t.size(width)} wide, {t.size(thickness)} thick; first rabbet its end "
        f"{t.length(rabbet)} deep and {t.length(height)} long with "
        f"{'this bit' if same else 'a straight bit'}; up to {t.length(over)} longer is as good, so "
        "rabbet all your test ends at once."
    )


def tail_piece_short(t: Tongue, *, height: float, over: float, **_: object) -> str:
    """The rabbet that a test end has to have."""
    return f"Rabbet {t.length(height)}, +0 to {t.length(over)}."


def passes(t: Tongue, *, first: float, then: float) -> str:
    """The two passes on end, on the user's scale, mm."""
    return (
        f"On end: a pass at {t.length(first)}, right through and on past the bit, then one at "
        f"{t.length(then)} (go in past it and come out to it), the same edge to the fence."
    )


def passes_short(t: Tongue, *, first: float, then: float) -> str:
    """The two passes on end."""
    return f"On end {t.ruler.length(first, bare=True)}, then {t.length(then)}, same edge."


def one_pass(t: Tongue, *, fence: float) -> str:
    """The one pass that shows the centre alone."""
    return f"On end: one pass at {t.length(fence)}; only the centre is still to be shown."


def pin_strip(
    t: Tongue, *, width: float, fence: float, height: float, depth: float, deepest: float
) -> str:
    """The socket and its strip. deepest: what a caliper reads, mm."""
    return (
        "Socket: flat, inside face down, in a scrap as wide as the board, the fence at "
        f"{t.length(fence)} and the bit at {t.length(height)}: one socket {t.length(depth)} deep, "
        "from the end to the bit's centre (a caliper to the deepest point of its mouth reads "
        f"{t.length(deepest)}). Afterwards saw out a strip about {t.size(width)} wide with the "
        "socket in its middle: nothing small is held at the bit."
    )


def pin_strip_short(t: Tongue, *, width: float, fence: float, deepest: float, **_: object) -> str:
    """The socket and its strip."""
    return (
        f"Flat: a socket at {t.length(fence)}, its mouth {t.length(deepest)} deep; straight back, "
        f"both hands; saw out a {t.size(width)} strip."
    )


def fit_scrap(t: Tongue, *, fence: float) -> str:
    """What shows the fit alone."""
    return (
        f"In another scrap, on end too: one pass at {t.length(fence)}. For the fit alone neither "
        "needs a rabbet."
    )


def try_it(_: Tongue, *, seat: bool, turn: bool) -> str:
    """The joint is tried. turn: one may follow."""
    what = "fit and seat" if seat else "the fit"
    return f"Try the joint: judge {what}{' now, before a turn widens the slot' if turn else ''}."


def try_short(_: Tongue, *, seat: bool, turn: bool) -> str:
    """What is judged."""
    return f"Judge {'fit and seat' if seat else 'the fit'}{' before any turn' if turn else ''}."


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
        f"down), mark the edge now at the fence, and pass again at {t.length(fence)}, holding it "
        "in (the pass pushes it off the fence): the shaving, far or near, shows the centre."
    )


def turn_short(t: Tongue, *, fence: float, most: float | None) -> str:
    """The turn, where the piece is to be turned; the walls say all where they come first."""
    if most is not None:
        return ""
    return (
        "Turn it, the same end down, mark the edge now at the fence, hold it in and pass again at "
        f"{t.length(fence)}."
    )


def walls(t: Tongue, *, fence: float) -> str:
    """The two walls are measured."""
    return (
        f"Before any turn measure the two walls beside the slot at {t.length(fence)}, the one at "
        f"the fence and the far one ({t.act('walls', them='')}): half their difference is the "
        "error of the centre. No second pass is needed, and one may catch the wall at the fence "
        "and snatch."
    )


def walls_short(t: Tongue, *, fence: float) -> str:
    """The two walls are measured."""
    return (
        "No second pass: it may snatch at the wall by the fence. Measure both walls at "
        f"{t.length(fence)} ({t.act('walls', them='')})."
    )


def tail_stock(t: Tongue, *, rabbet: float | None, low: float, high: float, **given: Any) -> str:
    """Tail scraps. rabbet: its depth; low, high: its length, mm."""
    told = scraps(t, what="tail ", **given)
    if rabbet is None:
        return f"{told}; no rabbet."
    long = f"{t.length(low)} to {t.length(high)}"
    return f"{told}: rabbet them all at once, {t.size(rabbet)} deep and {long} long."


def pin_stock(t: Tongue, **given: Any) -> str:
    """Pin scraps in full width."""
    return (
        f"{scraps(t, what='pin ', **given)}: a socket in the middle of each, and its strip sawn "
        "out afterwards."
    )


SENTENCES: dict[str, Sentence] = {
    "stock-tail": tail_stock,
    "stock-pin": pin_stock,
    "cut-tail-piece": tail_piece,
    "cut-passes": passes,
    "cut-one-pass": one_pass,
    "cut-fit-scrap": fit_scrap,
    "cut-pin-strip": pin_strip,
    "stand-square": same(STAND_SQUARE),
    "draw-back": same(DRAW_BACK),
    "try-joint": try_it,
    "measure-walls": walls,
    "turn-piece": turn,
}
SHORT: dict[str, Sentence | None] = {
    "stand-square": None,
    "draw-back": None,
    "cut-tail-piece": tail_piece_short,
    "cut-passes": passes_short,
    "cut-pin-strip": pin_strip_short,
    "try-joint": try_short,
    "measure-walls": walls_short,
    "turn-piece": turn_short,
}
