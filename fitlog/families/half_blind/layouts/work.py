"""What to do before each part of the real work, as remarks: marking, the rabbet, tail boards, pin
boards.

Common practice, no source, but for the geometry: which edge lies at the fence follows from feeding
right to left with the fence behind the work.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ....domain import Misfit, Remark, Settings, remark
from .. import figures
from ..plan import DovetailPlan
from ..tail import LastTail
from .corners import Depth
from .layout import Layout
from .stops import Stops, rabbet_passes


@dataclass(frozen=True, slots=True)
class RabbetPass:
    """One pass of the rabbet: what it takes and how deep it then is, mm; fence: on the user's
    scale, None: another bit.
    """

    takes: float
    depth: float
    fence: float | None


def rabbet(plan: DovetailPlan, found: Stops) -> tuple[RabbetPass, ...]:
    """Return the passes of the rabbet, from the same zero and rounded to the same steps as the
    stops.

    Cut with the same bit, its centre lies D / 2 - depth behind the fence's face.
    """
    face = (
        found.zero - found.layout.width / 2
    )  # what the scale shows with the bit's centre at the fence's face
    done, passes = 0.0, []
    for takes in rabbet_passes(plan.rabbet_depth):
        done += takes
        fence = (
            found.rounded(face + done - plan.bit.diameter / 2)
            if plan.rabbet_bit == "same"
            else None
        )
        passes.append(RabbetPass(takes, round(done, 6), fence))
    return tuple(passes)


def marking() -> tuple[Remark, ...]:
    """Which edge goes against the fence, for both ends and both hands."""
    return remark("mark-edges"), remark("mark-pins"), remark("mark-tails"), remark("mark-hands")


def before_rabbet(plan: DovetailPlan, settings: Settings) -> tuple[Remark, ...]:
    """How the rabbet on the back of the tails is taken off."""
    same = plan.rabbet_bit == "same"
    size = remark(
        "rabbet-size",
        depth=plan.rabbet_depth,
        length=settings["bit_height"],
        over=figures.RABBET_OVER,
        height=settings.on_scale(plan.machine)["bit_height"] if same else None,
    )
    return size, remark("rabbet-passes", same=same)


def before_tails(plan: DovetailPlan, layout: Layout, settings: Settings) -> tuple[Remark, ...]:
    """What to do before the tail boards' slots."""
    return (
        *_waste(layout, settings["bit_height"]),
        remark("tails-first", height=settings.on_scale(plan.machine)["bit_height"]),
        remark("open-edges", passes=len(layout.edge_passes)),
    )


def _waste(layout: Layout, height: float) -> tuple[Remark, ...]:
    """A straight bit first, where the slot is large enough and leaves room for one."""
    area, widest = height * (layout.bit.diameter + layout.mouth) / 2, layout.mouth - 1
    if area < figures.WASTE_FROM or widest < 3:
        return ()
    return (remark("waste-first", widest=widest, lower=0.5),)


def before_pins(layout: Layout, depths: Sequence[Depth]) -> tuple[Remark, ...]:
    """What to do before the pin boards' sockets. depths: for each thickness of tail boards."""
    stops = tuple(
        (d.hands[0] if len(depths) > 1 else "", d.thickness, d.depth, d.depth + layout.mouth / 2)
        for d in depths
    )
    lead = remark("pin-depth", stops=stops)
    if not layout.wide:
        return (lead,)
    apart = layout.spacing - layout.pitch
    return lead, remark("socket-passes", passes=len(layout.sockets[0]), apart=apart)


def last_tail(centre: Misfit | None, tail: LastTail | None) -> tuple[Remark, ...]:
    """What the set-up's centre does to the tail at the far edge.

    centre: what the log shows of its error, which the zero allows for; None where it is not in
    play.
    """
    told = remark(
        "last-tail",
        zero=None if centre is None else (centre.mean, centre.sd),
        tail=None if tail is None else ((tail.mean, tail.sd), tail.window, tail.chance),
    )
    return (told,)


def smaller(tail: LastTail | None, walls_sd: float, fit_sd: float) -> tuple[Remark, ...]:
    """What makes the last tail surer. walls_sd, fit_sd: what one more reading of each is
    worth, mm.
    """
    if tail is None:
        return ()
    found, walls = [], tail.with_(walls_sd)
    if walls.chance > tail.chance + 0.02:
        found.append(remark("walls-help", chance=walls.chance))
    both = tail.with_(walls_sd, fit_sd)
    if both.chance > walls.chance + 0.02:
        found.append(remark("gap-helps", chance=both.chance))
    if tail.centre_sd > walls_sd:
        found.append(remark("gauge-tails"))
    if abs(tail.rounded) > (tail.window[1] - tail.window[0]) / 2:
        found.append(remark("shim-edge", rounded=tail.rounded))
    return tuple(found)


def rounding(found: Stops, half: float, known: bool) -> tuple[Remark, ...]:
    """What rounding to the fence's step does.

    half: half the window of play that is good, mm.  known: the step is the machine's own.
    """
    told = remark(
        "stops-rounded",
        step=found.step if known else None,
        largest=found.largest_error,
        lost=found.play_lost,
        spoils=abs(found.play_lost) > half,
    )
    return (told,)
