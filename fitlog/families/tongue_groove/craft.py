"""The craft of a tongue and groove: see `advice.craft` for what each function promises."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from ...advice import plain
from ...advice.decision import Decision
from ...advice.history import History
from ...advice.knowledge import Knowledge
from ...advice.notices import sizes
from ...domain import Aspect, Figures, Plan, Reading, Remark, Settings, SetUp, Verdict, remark
from ...domain.adjusters import adjuster
from ...errors import Least, Mm, Refused
from ...estimator.posterior import Normal
from ..flip.craft import after, alone, always, check_waste, height_from, raise_it, stop_from
from ..flip.craft import check as check_height
from ..flip.figures import JOINED
from ..flip.moisture import across, parts_remarks, scrap_remarks
from ..flip.names import FACES, FIT, HEIGHT, SHOULDER, STOP
from ..flip.opening import at_figures, height_at, thick_first
from ..wanted import Wanted
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
    "plan_of",
    "recipe",
    "start_at",
]


def plan_of(wanted: Wanted, earlier: Sequence[SetUp], past: History, by: str) -> TonguePlan:
    """The plan as said; boards of one stock are as thick as the first. Raises Refused for a first
    fence on the near side.
    """
    plan = tongue(plain.plan_of(wanted, earlier, past, by))
    if wanted.size("pin_thickness") is None and plan.stock == plan.pin_stock:
        plan = replace(plan, pin_thickness=plan.tail_thickness)
    if FENCE in wanted.first:
        check_fence(plan, plan.figures()["grooved"], wanted.first[FENCE])
    return plan


def _about(plan: TonguePlan, past: History, by: str) -> Settings:
    """Settings by printed figures, the bit beyond the middle, or for one pass at it."""
    fence = plan.figures()["grooved"] / 2 if plan.once else beyond(plan, past)
    return at_figures(plan, set_to(fence, 1.0, plan.depth), past, by)


def beyond(plan: TonguePlan, past: History) -> float:
    """Return the groove fence at which the bit is truly beyond the board's middle by the least that
    it must be, but once in forty, as the machine can be set, mm. Raises Refused where the bit is
    too thin for that.
    """
    limit, middle = fence_limit(plan), plan.figures()["grooved"] / 2
    can = adjuster(plan.machine, "fence", positive=True)

    def surely(law: Normal) -> float:
        sure = figures.LEAST_BEYOND + figures.BEYOND_SURE * law.sd
        return can.above(max(middle + max(figures.FIRST_BEYOND, sure) - law.mean, limit.low))

    # Where a fence that nothing is known of would stand, so that the same boards have the same
    # groove again; nearer only where this bit leaves no room for that.
    known, cold = (surely(of.of(FIT).law(fence_terms(plan))) for of in (past, History()))
    made = max(known, cold) if max(known, cold) <= limit.high else known
    if made > limit.high:
        raise Refused(
            "no-room",
            "this bit is too thin for a groove from both faces at a fence that is known so badly",
            "take a wider bit, or measure a groove in waste: fitlog cut --slot --read groove=WIDTH",
            "take a wider bit, or measure a groove in waste first: on the screen that "
            "says what to set",
        )
    return made


def first_settings(plan: Plan, past: History, by: str = "") -> Settings:
    """A bit beyond the middle, a thick tongue, shorter than its groove is deep."""
    return thick_first(plan, _about(tongue(plan), past, by), past, by)


def start_at(plan: Plan, past: History, by: str = "") -> float:
    """The height that brings a good fit, mm."""
    return height_at(plan, _about(tongue(plan), past, by), past, by)


def check(plan: Plan, settings: Settings, changed: Mapping[str, float], sizes: Figures) -> None:
    """Refuse a bit nearer than the board's middle: nothing is learnt from such a groove, whose
    second pass is a climb cut, and none may follow from it.
    """
    check_height(plan, settings, changed, sizes)
    check_fence(tongue(plan), plan.figures(sizes)["grooved"], settings[FENCE])


def check_fence(plan: TonguePlan, thick: float, fence: float) -> None:
    """Refuse a fence that is not surely beyond the middle of a board that is turned, mm."""
    middle = thick / 2
    if not plan.once and fence < middle + figures.LEAST_BEYOND - 1e-6:
        raise Refused(
            "beyond-limit",
            "a groove fence of {fence:.2f} is not beyond the middle of a board of {thick}: nearer, "
            "the second pass is a climb cut",
            "move the fence out to {least:.2f} or more, and cut a fresh groove",
            fence=Mm(fence),
            thick=Mm(thick),
            least=Least(middle + figures.LEAST_BEYOND),
        )


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
    if aspect == FIT:
        return height_from(known, aspect, plan.figures()["thickness"])
    taught, sd = known.past.taught(aspect, known.joint.terms(aspect, known.about)), known.cold
    thick = plan.figures()["thickness"]
    return remark("groove-from", aspect, thick=thick, taught=taught, sd=sd[aspect].sd)


def recipe(
    plan: Plan, settings: Settings, shown_by: str | None = None, asked: Sequence[Aspect] = ()
) -> tuple[Remark, ...]:
    """Groove, tongue on the other edge, its measure; then the board in two and together."""
    own, dial = tongue(plan), settings.on_scale(plan.machine)
    wanted, thick = {*(asked or plan.in_play)}, plan.figures()
    told = {"fence": dial[FENCE], "deep": own.depth, "thick": thick["grooved"]}
    past = 2 * (settings[FENCE] - thick["grooved"] / 2)
    return (
        remark("cut-groove-once", **told) if own.once else remark("cut-groove", **told, past=past),
        remark("measure-groove"),
        remark("cut-tongue-flat", height=dial[HEIGHT], stop=dial[STOP], thick=thick["thickness"]),
        remark("try-boards", shoulder=SHOULDER in wanted, free=own.use == "panel"),
    )


def cautions(plan: Plan, moves: Mapping[str, float] | None) -> tuple[Remark, ...]:
    """Two passes of a groove, the second on the far wall; one is held in, too."""
    if tongue(plan).once:
        own = remark("held-in"), remark("near-face")
        return always(plan, *own) if moves is None else after(moves)
    if moves is None:
        return always(plan, remark("far-branch"), remark("pushed-off"), remark("near-face"))
    fence = remark("fence-twice"), remark("far-branch")
    return (*(fence if abs(moves.get(FENCE, 0.0)) > 1e-9 else ()), *after(moves))


def notices(made: Decision) -> tuple[Remark, ...]:
    """A bit too near the middle, faces that no setting moves, or a groove in another place; a
    height for both faces.
    """
    plan, last = tongue(made.known.joint.plan), made.pieces[-1] if made.pieces else None
    if last is None:
        return (*_moisture(plan), *sizes(made))
    if not plan.once:
        near = (*_near(made), *alone(made, "groove", "tongue"))
        return (*near, *_faces(made), *raise_it(made), *sizes(made))
    moved = abs(made.settings[FENCE] - last.settings[FENCE]) > 1e-6
    fresh = (remark("fresh-groove", FACES),) if moved else ()
    return (*fresh, *alone(made, "groove", "tongue"), *raise_it(made), *sizes(made))


def _moisture(plan: TonguePlan) -> Iterable[Remark]:
    """Boards that are not equally dry, and how a wide one moves between its neighbours."""
    yield from parts_remarks(plan, plan.bit.diameter)
    yield from scrap_remarks(plan, 1 if plan.once else 2)
    told, panel = across(plan.stock, plan.clear or plan.board_width, JOINED), plan.use == "panel"
    if told:
        yield remark("moisture-panel" if panel else "moisture-boarding", **told)


def _near(made: Decision) -> Iterable[Remark]:
    """The groove as measured shows that its second pass was at the middle or nearer: where the
    fence goes so that it is beyond, whichever side that was.
    """
    last = made.pieces[-1] if made.pieces else None
    read = [r.value for r in last.readings if r.kind in ("groove", "jaws")] if last else []
    plan = made.known.joint.plan
    off = abs(read[-1] - plan.bit.diameter) / 2 if read else figures.LEAST_BEYOND
    if last is not None and off < figures.LEAST_BEYOND:
        dial = last.settings.on_scale(plan.machine)[FENCE]
        yield remark("near-side", fence=dial + off + figures.FIRST_BEYOND)


def _faces(made: Decision) -> Iterable[Remark]:
    """No setting moves the faces."""
    said = made.pieces[-1].verdict.of(FACES) if made.pieces else None
    if said is not None and not said.settles:
        yield remark("faces-by-thickness", FACES, said=(said.word, said.size))
