"""How to cut a test piece so that it shows fit, seat and centre at once."""

from __future__ import annotations

from collections.abc import Sequence

from ...advice.cautions import LEAST_LENGTH
from ...domain import Aspect, Plan, Remark, Settings, remark
from . import figures
from .geometry import mouth
from .names import CENTRE, DEPTH, FENCE, HEIGHT, SEAT
from .plan import dovetail

# Cautions that stand in the step they belong to.
STAND_SQUARE, DRAW_BACK = remark("stand-square"), remark("draw-back")


def recipe(
    plan: Plan, settings: Settings, shown_by: str | None = None, asked: Sequence[Aspect] = ()
) -> tuple[Remark, ...]:
    """Return the steps of one test piece at these settings, no more of them than it is cut for.

    shown_by: how it shows the centre, "walls", "turn" or "" not at all (`Advice.shown_by`); None:
    by the walls, then by turning it.  asked: the aspects that it is cut for, () for all in play.
    """
    x = settings.on_scale(plan.machine)[FENCE]
    wanted, turned = {*(asked or plan.in_play)}, CENTRE in plan.in_play and shown_by != ""
    if wanted == {CENTRE}:
        steps: tuple[Remark, ...] = (STAND_SQUARE, remark("cut-one-pass", fence=x))
    elif SEAT in wanted:
        steps = _joint(plan, settings, turned=turned)
    else:
        passes = remark("cut-passes", first=x + dovetail(plan).pitch, then=x)
        scrap = remark("cut-fit-scrap", fence=x)
        steps = (STAND_SQUARE, passes, scrap, remark("try-joint", seat=False, turn=turned))
    if not turned:
        return steps
    if shown_by == "turn":
        return (*steps, remark("turn-piece", fence=x, most=None))
    turn = remark("turn-piece", fence=x, most=figures.MOST_SHAVING)
    return (*steps, remark("measure-walls", fence=x), turn)


def _joint(plan: Plan, settings: Settings, *, turned: bool) -> tuple[Remark, ...]:
    """The steps of a whole joint, which shows fit and seat. turned: it may be turned then."""
    dial, depth, pitch = settings.on_scale(plan.machine), settings[DEPTH], dovetail(plan).pitch
    gap = mouth(plan.bit.diameter, settings[HEIGHT], plan.bit.theta)
    return (
        remark(
            "cut-tail-piece",
            width=plan.figures()["width"],
            thickness=plan.figures()["thickness"],
            rabbet=dovetail(plan).rabbet_depth,
            height=settings[HEIGHT],
            over=figures.RABBET_OVER,
            same=dovetail(plan).rabbet_bit == "same",
        ),
        STAND_SQUARE,
        remark("cut-passes", first=dial[FENCE] + pitch, then=dial[FENCE]),
        remark(
            "cut-pin-strip",
            width=round(pitch + gap - 2),
            fence=dial[FENCE],
            height=dial[HEIGHT],
            depth=depth,
            deepest=depth + gap / 2,
        ),
        DRAW_BACK,
        remark("try-joint", seat=True, turn=turned),
    )


def least_width(plan: Plan) -> float:
    """Width below which the recipe's two slots and their wall don't fit, 2 (P + D / 2 +
    wall), mm.
    """
    return 2 * (dovetail(plan).pitch + plan.bit.diameter / 2 + figures.LEAST_WALL)


def test_stock(plan: Plan, first: Settings, pieces: int) -> tuple[Remark, ...]:
    """Return the scraps to prepare for so many test pieces, two ends of each to be used: of tail
    stock, and where the seat is tried of pin stock in full width. first: the first piece's
    settings.
    """
    figures_, seat = plan.figures(), SEAT in plan.in_play
    size = {"width": figures_["width"], "length": LEAST_LENGTH}
    alone = seat or set(plan.in_play) == {CENTRE}
    ends = pieces if alone else 2 * pieces  # the fit alone shows in two ends
    rabbet = dovetail(plan).rabbet_depth if seat else None
    tails = remark(
        "stock-tail",
        count=-(-ends // 2),
        ends=ends,
        **size,
        thickness=figures_["thickness"],
        rabbet=rabbet,
        low=first[HEIGHT],
        high=first[HEIGHT] + figures.RABBET_OVER,
    )
    if not seat:
        return (tails,)
    count = -(-pieces // 2)
    pins = remark("stock-pin", count=count, ends=pieces, **size, thickness=plan.pin_thickness)
    return (tails, pins)
