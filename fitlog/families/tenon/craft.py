"""The craft of a tenon by flipping: see `advice.craft` for what each function promises."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from ...advice.decision import Decision
from ...advice.history import History
from ...advice.knowledge import Knowledge
from ...advice.notices import sizes
from ...domain import Aspect, Plan, Reading, Remark, Settings, Verdict, remark
from ..flip.craft import after, alone, always, check, check_waste, height_from, raise_it, stop_from
from ..flip.figures import WIDE_TENON
from ..flip.moisture import across, parts_remarks, scrap_remarks
from ..flip.names import FACES, FIT, HEIGHT, SHOULDER, STOP
from ..flip.opening import at_figures, height_at, thick_first
from .names import FENCE, set_to
from .plan import TenonPlan, tenon

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
]


def _about(plan: TenonPlan, past: History, by: str) -> Settings:
    """Settings by printed figures."""
    return at_figures(plan, set_to(plan.mortise, plan.mortise, plan.depth), past, by)


def first_settings(plan: Plan, past: History, by: str = "") -> Settings:
    """A mortise in the middle, a thick tenon, shorter than its mortise is deep."""
    return thick_first(plan, _about(tenon(plan), past, by), past, by)


def start_at(plan: Plan, past: History, by: str = "") -> float:
    """The height that brings a good fit, mm."""
    return height_at(plan, _about(tenon(plan), past, by), past, by)


def check_slot(
    verdict: Verdict, readings: Sequence[Reading], changed: Mapping[str, float], later: bool
) -> None:
    """A mortise in waste has a width."""
    check_waste("mortise", verdict, readings, later)


def first_reason(known: Knowledge, aspect: Aspect) -> Remark:
    """Where the first numbers come from."""
    plan = tenon(known.joint.plan)
    if aspect == SHOULDER:
        return stop_from(known, plan.depth)
    thick = plan.figures()["thickness"]
    if aspect == FIT:
        return height_from(known, aspect, thick)
    taught, sd = known.past.taught(aspect, known.joint.terms(aspect, known.about)), known.cold
    return remark(
        "mortise-from", aspect, thick=thick, wide=plan.mortise, taught=taught, sd=sd[aspect].sd
    )


def recipe(
    plan: Plan, settings: Settings, shown_by: str | None = None, asked: Sequence[Aspect] = ()
) -> tuple[Remark, ...]:
    """The mortise, the tenon, its measure; the joint once it goes together."""
    own, dial = tenon(plan), settings.on_scale(plan.machine)
    wanted = {*(asked or plan.in_play)}
    return (
        remark("cut-mortise", fence=dial[FENCE], wide=own.mortise, deep=own.depth),
        remark(
            "cut-tenon", height=dial[HEIGHT], stop=dial[STOP], thick=plan.figures()["thickness"]
        ),
        remark("measure-tenon"),
        remark("try-tenon", faces=FACES in wanted, shoulder=SHOULDER in wanted),
    )


def again(steps: tuple[Remark, ...], moves: Mapping[str, float]) -> tuple[Remark, ...]:
    """The same end goes into the same mortise, unless its fence moves."""
    same = abs(moves[FENCE]) < 1e-9
    return tuple(step for step in steps if not (same and step.code == "cut-mortise"))


def cautions(plan: Plan, moves: Mapping[str, float] | None) -> tuple[Remark, ...]:
    """End grain, narrow rails, and the face that is cut: never the far one."""
    return always(plan, remark("near-face")) if moves is None else after(moves)


def notices(made: Decision) -> tuple[Remark, ...]:
    """A fence that moves asks for another mortise, and a height for both faces."""
    if not made.pieces:
        return (*_moisture(tenon(made.known.joint.plan)), *sizes(made))
    fence = abs(made.settings[FENCE] - made.pieces[-1].settings[FENCE]) > 1e-6
    fresh = (remark("fresh-mortise", FACES),) if fence else ()
    own = tenon(made.known.joint.plan)
    measured = () if own.mortise_by == "jaws" else alone(made, "mortise", "tenon")
    return (*fresh, *measured, *raise_it(made), *sizes(made))


def _moisture(plan: TenonPlan) -> Iterable[Remark]:
    """Rail and stile that are not equally dry, and a wide tenon across its grain."""
    yield from parts_remarks(plan, plan.mortise)
    yield from scrap_remarks(plan)
    if told := across(plan.stock, plan.board_width, WIDE_TENON):
        yield remark("moisture-tenon", **told)
