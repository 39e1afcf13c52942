"""The craft of a half-lap: see `advice.craft` for what each function promises."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from ...advice.decision import Decision
from ...advice.history import History
from ...advice.knowledge import Knowledge
from ...advice.notices import sizes
from ...domain import Aspect, Plan, Remark, Settings, remark
from ..flip.craft import after, always, check, height_from, raise_it, stop_from
from ..flip.figures import LAPPED
from ..flip.moisture import across, parts_remarks, scrap_remarks
from ..flip.names import FACES, HEIGHT, SHOULDER, STOP
from ..flip.opening import at_figures, height_at, thick_first
from .names import ONE_PART
from .plan import LapPlan, lap

__all__ = [
    "cautions",
    "check",
    "first_reason",
    "first_settings",
    "notices",
    "recipe",
    "start_at",
]


def _about(plan: LapPlan, past: History, by: str) -> Settings:
    """Settings by printed figures."""
    return at_figures(plan, Settings(plan.family, (1.0, plan.depth)), past, by)


def first_settings(plan: Plan, past: History, by: str = "") -> Settings:
    """A web that is left on purpose, a lap as long as the other part is wide."""
    return thick_first(plan, _about(lap(plan), past, by), past, by)


def start_at(plan: Plan, past: History, by: str = "") -> float:
    """The height that brings the faces level, mm."""
    return height_at(plan, _about(lap(plan), past, by), past, by)


def first_reason(known: Knowledge, aspect: Aspect) -> Remark:
    """Where the first numbers come from."""
    plan = lap(known.joint.plan)
    if aspect == SHOULDER:
        return stop_from(known, plan.depth)
    return height_from(known, aspect, plan.figures()["thickness"])


def recipe(
    plan: Plan, settings: Settings, shown_by: str | None = None, asked: Sequence[Aspect] = ()
) -> tuple[Remark, ...]:
    """The web of one scrap, then two ends lapped."""
    own, dial = lap(plan), settings.on_scale(plan.machine)
    wanted, thick = {*(asked or plan.in_play)}, plan.figures()["thickness"]
    return (
        remark(
            "cut-lap",
            height=dial[HEIGHT],
            stop=dial[STOP],
            thick=thick,
            both=own.mate is None,
        ),
        remark("try-lap", shoulder=SHOULDER in wanted, both=own.mate is None),
    )


def cautions(plan: Plan, moves: Mapping[str, float] | None) -> tuple[Remark, ...]:
    """A wide recess takes several passes."""
    return always(plan, remark("lap-passes")) if moves is None else after(moves)


def notices(made: Decision) -> tuple[Remark, ...]:
    """What a notch costs, and that a raised bit counts on both parts."""
    if not made.pieces:
        return (*_moisture(lap(made.known.joint.plan)), *sizes(made))
    said = made.pieces[-1].verdict.of(FACES)
    one = made.known.joint.plan.family is ONE_PART
    notch = (remark("notch", FACES),) if said is not None and said.side < 0 and not one else ()
    return (*notch, *(() if one else raise_it(made)), *sizes(made))


def _moisture(plan: LapPlan) -> Iterable[Remark]:
    """Parts that are not equally dry, and the shoulder that stands at the other part's edge."""
    yield from parts_remarks(plan, plan.tail_thickness / 2)
    yield from scrap_remarks(plan)
    if told := across(plan.pin_stock, plan.depth, LAPPED):
        yield remark("moisture-lap", **told)
