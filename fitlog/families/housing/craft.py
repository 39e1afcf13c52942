"""The craft of a housing: see `advice.craft` for what each function promises."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ...advice.cautions import LEAST_LENGTH
from ...advice.decision import Decision
from ...advice.history import History
from ...advice.knowledge import Knowledge
from ...advice.notices import sizes
from ...domain import Aspect, Figures, Plan, Remark, Settings, remark
from ...errors import Mm, Refused
from .. import joint_of
from ..sheets.craft import (
    after,
    always,
    by_label,
    check_depth,
    check_slot,
    depth_from,
    from_below,
    of_moisture,
    printed,
    told_of,
)
from ..sheets.names import DEPTH, HEIGHT
from .names import FIT, SECOND, set_to
from .plan import housing

__all__ = [
    "again",
    "cautions",
    "check",
    "check_slot",
    "first_reason",
    "first_settings",
    "notices",
    "recipe",
    "start_at",
    "test_stock",
]

ON_A_SCRAP = 4  # housings side by side


def first_settings(plan: Plan, past: History, by: str = "") -> Settings:
    """A second pass for the play that is wanted, as deep as wanted; the sheet, which is the largest
    cause, is come up to from the narrow side.
    """
    joint = joint_of(plan, past.voices, by)
    base = printed(joint, set_to(0.0, housing(plan).depth))
    return from_below(plan, base, past, by)


def start_at(plan: Plan, past: History, by: str = "") -> float:
    """The second pass of the first piece, mm."""
    return first_settings(plan, past, by)[SECOND]


def check(plan: Plan, settings: Settings, changed: Mapping[str, float], sizes: Figures) -> None:
    """Refuse a pass that leaves a ridge or climbs, and a cut through the side."""
    check_depth(plan, settings, sizes)
    second, bit = settings[SECOND], plan.bit.diameter
    if second < 0:
        raise Refused(
            "beyond-limit",
            "a second pass {second:.2f} further in would climb",
            "move it further out only, away from the fence",
            second=Mm(-second),
        )
    if second > bit:
        raise Refused(
            "beyond-limit",
            "a second pass {second:.2f} further out leaves a ridge beside a {bit} bit",
            "check the unit: at most the bit itself",
            second=Mm(second),
            bit=Mm(bit),
        )


def first_reason(known: Knowledge, aspect: Aspect) -> Remark | None:
    """Where the first numbers come from."""
    plan = housing(known.joint.plan)
    if aspect == DEPTH:
        return depth_from(known, plan)
    bit, play = plan.bit.diameter, known.joint.window(FIT).middle
    return remark("housing-pass-from", FIT, bit=bit, play=play, **told_of(known, FIT, plan))


def recipe(
    plan: Plan, settings: Settings, shown_by: str | None = None, asked: Sequence[Aspect] = ()
) -> tuple[Remark, ...]:
    """First pass with place and depth, second pass, then the offcut of the sheet."""
    dial, wanted = settings.on_scale(plan.machine), {*(asked or plan.in_play)}
    return (
        remark("housing-scraps", thick=plan.figures()["thickness"], long=LEAST_LENGTH),
        remark("housing-first", height=dial[HEIGHT], read=DEPTH in wanted),
        remark("housing-second", second=settings[SECOND]),
        remark("housing-try"),
    )


def again(steps: tuple[Remark, ...], moves: Mapping[str, float]) -> tuple[Remark, ...]:
    """In the same slot there is nothing to prepare, and no first pass unless it goes deeper."""
    done = {"housing-scraps"} | ({"housing-first"} if abs(moves[HEIGHT]) < 1e-9 else set())
    return tuple(step for step in steps if step.code not in done)


def test_stock(plan: Plan, first: Settings, pieces: int) -> tuple[Remark, ...]:
    """Several housings go side by side on one scrap."""
    size = {name: plan.figures()[name] for name in ("width", "thickness")}
    count = -(-pieces // ON_A_SCRAP)
    return (remark("stock-housings", count=count, ends=pieces, **size, length=LEAST_LENGTH),)


def cautions(plan: Plan, moves: Mapping[str, float] | None) -> tuple[Remark, ...]:
    """The second pass only further out."""
    return always(plan, remark("second-out")) if moves is None else after(moves)


def notices(made: Decision) -> tuple[Remark, ...]:
    """A sheet by its label, an offcut of another moisture, and what other boards want."""
    return (*by_label(made), *of_moisture(made), *sizes(made))
