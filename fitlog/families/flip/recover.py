"""Getting a joint that was cut from both faces back: from the set-up that made it, and from what a
kept tenon, tongue or web measures.

The kept tenon says its own thickness t, and today's board T: h = (T - t) / 2. What the sample was
cut with does not matter for that.
"""

from __future__ import annotations

import shlex
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from ...advice.history import History
from ...advice.knowledge import Knowledge, know
from ...advice.laws import law_of, noise_of, nominal_of
from ...advice.settled import settled_by
from ...domain import Aspect, Piece, Plan, Remark, Settings, SetUp, remark
from ...domain.standing import on_real_boards
from ...errors import NotUnderstood, Refused
from ...estimator.choice import chance_good
from ...language.units import Ruler
from .. import joint_of
from ..recovering import Asked, Recovered
from . import causes
from .craft import always
from .geometry import web
from .names import HEIGHT
from .plan import FlipPlan

SOLIDS = ("tenon", "tongue", "web")  # readings of what is left between two faces


@dataclass(frozen=True, kw_only=True)
class RecoveredFlip(Recovered):
    """What is handed back. settings: true mm; sd: of the height; left: what is to be left between
    the faces, mm; chance: that the first piece cut so is good.
    """

    plan: FlipPlan
    settings: Settings
    sd: float
    left: float
    chance: float


def recovered(asked: Asked, past: History, by: str, ruler: Ruler) -> RecoveredFlip:
    """See `families.recovering.Recovering`."""
    if asked.origin is None:
        raise NotUnderstood(
            "nothing-kept", "nothing says what the joint was", "name its set-up with --from N"
        )
    plan = _today(asked)
    held = _carried(asked.origin.plan, plan, _good(asked.origin, past, by))
    known = know(plan, (), past, held, by)
    solid = next((r.value for r in reversed(asked.readings) if r.kind in SOLIDS), None)
    lead, same = plan.family.lead, _same(asked)
    height = held[HEIGHT] if same else _by_what_is_known(known, lead, held)
    if solid is not None:
        height = _by_the_sample(known, lead, solid)
    can, limit = plan.adjuster(lead, height), known.joint.limit(HEIGHT, held)
    settings = held.with_(HEIGHT, can.nearest(min(max(height, limit.low), limit.high)))
    at = np.array([nominal_of(known, lead, settings)])
    law = law_of(known, lead, settings)
    chance = chance_good(law, at, known.joint.window(lead), noise_of(known, lead))
    steep = abs(known.joint.slope(lead, settings))
    return RecoveredFlip(
        tuple(_reasons(asked, solid, same=same)),
        (remark("recut-again"),),
        always(plan),
        _start(asked, plan, settings, ruler),
        asked.origin,
        plan=plan,
        settings=settings,
        sd=law.sd / steep,
        left=web(plan.tail_thickness, settings[HEIGHT]),
        chance=float(chance[0]),
    )


def _good(setup: SetUp, past: History, by: str) -> Settings:
    """The settings at which a set-up was good, carried to its real boards; refuse one that has
    none.
    """
    joint, pieces = joint_of(setup.plan, past.voices, by), setup.pieces()
    family = setup.plan.family
    found: dict[Aspect, Piece | None] = {a: settled_by(joint, a, pieces) for a in family.setting_of}
    held = found[family.lead]
    if held is None or setup.undone:
        raise Refused(
            "not-good",
            "set-up {number} did not end with a joint that was good",
            "go on with it (fitlog use {number}), or name another with --from (see fitlog review)",
            number=setup.number,
        )
    settings = held.settings
    for aspect, piece in found.items():
        if piece is not None:
            settings = settings.moved(aspect, piece.settings.of(aspect))
    return on_real_boards(setup.plan, settings, held.sizes)


def _carried(old: Plan, plan: Plan, settings: Settings) -> Settings:
    """Settings of boards carried to today's, which may be thicker."""
    was, now = old.boards(), plan.boards()
    for kind in plan.family.settings:
        grown = sum(by * (now[name] - was[name]) for name, by in kind.with_figures.items())
        settings = settings.with_(kind.name, settings[kind.name] + grown)
    return settings


def _today(asked: Asked) -> FlipPlan:
    """The plan of the set-up it comes from, with today's bit, boards and machine."""
    assert asked.origin is not None
    old = asked.origin.plan
    assert isinstance(old, FlipPlan)
    return replace(
        old,
        bit=asked.bit,
        stock=asked.stock,
        pin_stock=asked.pin_stock,
        machine=asked.machine,
        tail_thickness=asked.thickness or old.tail_thickness,
        pin_thickness=asked.pin_thickness or old.pin_thickness,
        scrap="",
        piece_width=None,
        piece_thickness=None,
        moisture=None,
        pin_moisture=None,
        scrap_moisture=None,
    )


def _same(asked: Asked) -> bool:
    """Whether bit, machine and boards are those of the set-up."""
    assert asked.origin is not None
    old, thick = asked.origin.plan, (asked.thickness, asked.pin_thickness)
    sizes = (old.tail_thickness, old.pin_thickness)
    alike = all(new in (None, was) for new, was in zip(thick, sizes, strict=True))
    now = asked.bit.name, asked.bit.sharpenings, asked.machine and asked.machine.name
    return alike and now == (old.bit.name, old.bit.sharpenings, old.machine and old.machine.name)


def _by_what_is_known(known: Knowledge, lead: Aspect, held: Settings) -> float:
    """The height for the middle of the window, by bit, machine and wood as they are known, mm."""
    off = law_of(known, lead, held).mean
    return known.joint.setting_for(lead, known.joint.window(lead).middle - off, held)


def _by_the_sample(known: Knowledge, lead: Aspect, solid: float) -> float:
    """The height that leaves as much as the sample has, by what is known of the height's zero and
    of the boards' thickness, mm.
    """
    plan = known.joint.plan
    assert isinstance(plan, FlipPlan)
    own = causes.height_zero(plan, -2.0), causes.thickness(plan.stock.name, 1.0)
    return (plan.tail_thickness + known.past.of(lead).law(own).mean - solid) / 2


def _reasons(asked: Asked, solid: float | None, *, same: bool) -> Iterator[Remark]:
    assert asked.origin is not None
    if solid is not None:
        yield remark("sample-left", solid=solid)
    else:
        yield remark("flip-from", setup=asked.origin.number, same=same)


def _start(asked: Asked, plan: FlipPlan, settings: Settings, ruler: Ruler) -> str:
    """The command to go on with; every length carries its unit."""
    assert asked.origin is not None
    unit = "mm" if ruler.units == "mm" else ""
    parts = ["fitlog", "start", "--again", str(asked.origin.number), "--bit", plan.bit.name]
    parts += ["--stock", plan.stock.name]
    parts += ["--machine", plan.machine.name] if plan.machine else []
    old = asked.origin.plan
    if plan.tail_thickness != old.tail_thickness:
        parts += ["--thickness", f"{ruler.exact(plan.tail_thickness)}{unit}"]
    if plan.pin_thickness != old.pin_thickness:
        parts += ["--pin-thickness", f"{ruler.exact(plan.pin_thickness)}{unit}"]
    for name, mm in settings.on_scale(plan.machine).items():
        parts += ["--given", f"{name.replace('_', '-')}={ruler.exact(mm)}{unit}"]
    return shlex.join(parts)
