"""The craft of a tongue and groove: see `advice.craft` for what each function promises."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from ...advice.decision import Decision
from ...advice.history import History
from ...advice.knowledge import Knowledge
from ...advice.notices import sizes
from ...domain import Aspect, Plan, Reading, Remark, Settings, Verdict, remark
from ...domain.adjusters import adjuster
from ...errors import Refused
from ..flip.craft import after, always, check, check_waste, height_from, raise_it, stop_from
from ..flip.figures import FIRST_SURE
from ..flip.names import FACES, FIT, HEIGHT, SHOULDER, STOP
from ..flip.opening import at_figures, height_at, thick_first
from . import figures
from .joint import fence_limit, fence_terms
from .names import FENCE, set_to
from .plan import TonguePlan, tongue

__all__ = [
    "cautions",
    "check",
    "check_slot",
    "first_reason",
    "first_settings",
    "notices",
    "recipe",
    "start_at",
]


def _about(plan: TonguePlan, past: History, by: str) -> Settings:
    """Settings by printed figures, the bit beyond the middle."""
    return at_figures(plan, set_to(beyond(plan, past), 1.0, plan.depth), past, by)


def beyond(plan: TonguePlan, past: History) -> float:
    """Return the groove fence at which the bit is truly beyond the board's middle by the least that
    it must be, but once in twenty, as the machine can be set, mm. Raises Refused where the bit is
    too thin for that.
    """
    limit, off = fence_limit(plan), past.of(FIT).law(fence_terms(plan))
    middle = plan.figures()["grooved"] / 2
    sure = figures.LEAST_BEYOND + FIRST_SURE * off.sd
    wanted = middle + max(figures.FIRST_BEYOND, sure) - off.mean
    can = adjuster(plan.machine, "fence", positive=True)
    made = can.above(max(wanted, limit.low))
    if made > limit.high:
        raise Refused(
            "no-room",
            "this bit is too thin for a groove from both faces at a fence that is known so badly",
            "take a wider bit, or measure a groove in waste: fitlog cut --slot --read groove=WIDTH",
        )
    return made


def first_settings(plan: Plan, past: History, by: str = "") -> Settings:
    """A bit beyond the middle, a thick tongue, shorter than its groove is deep."""
    return thick_first(plan, _about(tongue(plan), past, by), past, by)


def start_at(plan: Plan, past: History, by: str = "") -> float:
    """The height that brings a good fit, mm."""
    return height_at(plan, _about(tongue(plan), past, by), past, by)


def check_slot(
    verdict: Verdict, readings: Sequence[Reading], changed: Mapping[str, float], later: bool
) -> None:
    """A groove in waste has a width."""
    check_waste("groove", verdict, readings, later)


def first_reason(known: Knowledge, aspect: Aspect) -> Remark:
    """Where the first numbers come from."""
    plan = tongue(known.joint.plan)
    if aspect == SHOULDER:
        return stop_from(known, plan.depth)
    return height_from(known, aspect, plan.figures()["thickness"])


def recipe(
    plan: Plan, settings: Settings, shown_by: str | None = None, asked: Sequence[Aspect] = ()
) -> tuple[Remark, ...]:
    """Groove, tongue on the other edge, its measure; then the board in two and together."""
    own, dial = tongue(plan), settings.on_scale(plan.machine)
    wanted, thick = {*(asked or plan.in_play)}, plan.figures()
    past = 2 * (settings[FENCE] - thick["grooved"] / 2)
    return (
        remark("cut-groove", fence=dial[FENCE], deep=own.depth, past=past, thick=thick["grooved"]),
        remark("measure-groove"),
        remark("cut-tongue-flat", height=dial[HEIGHT], stop=dial[STOP], thick=thick["thickness"]),
        remark("try-boards", shoulder=SHOULDER in wanted, free=own.use == "panel"),
    )


def cautions(plan: Plan, moves: Mapping[str, float] | None) -> tuple[Remark, ...]:
    """Two passes of a groove, the second on the far wall."""
    if moves is None:
        return always(plan, remark("far-branch"), remark("pushed-off"), remark("near-face"))
    fence = remark("fence-twice"), remark("far-branch")
    return (*(fence if abs(moves.get(FENCE, 0.0)) > 1e-9 else ()), *after(moves))


def notices(made: Decision) -> tuple[Remark, ...]:
    """A bit too near the middle, faces that no setting moves, a height for both faces."""
    return (*_near(made), *_faces(made), *raise_it(made), *sizes(made))


def _near(made: Decision) -> Iterable[Remark]:
    """The groove as cut, or as measured, has its second pass at the middle or nearer."""
    plan, last = tongue(made.known.joint.plan), made.pieces[-1] if made.pieces else None
    if last is None:
        return
    width = plan.bit.diameter
    past = 2 * (last.settings[FENCE] - plan.figures(last.sizes)["grooved"] / 2)
    read = [r.value for r in last.readings if r.kind in ("groove", "jaws")]
    if past < 2 * figures.LEAST_BEYOND - 1e-6 or (read and read[-1] - width < past / 4):
        yield remark("near-side", past=past)


def _faces(made: Decision) -> Iterable[Remark]:
    """No setting moves the faces."""
    said = made.pieces[-1].verdict.of(FACES) if made.pieces else None
    if said is not None and not said.settles:
        yield remark("faces-by-thickness", FACES, said=(said.word, said.size))
