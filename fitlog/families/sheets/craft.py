"""The craft that cuts for a sheet share: see `advice.craft` for what each function promises."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence

from ...advice.cautions import GENERAL, speed
from ...advice.decision import Decision
from ...advice.history import History
from ...advice.knowledge import Knowledge, know
from ...advice.laws import law_of
from ...advice.opening import first_from
from ...domain import Aspect, Figures, Plan, Reading, Remark, Settings, Value, Verdict, remark
from ...errors import Mm, Refused
from ..family import Joint
from ..moisture import Board, swelling
from .names import DEPTH, HEIGHT, SHEET
from .plan import SheetPlan

First = Callable[[Plan, History, str], Settings]  # the first settings of one joint's plan
SURE = 2.0  # sds of what is not known


def printed(joint: Joint, settings: Settings) -> Settings:
    """Return settings that bring the middle of each window by what is assumed; refuse what has no
    room on these boards, before any is cut. settings: about which they are worked out, true mm.
    """
    family = joint.plan.family
    for aspect, name in family.setting_of.items():
        assumed = sum(t.factor * t.mean for t in joint.terms(aspect, settings))
        wanted = joint.setting_for(aspect, joint.window(aspect).middle - assumed, settings)
        limit = joint.limit(name, settings)
        if not limit.low <= wanted <= limit.high:
            why, remedy = limit.beyond(wanted)
            raise Refused(
                "no-room",
                "this sheet wants {setting} at {wanted:.2f}, against {why}",
                "{remedy}",
                setting=family.setting(name).called,
                wanted=Mm(wanted),
                why=limit.told(why),
                remedy=limit.told(remedy),
            )
        settings = settings.with_(name, wanted)
    return settings


def from_below(plan: Plan, base: Settings, past: History, by: str) -> Settings:
    """Return the first settings as the machine can make them: from the side on which wood is left,
    but no further from it than a first cut goes wrong once in forty. base: true mm.
    """
    first, found = first_from(plan, base, past, by), know(plan, (), past, base, by)
    for aspect, name in plan.family.setting_of.items():
        law, joint = law_of(found, aspect, base), found.joint
        middle = joint.setting_for(aspect, joint.window(aspect).middle - law.mean, base)
        sure = SURE * math.hypot(law.sd, joint.piece_sd(aspect)) / abs(joint.slope(aspect, base))
        least = plan.adjuster(aspect, first[name]).above(middle - sure)
        first = first.with_(name, max(first[name], min(least, middle)))
    return first


def check_slot(
    verdict: Verdict, readings: Sequence[Reading], changed: Mapping[str, float], later: bool
) -> None:
    """Refuse what nobody can say of a slot in waste: it has a width, and no sheet is in it."""
    strange = [r.kind for r in readings if r.kind != "slot"]
    if not verdict.empty or later or strange or not readings:
        raise Refused(
            "bad-slot",
            "a slot in waste has a width and nothing else",
            "say how wide it is, measured in three places: fitlog cut --slot --read slot=WIDTH",
            "say how wide it is, measured in three places",
        )


def check_depth(plan: Plan, settings: Settings, sizes: Figures) -> None:
    """Refuse a cut through the side."""
    thick = plan.figures(sizes)["thickness"]
    if settings[HEIGHT] >= thick:
        raise Refused(
            "beyond-limit",
            "a height of {height:.2f} is more than the side of {thick}",
            "check the unit, or give the piece's thickness with --thickness",
            "check the unit",
            height=Mm(settings[HEIGHT]),
            thick=Mm(thick),
        )


def told_of(known: Knowledge, aspect: Aspect, plan: SheetPlan) -> dict[str, Value]:
    """Return what every reason of a first number tells: the sheet, what taught it, how well it is
    known, mm.
    """
    taught = known.past.taught(aspect, known.joint.terms(aspect, known.about))
    return {
        "sheet": plan.figures()["sheet"],
        "sold": plan.sheet is None,
        "taught": taught,
        "sd": known.cold[aspect].sd,
    }


def depth_from(known: Knowledge, plan: SheetPlan) -> Remark:
    """Return where the first height comes from."""
    taught = known.past.taught(DEPTH, known.joint.terms(DEPTH, known.about))
    return remark("depth-from", DEPTH, depth=plan.depth, taught=taught, sd=known.cold[DEPTH].sd)


def always(plan: Plan, *own: Remark) -> tuple[Remark, ...]:
    """Return all cautions, for `start`. own: one joint's."""
    return (*GENERAL, *own, remark("large-panels"), remark("hand-held"), speed(plan))


def after(moves: Mapping[str, float]) -> tuple[Remark, ...]:
    """Return the cautions that moves make new: no pass puts wood back."""
    return (remark("never-back"),) if any(by < -1e-9 for by in moves.values()) else ()


def of_moisture(made: Decision) -> Iterable[Remark]:
    """Say when an offcut of another moisture is thicker or thinner than what goes in will be; a
    sheet does not move.
    """
    joint, plan = made.known.joint, made.known.joint.plan
    assert isinstance(plan, SheetPlan)
    lead, thick = plan.family.lead, plan.figures()["sheet"]
    board = Board(plan.pin_stock.species, plan.pin_stock.sawn, plan.pin_moisture)
    apart = swelling(board, thick, plan.scrap_moisture)
    if apart > joint.stated_window(lead).half:
        told = {"scrap": plan.scrap_moisture, "boards": plan.pin_moisture, "apart": apart}
        yield remark("moisture-offcut", lead, **told, thick=thick)


def by_label(made: Decision) -> Iterable[Remark]:
    """Ask for the sheet's own thickness while it goes by its label."""
    plan = made.known.joint.plan
    assert isinstance(plan, SheetPlan)
    read = any(r.kind == SHEET for piece in made.pieces for r in piece.readings)
    if plan.sheet is None and not read and made.unsettled:
        yield remark("sheet-by-label", label=plan.pin_thickness)
