"""The real boards of a half-blind dovetail: which layouts a bit allows on them, and where the fence
goes for one.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from ...advice.history import History
from ...domain import Advice, Bit, Misfit, Remark, Settings, SetUp, adjuster, remark
from ...domain.standing import for_real_boards, standing, zero_error
from ...errors import Refused
from ...language.units import Ruler
from .. import joint_of, wood
from ..bits import of_the_bit
from ..boards import Batch, Wish
from ..moisture import Board, moisture_remarks
from . import cautions, figures
from .boards_told import alike, anew, doubts, far, unsure
from .last_tail import WALLS_SD, last_tail, read_fit_sd
from .layouts import Asked, Found, Layout, Reach, Stops, find, groove_of, stops
from .layouts import groove as bottom
from .layouts.boards_said import boards_said
from .layouts.corners import Boards, Depth
from .layouts.job import Job, Section
from .layouts.other import (
    Taking,
    depths_for,
    layout_on,
    plan_for,
    taken,
)
from .layouts.schedule import schedule
from .layouts.work import (
    before_pins,
    before_rabbet,
    before_tails,
    marking,
    rabbet,
    rounding,
    smaller,
)
from .layouts.work import last_tail as last_tail_line
from .limits import height_limit
from .moisture import plan_remarks
from .names import set_to
from .opening import check_wood, height_at, pitch_for, sensible_height
from .plan import DovetailPlan, dovetail, tail_count
from .tail import LastTail
from .typed import ANY_PITCH, HALF_PIN

_SHOWN = 6  # layouts, unless every one is wanted


__all__ = ["batch_of_boards", "boards_said", "planned", "real_boards", "taking"]
SIZES = {"half_pin": HALF_PIN, "pitch": ANY_PITCH, **bottom.SIZES}
MIDDLES = ("pin", "tail")
Learnt = Callable[[DovetailPlan], History]


@dataclass(frozen=True)
class Planned:
    """The layouts that were found, best first. more: how many are left out; notes: which bits are,
    and what the moisture does.
    """

    wish: Wish
    asked: Asked
    layouts: Sequence[Found]
    more: int
    notes: tuple[Remark, ...]


def planned(wish: Wish, learnt: Learnt, by: str, ruler: Ruler, *, every: bool = False) -> Planned:
    """See `families.boards.Boarded`."""
    asked, reaches, refusals = asked_by(wish), [], {}
    for bit in wish.bits:
        try:
            reaches.append(_reach(bit, wish, asked, learnt, by))
        except Refused as error:
            refusals[bit.name] = error
    if not reaches:
        raise next(iter(refusals.values()))
    out = (remark("bit-left-out", name=name, why=error.message) for name, error in refusals.items())
    found = find(reaches, asked, ruler)
    shown = found if every else found[:_SHOWN]
    notes = (*out, *remarks_on(wish, shown[0].layout))
    return Planned(wish, asked, shown, len(found) - len(shown), notes)


def asked_by(wish: Wish) -> Asked:
    """Return what a layout is asked for."""
    sizes, fence = wish.sizes, adjuster(wish.machine, "fence")
    width = sizes.get("width") or wish.stock.width
    tail = sizes.get("thickness") or wish.stock.thickness
    pin = sizes.get("pin_thickness") or wish.pin_stock.thickness
    return Asked(
        width,
        tail,
        pin,
        sizes.get("half_pin") or figures.LEAST_HALF_PIN,
        fence.step if fence.coarse else None,
        tail_count(wish.tails),
        sizes.get("pitch"),
        wish.middle,
        wish.wide,
        wish.machine.step("fence") if wish.machine and not wish.spaced else None,
        groove_of(sizes, width, min(tail, pin)),
    )


def remarks_on(boards: Wish, layout: Layout) -> tuple[Remark, ...]:
    """Return what the boards' moisture means for a layout."""
    tail, pin = (
        Board(s.species, s.sawn, wood.content_of(s)) for s in (boards.stock, boards.pin_stock)
    )
    play = figures.fit_window(layout.tails >= figures.MANY_TAILS_FROM).middle
    span = layout.spacing * (layout.tails - 1)
    return moisture_remarks(tail, pin, layout.width, span, play)


def _reach(bit: Bit, boards: Wish, asked: Asked, learnt: Learnt, by: str) -> Reach:
    """What a bit can do on these boards, by its figures and by what is remembered of it."""
    plan = DovetailPlan(
        bit,
        boards.stock,
        boards.pin_stock,
        boards.machine,
        pitch=2 * bit.diameter,
        board_width=asked.width,
        tail_thickness=asked.tail_thickness,
        pin_thickness=asked.pin_thickness,
        rabbet_depth=bit.diameter / 2,
        spaced=boards.spaced,
    )
    check_wood(plan)
    past = learnt(plan)
    limit, height = height_limit(plan), sensible_height(plan)

    def at(pitch: float, tails: int) -> tuple[float, float]:
        return height_at(
            replace(plan, pitch=pitch, many_tails=tails >= figures.MANY_TAILS_FROM), past, by
        )

    pitch = pitch_for(plan, height, past, 2, by)
    own = [t for t in joint_of(plan).terms("fit", set_to(height, 1.0, 1.0)) if of_the_bit(t)]
    taught = past.taught("fit", own)
    return Reach(bit, limit, pitch, at, taught)


def real_boards(setup: SetUp, advice: Advice, past: History, tails: int | None) -> Job:
    """See `families.boards.Boarded`."""
    return batch_of_boards(setup, advice, past, tails, Batch())


def batch_of_boards(
    setup: SetUp, advice: Advice, past: History, tails: int | None, batch: Batch
) -> Job:
    """See `families.boards.Boarded`. tails: None: as the set-up says, or as its pitch and width
    give.
    """
    tail_count(tails)
    own, tuned = dovetail(setup.plan), for_real_boards(setup, advice)
    centre, depths = zero_error(advice, tuned), depths_for(own, tuned, batch.thicknesses)
    plan = plan_for(own, tuned, batch) if batch.other else own
    settings = tuned.changed(
        fence_offset=tuned["fence_offset"] + (plan.board_width - own.board_width) / 2,
        socket_depth=depths[0].depth,
    )
    layout = layout_on(own, plan, settings, tails)
    zero = settings.on_scale(plan.machine)["fence_offset"] - (
        0.0 if centre is None else centre.mean
    )
    fence = plan.adjuster("centre")
    found = stops(layout, zero, fence.step if fence.coarse else None)
    tail = last_tail(setup, past, tuned, centre, found.last_tail)
    how, passes = standing(setup, advice), rabbet(plan, found)
    boards, thin = batch.boards, min(plan.tail_thickness, plan.pin_thickness)
    groove = groove_of(batch.sizes, plan.board_width, thin)
    return Job(
        replace(setup, plan=plan),
        advice.status,
        settings,
        (
            *doubts(how),
            *unsure(tail),
            *far(found),
            *alike(batch, plan),
            *(() if groove is None else [groove.told([layout])]),
            *plan_remarks(plan),
        ),
        (*cautions.FULL, cautions.speed(plan)),
        how,
        found,
        passes,
        _sections(plan, settings, found, centre, tail, read_fit_sd(setup), depths),
        None if centre is None else centre.sd,
        tail,
        depths,
        schedule(boards if isinstance(boards, Boards) else None, found, passes, depths),
        tuple(anew(setup, advice, how, found, batch)) if batch.other else (),
        groove,
        past,
    )


def taking(setup: SetUp, advice: Advice, widths: Sequence[float]) -> Taking:
    """See `families.boards.Boarded`."""
    return taken(setup.number, dovetail(setup.plan), for_real_boards(setup, advice), widths)


def _sections(
    plan: DovetailPlan,
    settings: Settings,
    found: Stops,
    centre: Misfit | None,
    tail: LastTail | None,
    read_sd: float,
    depths: Sequence[Depth],
) -> tuple[Section, ...]:
    half = joint_of(plan).window("fit").half
    known = plan.machine is not None and plan.machine.step("fence") is not None
    return (
        ("Mark the boards", marking()),
        (
            "The fence",
            (
                remark("fence-out"),
                *rounding(found, half, known),
                *last_tail_line(centre, tail),
                *smaller(tail, WALLS_SD, read_sd),
            ),
        ),
        ("Rabbet", before_rabbet(plan, settings)),
        ("Tail boards", before_tails(plan, found.layout, settings)),
        ("Pin boards", before_pins(found.layout, depths)),
    )
