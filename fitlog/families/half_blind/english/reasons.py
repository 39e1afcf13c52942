"""Where the settings of a half-blind dovetail come from, and by what they are settled, in
English.
"""

from __future__ import annotations

from ....language.english import advice
from ....language.saying import Sentence, Tongue
from ....language.units import counted
from . import recovery

Spread = tuple[float, float]  # a mean and one standard deviation


def height_from(t: Tongue, **given: object) -> str:
    """The first height: of a set-up, or of one that is recovered."""
    told: Sentence = recovery.height if "figures" in given else _first_height
    return told(t, **given)


def _first_height(
    t: Tongue,
    *,
    bit: tuple[float, float, str, Spread, Spread | None],
    pitch: float,
    same: int | None,
    taught: int,
    sd: float,
) -> str:
    stops = f" (that of set-up {same}: the stops can stay)" if same is not None else ""
    return (
        f"Bit height: from the geometry of {_bit(t, *bit)} and a pitch of {t.size(pitch)}{stops}"
        f"{_learnt(taught)}; the clearance is known to +-{t.ruler.doubt(sd)}."
    )


def _bit(
    t: Tongue,
    diameter: float,
    angle: float,
    state: str,
    size: Spread,
    turned: Spread | None,
) -> str:
    """The bit with its figures as they are taken. turned: the angle as learnt, where set-ups spoke
    of the bit; then size is the diameter as learnt, else the error of such bits.
    """
    name = f"a {t.size(diameter)} bit at {angle:g} deg"
    if turned is not None:
        return f"{name} that cuts like {t.spread(size)} and {turned[0]:.2f} +- {turned[1]:.2f} deg"
    under = "" if state == "measured" else f"; such bits run {t.length(-size[0])} under"
    return f"{name} ({recovery.STATE[state]}{under}, +-{t.ruler.doubt(size[1])})"


def _learnt(taught: int) -> str:
    return f", corrected by {counted(taught, 'earlier set-up')}" if taught else ""


def fence_from(t: Tongue, *, taught: int, sd: float, remembered: bool) -> str:
    """The first fence offset."""
    outside = (
        "where it was good"
        if remembered
        else "a little too far out so that the shaving falls on the far wall"
    )
    return (
        f"Fence offset: half the piece's width{_learnt(taught)}, known to +-{t.ruler.doubt(sd)}, "
        f"{outside}. Measure it: to the far edge of the tip it is half the bit's diameter more."
    )


def depth_from(t: Tongue, *, rabbet: float, same: bool, taught: int, sd: float) -> str:
    """The first socket depth."""
    which = "the same bit" if same else "a straight bit"
    return (
        f"Socket depth: from the board's thickness and a rabbet of {t.size(rabbet)} cut with "
        f"{which}{_learnt(taught)}, at the clearance that is aimed at; known to "
        f"+-{t.ruler.doubt(sd)}."
    )


def one_piece(_: Tongue, *, way: str) -> str:
    """How the next piece shows all that is open. way: "turn" or "walls" for the centre, "fit" where
    the fit alone is open.
    """
    if way == "fit":
        return (
            "Piece: only the fit is open; two scraps on end in their carrier show it as well, two "
            "passes a pitch apart in one and a single pass in the other."
        )
    turn = (
        "only then the turn and the second pass, which widens the slot"
        if way == "turn"
        else "then measure the two walls beside the cut instead of turning it"
    )
    return f"Piece: one shows all that is open: two passes, the socket, judge fit and seat; {turn}."


def fit_held(_: Tongue) -> str:
    """A gap that no setting cures holds the bit."""
    return "Fit: the bit stays where it is until the gap is cured."


def centre_settled(t: Tongue, *, way: str, chance: float, **more: object) -> str:
    """By what the centre is settled."""
    if way != "nearest":
        return advice.settled(t, way=way, chance=chance, **more)  # type: ignore[arg-type]
    return (
        f"Centre: as well known as words tell it ({chance:.0%}); the two walls measured would "
        "tell more."
    )


def seat_settled(t: Tongue, *, way: str, chance: float, off: float | None, **more: object) -> str:
    """By what the seat is settled. off: of what is wanted, mm, as near as a coarse stop goes."""
    if off is None:
        return advice.settled(t, way=way, chance=chance, **more)  # type: ignore[arg-type]
    much, (way, side) = t.length(abs(off)), ("proud", "behind") if off > 0 else ("shy", "before")
    return (
        f"Seat: as near as this stop goes, {much} {way} of what is wanted, {chance:.0%}; "
        f"a shim of {much} {side} the stop cures it."
    )


SENTENCES: dict[str, Sentence] = {
    "height-from": height_from,
    "fence-from": fence_from,
    "depth-from": depth_from,
    "one-piece": one_piece,
    "fit-held": fit_held,
    "centre-settled": centre_settled,
    "seat-settled": seat_settled,
}
NAMES = {
    "fit head": "Fit",
    "fit setting": "bit height",
    "fit misfit": "clearance",
    "fit figures": "sure enough at this depth",
    "fit figures before": "by the bit's figures",
    "fit goes": "the bit goes {way}",
    "fit stays": "the bit stays",
    "fit zero of": "height",
    "fit to measure": "how high the bit really stands above the table",
    "centre head": "Centre",
    "centre setting": "fence offset",
    "centre misfit": "centre error",
    "centre figures": "known well enough, whatever mark the fence stands on",
    "centre figures before": "by how well the fence is known",
    "centre goes": "the fence goes {way}",
    "centre stays": "the fence stays",
    "centre zero of": "fence",
    "centre to measure": "from the fence to the far edge of the bit's tip, and mark the edge of "
    "the board that touches the fence",
    "centre marked": " Mark the edge that touches the fence at the second pass.",
    "seat head": "Seat",
    "seat setting": "socket depth",
    "seat misfit": "step",
    "seat figures": "sure enough at this depth",
    "seat follows": "the new clearance moves the seat by itself",
    "seat goes": "the socket gets {way}",
    "seat stays": "the socket stays",
    "seat less": "it drops {by} once it fits",
    "seat more": "{by} higher at the tighter fit",
    "seat zero of": "depth stop",
    "seat to measure": "the socket's depth, from the board's end to the deepest point of its mouth",
}
