"""Boards of other widths and thicknesses from one set-up: its bit, height and pitch stay. Lengths
mm.

    fence   a cut lies where it did from the middle of the board: the offset of the middle is W / 2
            and the zero, known as well as before
    depth   step = T - rabbet + ... - s: the socket's depth goes with the tail board's thickness,
            1:1, the rabbet stays
    lap     T_pin - h
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from ....domain import Settings, adjuster
from ....errors import Clause, Least, Mm, Most, Refused
from ....language.units import Ruler, counted
from ...boards import Batch
from .. import figures
from ..limits import height_limit, limit
from ..names import DEPTH, HEIGHT
from ..opening import check_wood
from ..plan import DovetailPlan
from .candidates import Asked, Reach
from .corners import HANDS, Depth
from .finding import Found, find
from .laid import layout_for
from .layout import MOST_EDGE_PASSES, Layout, fitting_tails, regular

_SAME = 1e-6
_SURE = 1e-3  # mm, sd of a height that was tuned: it will not be moved


@dataclass(frozen=True, slots=True)
class Miss:
    """How far a width misses tails and pins alike. The next widths that take the pitch, with their
    numbers of tails; None: no narrower one does.
    """

    narrower: tuple[float, int] | None
    wider: tuple[float, int]


@dataclass(frozen=True, slots=True)
class Width:
    """What a set-up's pitch gives on one width: the best layout of each number of tails, that of
    the set-up's own kind and best first. miss: None where tails and pins alike go.
    """

    width: float
    found: tuple[Layout, ...]
    miss: Miss | None


@dataclass(frozen=True, slots=True)
class Taking:
    """Which widths take a set-up's pitch. number: of the set-up; settings: for its real boards,
    true mm.
    """

    number: int
    plan: DovetailPlan
    settings: Settings
    widths: tuple[Width, ...]


def taken(number: int, plan: DovetailPlan, settings: Settings, widths: Sequence[float]) -> Taking:
    """Return which widths take the pitch of a set-up."""
    height, own = settings[HEIGHT], own_layout(plan, settings)
    wide = own is not None and own.wide
    found = []
    for width in widths:
        same = abs(width - plan.board_width) < _SAME
        one = plan if same else replace(plan, board_width=width, tails=None, spacing=None)
        best = sorted(layouts_on(one, height), key=lambda each: each.layout.wide != wide)
        counts = dict.fromkeys(
            [*([own.tails] if own and same else []), *(each.layout.tails for each in best)]
        )
        layouts = tuple(layout_on(plan, one, settings, tails) for tails in counts)
        found.append(Width(width, layouts, None if _alike(one, height) else miss(one, height)))
    return Taking(number, plan, settings, tuple(found))


def own_layout(plan: DovetailPlan, settings: Settings) -> Layout | None:
    """Return the layout of a set-up's own boards, None where it has none."""
    try:
        return layout_for(plan, settings, None)
    except Refused:
        return None


def plan_for(plan: DovetailPlan, settings: Settings, batch: Batch) -> DovetailPlan:
    """Return the plan of a set-up's other boards, the first of each thickness.

    Raises Refused: no-lap, rabbet-too-deep, shallow-socket and what `check_wood` does, where the
    set-up's height or rabbet is none for one of them.
    """
    width = batch.width or plan.board_width
    thick = batch.thicknesses or (plan.tail_thickness,)
    pins = batch.pin_thicknesses or (plan.pin_thickness,)
    own = abs(width - plan.board_width) < _SAME
    kept = (plan.tails, plan.spacing) if own else (None, None)
    found = [
        replace(
            plan,
            board_width=width,
            tail_thickness=tail,
            pin_thickness=pin,
            tails=kept[0],
            spacing=kept[1],
        )
        for pin in pins
        for tail in thick
    ]
    for one in found:
        _check(one, settings, plan)
    return found[0]


def _check(one: DovetailPlan, settings: Settings, plan: DovetailPlan) -> None:
    check_wood(one)
    height, most = settings[HEIGHT], height_limit(one)
    if height > most.high + 1e-6:
        raise Refused(
            "no-lap",
            "a bit height of {height:.2f} and a lap of {lap}, the least that holds, are more than "
            "a pin board of {pin_thickness}",
            "take pin boards of {thickest:.2f} or more, or a set-up of their own: fitlog start",
            height=Mm(height),
            lap=Mm(figures.LEAST_LAP),
            pin_thickness=Mm(one.pin_thickness),
            thickest=Least(math.ceil((height + figures.LEAST_LAP) * 100 - 1e-6) / 100),
        )
    depth = depth_for(plan, settings, one.tail_thickness)
    least = limit(one, DEPTH).low
    if depth < least:
        raise Refused(
            "shallow-socket",
            "a tail board of {thickness} would sit in a socket {depth:.2f} deep, and {least} is "
            "the least that holds a tail",
            "take thicker tail boards, or a set-up of their own with a shallower rabbet",
            thickness=Mm(one.tail_thickness),
            depth=Mm(depth),
            least=Mm(least),
        )


def depth_for(plan: DovetailPlan, settings: Settings, thickness: float) -> float:
    """Return the socket depth for tail boards of another thickness, mm."""
    return settings[DEPTH] + thickness - plan.tail_thickness


def depths_for(
    plan: DovetailPlan, settings: Settings, thicknesses: Sequence[float]
) -> tuple[Depth, ...]:
    """Return the socket depth for each thickness: the left tail boards', then the right ones'."""
    both = thicknesses or (plan.tail_thickness,)
    if len(set(both)) == 1:
        return (Depth(both[0], depth_for(plan, settings, both[0])),)
    return tuple(
        Depth(thick, depth_for(plan, settings, thick), (hand,))
        for thick, hand in zip(both, HANDS, strict=True)
    )


def layouts_on(
    plan: DovetailPlan, height: float, *, tails: int | None = None, wide: bool | None = None
) -> list[Found]:
    """Return the layouts of the plan's pitch on its width at a height that is tuned, best first;
    none where there are none.
    """
    fence, bit = adjuster(plan.machine, "fence"), plan.bit
    reach = Reach(bit, height_limit(plan), plan.pitch, lambda _, __: (height, _SURE))
    asked = Asked(
        plan.board_width,
        # The set-up's own rabbet was checked.
        max(plan.tail_thickness, bit.diameter / 2 + figures.LEAST_STRAIGHT_TAIL),
        plan.pin_thickness,
        figures.LEAST_HALF_PIN,
        fence.step if fence.coarse else None,
        tails,
        plan.pitch,
        wide=wide,
        mark=plan.machine.step("fence") if plan.machine and not plan.spaced else None,
    )
    try:
        return find([reach], asked, Ruler())
    except Refused:
        return []


def layout_on(
    own: DovetailPlan, plan: DovetailPlan, settings: Settings, tails: int | None
) -> Layout:
    """Return the layout of a set-up's boards. own, plan: its own, and with these boards' sizes;
    tails: how many; None: as the set-up says, or of another width as the best layout of the
    set-up's own kind has.

    Raises Refused: no-layout.
    """
    if abs(plan.board_width - own.board_width) < _SAME:
        return layout_for(plan, settings, tails)
    height, like = settings[HEIGHT], own_layout(own, settings)
    wide = None if like is None else like.wide
    found = layouts_on(plan, height, tails=tails, wide=wide)
    if not found and (tails or wide):
        found = layouts_on(plan, height, tails=tails)
    if found:
        return found[0].layout
    if tails is not None or _alike(plan, height):
        return layout_for(plan, settings, tails)
    other = layouts_on(plan, height)
    raise Refused(
        "no-layout",
        "a pitch of {pitch:.2f} gives no tails and pins alike on a board {width} wide: {miss}",
        "take such a width, or wide tails with --tails {tails}"
        if other
        else "take such a width, or a set-up with another pitch: fitlog plan",
        pitch=Mm(plan.pitch),
        width=Mm(plan.board_width),
        miss=told_miss(miss(plan, height)),
        tails=other[0].layout.tails if other else 0,
    )


def _alike(plan: DovetailPlan, height: float) -> bool:
    """Whether tails and pins alike go on the plan's width."""
    least = figures.LEAST_HALF_PIN
    return bool(fitting_tails(plan.bit, height, plan.board_width, plan.pitch, least))


def told_miss(found: Miss) -> Clause:
    """Return a miss as a part of a sentence."""
    wide, tails = found.wider
    if found.narrower is None:
        return Clause("{wide} takes {tails}", wide=Least(wide), tails=counted(tails, "tail"))
    narrow, fewer = found.narrower
    return Clause(
        "{narrow} takes {fewer}, {wide} takes {tails}",
        narrow=Most(narrow),
        fewer=fewer,
        wide=Least(wide),
        tails=counted(tails, "tail"),
    )


def miss(plan: DovetailPlan, height: float) -> Miss:
    """Return the nearest widths, to a tenth of a millimetre inside, that take the pitch with tails
    and pins alike.
    """
    width = plan.board_width
    spans = list(_spans(plan, height))
    below = [(math.floor(high * 10) / 10, n) for n, (low, high) in spans if high < width]
    above = [(math.ceil(low * 10) / 10, n) for n, (low, high) in spans if low > width]
    return Miss(max(below, default=None), min(above))


def _spans(plan: DovetailPlan, height: float) -> Iterator[tuple[int, tuple[float, float]]]:
    """For each number of tails the widths from a least half-pin up to what the passes at an edge
    clear.
    """
    counts: Iterable[int] = range(1, int(plan.board_width // plan.pitch) + 3)
    for n in counts:
        one = regular(plan.bit, height, n * plan.pitch, n, plan.pitch)
        low = figures.LEAST_HALF_PIN - one.pin[0] / 2
        high = one.mouth / 2 + (MOST_EDGE_PASSES - 1) * one.step_of_passes
        if high >= low:
            yield n, (n * plan.pitch + 2 * low, n * plan.pitch + 2 * high)
