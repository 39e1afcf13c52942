"""What the printed sheet says in fewer words of the steps before each part, in English. What is
forbidden is said as fully as on the screen.
"""

from __future__ import annotations

from ....language.saying import Sentence, Tongue
from .recipe import DRAW_BACK


def _same(text: str) -> Sentence:
    return lambda _, **__: text


def open_edges(_: Tongue, *, passes: int) -> str:
    """How the edges are opened. passes: at each edge."""
    stops = "Stop 1" if passes < 2 else "Stops 1 and 2, on each edge stop 1 first,"
    return (
        f"{stops} with each edge to the fence in turn, the board turned about its upright axis. "
        "Never open the edge that lies away from the fence: there the bit would cut on its fence "
        "side, a climb cut with the work trapped. The pass pushes the board off the fence: hold "
        "it in."
    )


def rabbet(_: Tongue, *, height: float | None, **__: object) -> str:
    """How a tail board stands for its rabbet. height: of the bit, mm; None: a straight one."""
    if height is None:
        return "Rabbet with a straight bit, the depth by its own setting."
    return "For its rabbet a tail board stands on end, its inside face to the fence."


SHORT: dict[str, Sentence | None] = {
    "rabbet-size": rabbet,
    "tails-first": _same(
        "Tail boards first, on end, held upright by a square block, a backing board behind, right "
        "through and on past the bit."
    ),
    "open-edges": open_edges,
    "pin-depth": _same(f"Pin boards flat, inside face down; never lift one. {DRAW_BACK}"),
    "socket-passes": _same(
        "Each pass of a wide socket pushes the board off the fence: hold it in; the fence moves "
        "out only."
    ),
    "fence-out": _same(
        "For each part bring the fence in past the first position and come out to it; then it only "
        "moves out."
    ),
}
