"""Getting the second pass of a housing back from a kept slot and its offcut, or from a set-up that
was good, for today's sheet, bit and machine: see `families.recovering`.
"""

from __future__ import annotations

import shlex
from dataclasses import dataclass, replace

import numpy as np

from ...advice.history import History
from ...advice.knowledge import know
from ...advice.laws import noise_of
from ...advice.plain import plan_of
from ...advice.settled import settled_by
from ...domain import Remark, Settings, SetUp, remark
from ...errors import NotUnderstood, Refused
from ...estimator.choice import chance_good
from ...language.units import Ruler
from .. import joint_of
from ..recovering import Asked, Recovered
from ..sheets.names import SHEET
from ..wanted import Wanted
from .craft import first_settings
from .names import FIT, SECOND, SLOT
from .plan import HousingPlan, housing


@dataclass(frozen=True, kw_only=True)
class RecoveredPass(Recovered):
    """What is handed back of the second pass, true mm. sd: how well it is known; play: that is
    aimed at; chance: that the first slot is good.
    """

    plan: HousingPlan
    second: float
    sd: float
    play: float
    chance: float


def recovered(asked: Asked, past: History, by: str, ruler: Ruler) -> RecoveredPass:
    """Return the second pass that restores a fit. Raises Refused, NotUnderstood: nothing-kept,
    not-good, no-room.
    """
    sizes = {r.kind: r.value for r in asked.readings}
    kept = sizes[SLOT] - sizes[SHEET] if {SLOT, SHEET} <= sizes.keys() else None
    if kept is None and asked.origin is None:
        raise NotUnderstood(
            "nothing-kept",
            "nothing says what the joint was",
            "measure the kept sample (--read slot=L --read sheet=L) or name its set-up with "
            "--from N",
        )
    held = None if asked.origin is None else _held(asked.origin, past, by)
    plan = _plan(asked, past, by)
    about = held or first_settings(plan, past, by)
    known = know(plan, (), past, about, by)
    joint, law = known.joint, known.cold[FIT]
    aimed = joint.window(FIT).middle if kept is None else kept
    wanted = joint.setting_for(FIT, aimed - law.mean, about)
    origin = asked.origin
    if held is not None and kept is None and origin is not None and _same(origin, plan):
        # The very one, but for what the sheet is thicker today.
        thicker = plan.figures()["sheet"] - origin.plan.figures()["sheet"]
        wanted = held[SECOND] + thicker
    limit = joint.limit(SECOND, about)
    second = plan.adjuster(FIT, wanted).nearest(min(max(wanted, limit.low), limit.high))
    at = np.array([joint.nominal(FIT, about.moved(FIT, second), plan.figures())])
    chance = float(chance_good(known.law(FIT), at, joint.window(FIT), noise_of(known, FIT))[0])
    return RecoveredPass(
        _reasons(plan, kept, asked),
        (),
        (remark("unplug"),),
        _start(asked, plan, second, ruler),
        asked.origin,
        plan=plan,
        second=second,
        sd=law.sd,
        play=aimed,
        chance=chance,
    )


def _held(setup: SetUp, past: History, by: str) -> Settings:
    """The settings at which a set-up's fit was good; refuse one that has none."""
    holder = settled_by(joint_of(setup.plan, past.voices, by), FIT, setup.pieces())
    if holder is None or setup.undone:
        raise Refused(
            "not-good",
            "set-up {number} did not end with a good fit",
            "go on with it (fitlog use {number}), or name another with --from (see fitlog review)",
            number=setup.number,
        )
    return holder.settings


def _plan(asked: Asked, past: History, by: str) -> HousingPlan:
    """Today's plan: that of the set-up it comes from, with today's bit, machine and sheet."""
    parts = asked.bit, asked.stock, asked.pin_stock, asked.machine
    plan = housing(plan_of(Wanted(*parts, asked.joint, {}, again=asked.origin), (), past, by))
    return plan if asked.pin_thickness is None else replace(plan, sheet=asked.pin_thickness)


def _same(origin: SetUp, plan: HousingPlan) -> bool:
    """Whether bit and machine are those of the set-up, and nothing of them has changed."""
    old = origin.plan
    return (plan.bit.name, plan.bit.sharpenings, plan.machine and plan.machine.name) == (
        old.bit.name,
        old.bit.sharpenings,
        old.machine and old.machine.name,
    )


def _reasons(plan: HousingPlan, kept: float | None, asked: Asked) -> tuple[Remark, ...]:
    number = asked.origin.number if asked.origin else None
    sheet = plan.figures()["sheet"]
    said = remark("pass-recovered", play=kept, setup=number, sheet=sheet)
    return tuple(r.of(plan.joint) for r in (said, remark("recovered-check")))


def _start(asked: Asked, plan: HousingPlan, second: float, ruler: Ruler) -> str:
    """The command that goes on with it."""
    zero = plan.machine.zero(plan.family.adjusted(FIT).part) if plan.machine else 0.0
    unit = "mm" if ruler.units == "mm" else ""
    again = ["--again", str(asked.origin.number)] if asked.origin else ["--joint", plan.joint]
    parts = ["fitlog", "start", *again, "--bit", plan.bit.name, "--stock", plan.stock.name]
    parts += ["--pin-stock", plan.pin_stock.name]
    parts += ["--machine", plan.machine.name] if plan.machine else []
    parts += ["--given", f"second-pass={ruler.exact(second + zero)}{unit}"]
    if plan.sheet is not None:
        parts += ["--given", f"sheet={ruler.exact(plan.sheet)}{unit}"]
    return shlex.join(parts)
