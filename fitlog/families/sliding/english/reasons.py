"""Where the settings of a sliding dovetail come from, in English."""

from __future__ import annotations

from ....language.saying import Sentence, Tongue
from ....language.units import counted

Spread = tuple[float, float]  # a mean and one standard deviation


def exposure_from(
    t: Tongue,
    *,
    bit: tuple[float, float],
    run: Spread,
    learnt: tuple[Spread, Spread] | None,
    socket: float,
    taught: int,
    sd: float,
    at: float,
    thick: bool,
) -> str:
    """The first exposure. run: how such bits run; learnt: diameter and angle (deg) as learnt; at:
    the clearance that it is cut for, mm; thick: thicker than wanted on purpose.
    """
    name = f"a {t.size(bit[0])} bit at {bit[1]:g} deg"
    if learnt is not None:
        (size, turned), why = learnt, f", corrected by {counted(taught, 'earlier set-up')}"
        name += f" that cuts like {t.spread(size)} and {turned[0]:.2f} +- {turned[1]:.2f} deg"
    else:
        name += f" (such bits run {t.length(-run[0])} under)" if run[0] else ""
        why = f", corrected by {counted(taught, 'earlier set-up')}" if taught else ""
    aim = "so the first tongue is thicker on purpose, at" if thick else "and aimed at"
    return (
        f"Exposure: from {name} and a socket {t.length(socket)} high{why}; the clearance is known "
        f"to +-{t.ruler.doubt(sd)}, {aim} about {t.length(at)}: it can be cut again."
    )


def tongue_from(t: Tongue, *, short: float, taught: int, sd: float) -> str:
    """The first tongue height. short: by how much it is lower than the socket, mm."""
    learnt = f", corrected by {counted(taught, 'earlier set-up')}" if taught else ""
    return (
        f"Tongue height: {t.length(short)} less than the socket{learnt}, so that the shoulders "
        f"close; known to +-{t.ruler.doubt(sd)}."
    )


SENTENCES: dict[str, Sentence] = {"exposure-from": exposure_from, "tongue-from": tongue_from}
NAMES = {
    "fit head": "Fit",
    "fit setting": "exposure",
    "fit misfit": "clearance",
    "fit figures": "sure enough at this exposure",
    "fit figures before": "by the bit's figures",
    "fit follows": "the shoulder moves it too",
    "fit goes": "the bit stands out {way}",
    "fit stays": "the exposure stays",
    "fit more": "off the socket's floor it gains {by}",
    "fit less": "the tongue then stands on the floor, which takes {by}",
    "fit zero of": "exposure",
    "fit to measure": "how far the bit's tip really stands out of the fence",
    "shoulder head": "Shoulder",
    "shoulder setting": "tongue height",
    "shoulder misfit": "shoulder",
    "shoulder figures": "sure enough at this height",
    "shoulder figures before": "by the lift and the packing",
    "shoulder goes": "the tongue gets {way}",
    "shoulder stays": "the tongue stays",
    "shoulder zero of": "tongue height",
    "shoulder to measure": "the tongue from its shoulder to its end",
    "height part": "socket height",
    "tongue part": "tongue height",
    "exposure part": "exposure",
}
