"""Getting the setting of a box joint's fit back from a kept finger and its slot, or from a set-up
that was good, for today's cutter and machine: see `families.recovering`.
"""

from __future__ import annotations

import shlex
from dataclasses import dataclass

import numpy as np

from ...advice.history import History
from ...advice.knowledge import Knowledge, know
from ...advice.laws import noise_of
from ...advice.plain import plan_of
from ...advice.settled import settled_by
from ...domain import Piece, Reading, Remark, Settings, SetUp, Verdict, remark
from ...errors import NotUnderstood, Refused
from ...estimator.choice import chance_good
from ...language.units import Ruler
from .. import joint_of
from ..recovering import Asked, Recovered
from ..wanted import Wanted
from .joint import Fingers
from .names import FIT
from .plan import FingerPlan


@dataclass(frozen=True, kw_only=True)
class RecoveredFit(Recovered):
    """What is handed back of a fit's setting, true mm. sd: how well it is known; play: of a finger
    in its slot that is aimed at; chance: that the first piece is good; stays: the very setting of
    the set-up it comes from.
    """

    plan: FingerPlan
    setting: float
    sd: float
    play: float
    chance: float
    stays: bool


def recovered(asked: Asked, past: History, by: str, ruler: Ruler) -> RecoveredFit:
    """Return the setting that restores a fit. Raises Refused, NotUnderstood: nothing-kept,
    not-good.
    """
    sizes = {r.kind: r.value for r in asked.readings}
    kept = sizes["slot"] - sizes["finger"] if {"slot", "finger"} <= sizes.keys() else None
    if kept is None and asked.origin is None:
        raise NotUnderstood(
            "nothing-kept",
            "nothing says what the joint was",
            "measure the kept sample (--read slot=L --read finger=L) or name its set-up with "
            "--from N",
        )
    held = None if asked.origin is None else _held(asked.origin, past, by)
    plan = _plan(asked, past, by)
    laws = _laws(asked, plan, past, by, sizes, held)
    joint = laws.joint
    assert isinstance(joint, Fingers)
    window, about = joint.window(FIT), laws.about
    aimed = window.middle if kept is None else kept - joint.loss
    stays = held is not None and _same_cutter(asked, plan)
    slope = abs(joint.slope(FIT, about))
    wanted = joint.setting_for(FIT, aimed - laws.cold[FIT].mean, about)
    limit = joint.limit(plan.family.setting_of[FIT], about)
    setting = plan.adjuster(FIT, wanted).nearest(min(max(wanted, limit.low), limit.high))
    if stays and held is not None:
        setting = held.of(FIT)  # as it was cut, between two marks too
    at = np.array([joint.nominal(FIT, about.moved(FIT, setting), plan.figures())])
    chance = float(chance_good(laws.law(FIT), at, window, noise_of(laws, FIT))[0])
    return RecoveredFit(
        _reasons(plan, kept, asked),
        (),
        (remark("unplug"),),
        _start(asked, plan, setting, ruler),
        asked.origin,
        plan=plan,
        setting=setting,
        sd=laws.cold[FIT].sd / slope,
        play=aimed + joint.loss,
        chance=chance,
        stays=stays,
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


def _plan(asked: Asked, past: History, by: str) -> FingerPlan:
    """Today's plan: that of the set-up it comes from, with today's cutter, boards and machine."""
    said = {
        "pitch": asked.pitch,
        "tail_thickness": asked.thickness,
        "pin_thickness": asked.pin_thickness,
    }
    figures = {name: value for name, value in said.items() if value is not None}
    parts = asked.bit, asked.stock, asked.pin_stock, asked.machine
    wanted = Wanted(*parts, asked.joint, figures, again=asked.origin)
    plan = plan_of(wanted, (), past, by)
    assert isinstance(plan, FingerPlan)
    return plan


def _laws(
    asked: Asked,
    plan: FingerPlan,
    past: History,
    by: str,
    sizes: dict[str, float],
    held: Settings | None,
) -> Knowledge:
    """What is known of today's fit; a sample's slot tells of the cutter where today's cut it."""
    from ...advice.craft import craft_of

    about = held or craft_of(plan).first_settings(plan, past, by)
    own = asked.sample_bit is None and asked.origin is None and "slot" in sizes
    reading = (Reading("slot", sizes["slot"]),) if own else ()
    slots = (Piece(1, about, Verdict(), reading, ()),) if reading else ()
    return know(plan, (), past, about, by, slots)


def _same_cutter(asked: Asked, plan: FingerPlan) -> bool:
    """Whether cutter and machine are those of the set-up, and nothing of them has changed."""
    old = asked.origin.plan if asked.origin else plan
    now = plan.bit.name, plan.bit.sharpenings, plan.machine and plan.machine.name
    return now == (old.bit.name, old.bit.sharpenings, old.machine and old.machine.name)


def _reasons(plan: FingerPlan, kept: float | None, asked: Asked) -> tuple[Remark, ...]:
    number = asked.origin.number if asked.origin else None
    other = asked.origin is not None and not _same_cutter(asked, plan)
    said = remark("recovered-from", play=kept, setup=number, other=other)
    return tuple(r.of(plan.joint) for r in (said, remark("recovered-check")))


def _start(asked: Asked, plan: FingerPlan, setting: float, ruler: Ruler) -> str:
    """The command that goes on with it."""
    name = plan.family.setting_of[FIT].replace("_", "-")
    zero = plan.machine.zero(plan.family.adjusted(FIT).part) if plan.machine else 0.0
    number = ruler.exact(setting + zero)
    given = f"{name}={number}{'mm' if ruler.units == 'mm' else ''}"
    again = ["--again", str(asked.origin.number)] if asked.origin else ["--joint", plan.joint]
    parts = ["fitlog", "start", *again, "--bit", plan.bit.name, "--stock", plan.stock.name]
    parts += ["--machine", plan.machine.name] if plan.machine else []
    return shlex.join([*parts, "--given", given])
