"""Getting the width of a cut for a sheet back from a kept sample and its offcut, or from a set-up
that was good, for today's sheet, bit and machine: see `families.recovering`.
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
from ..wanted import Wanted
from .craft import First
from .names import SHEET
from .plan import SheetPlan


@dataclass(frozen=True, kw_only=True)
class RecoveredWidth(Recovered):
    """What is handed back of the lead's setting, true mm. sd: how well it is known; aimed: the
    misfit that is aimed at, `called` so; chance: that the first piece is good.
    """

    plan: SheetPlan
    value: float
    sd: float
    called: str
    aimed: float
    chance: float


@dataclass(frozen=True)
class Way:
    """How one joint comes back. wide: the reading of a kept sample's width, and `more` by which
    sign the misfit, `called` so, grows with it; first: the first settings of a plan; given: what
    its first setting is called at `start`.
    """

    wide: str
    more: float
    called: str
    first: First
    given: str

    def recovered(self, asked: Asked, past: History, by: str, ruler: Ruler) -> RecoveredWidth:
        """Return the setting that restores a joint. Raises Refused, NotUnderstood: nothing-kept,
        not-good, no-room.
        """
        sizes = {r.kind: r.value for r in asked.readings}
        both = {self.wide, SHEET} <= sizes.keys()
        kept = self.more * (sizes[self.wide] - sizes[SHEET]) if both else None
        origin = asked.origin
        if kept is None and origin is None:
            raise NotUnderstood(
                "nothing-kept",
                "nothing says what the joint was",
                "measure the kept sample (--read {wide}=L --read sheet=L) or name its set-up with "
                "--from N",
                wide=self.wide,
            )
        held = None if origin is None else _held(origin, past, by)
        plan = _plan(asked, past, by)
        about = held or self.first(plan, past, by)
        known, lead = know(plan, (), past, about, by), plan.family.lead
        joint, law = known.joint, known.cold[lead]
        aimed = joint.window(lead).middle if kept is None else kept
        wanted = joint.setting_for(lead, aimed - law.mean, about)
        if held is not None and kept is None and origin is not None and _same(origin, plan):
            # The very one, but for what its figures are more today, such as the sheet.
            before = joint.nominal(lead, held, origin.plan.figures())
            wanted = joint.setting_for(lead, before, held)
        limit = joint.limit(plan.family.setting_of[lead], about)
        value = plan.adjuster(lead, wanted).nearest(min(max(wanted, limit.low), limit.high))
        at = np.array([joint.nominal(lead, about.moved(lead, value), plan.figures())])
        chance = chance_good(known.law(lead), at, joint.window(lead), noise_of(known, lead))
        return RecoveredWidth(
            _reasons(plan, kept, asked),
            (),
            (remark("unplug"),),
            _start(asked, plan, self.given, value, ruler),
            asked.origin,
            plan=plan,
            value=value,
            sd=law.sd,
            called=self.called,
            aimed=aimed,
            chance=float(chance[0]),
        )


def _held(setup: SetUp, past: History, by: str) -> Settings:
    """The settings at which a set-up's lead was good; refuse one that has none."""
    lead = setup.plan.family.lead
    holder = settled_by(joint_of(setup.plan, past.voices, by), lead, setup.pieces())
    if holder is None or setup.undone:
        raise Refused(
            "not-good",
            "set-up {number} did not end with a good {lead}",
            "go on with it (fitlog use {number}), or name another with --from (see fitlog review)",
            number=setup.number,
            lead=lead,
        )
    return holder.settings


def _plan(asked: Asked, past: History, by: str) -> SheetPlan:
    """Today's plan: that of the set-up it comes from, with today's bit, machine and sheet."""
    parts = asked.bit, asked.stock, asked.pin_stock, asked.machine
    plan = plan_of(Wanted(*parts, asked.joint, {}, again=asked.origin), (), past, by)
    assert isinstance(plan, SheetPlan)
    return plan if asked.pin_thickness is None else replace(plan, sheet=asked.pin_thickness)


def _same(origin: SetUp, plan: SheetPlan) -> bool:
    """Whether bit and machine are those of the set-up, and nothing of them has changed."""
    old = origin.plan
    return (plan.bit.name, plan.bit.sharpenings, plan.machine and plan.machine.name) == (
        old.bit.name,
        old.bit.sharpenings,
        old.machine and old.machine.name,
    )


def _reasons(plan: SheetPlan, kept: float | None, asked: Asked) -> tuple[Remark, ...]:
    number = asked.origin.number if asked.origin else None
    sheet = plan.figures()["sheet"]
    said = remark("width-recovered", play=kept, setup=number, sheet=sheet)
    return tuple(r.of(plan.joint) for r in (said, remark("recovered-check")))


def _start(asked: Asked, plan: SheetPlan, given: str, value: float, ruler: Ruler) -> str:
    """The command that goes on with it."""
    zero = plan.machine.zero(plan.family.adjusted(plan.family.lead).part) if plan.machine else 0.0
    unit = "mm" if ruler.units == "mm" else ""
    again = ["--again", str(asked.origin.number)] if asked.origin else ["--joint", plan.joint]
    parts = ["fitlog", "start", *again, "--bit", plan.bit.name, "--stock", plan.stock.name]
    parts += ["--pin-stock", plan.pin_stock.name]
    parts += ["--machine", plan.machine.name] if plan.machine else []
    parts += ["--given", f"{given}={ruler.exact(value + zero)}{unit}"]
    if plan.sheet is not None:
        parts += ["--given", f"sheet={ruler.exact(plan.sheet)}{unit}"]
    return shlex.join(parts)
