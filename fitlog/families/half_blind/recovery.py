"""Getting a lost setting back: the bit height that restores a fit, from a kept sample and from what
set-ups taught.

The sample's readings join the lessons of the history as further readings of the same causes
(`joints.sample`); the law of the fit's offset at today's pitch then gives the height. First-order
propagation: GUM, JCGM 100:2008, 5.1.2.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from ... import defaults
from ...advice.history import History
from ...domain import Reading, Settings, Window
from ...domain.standing import worth_a_piece
from ...errors import Mm, Refused, Typed
from ...estimator.history import Lessons, suspect
from ...estimator.likelihood import band_chance
from ...estimator.posterior import Normal
from .. import Joint, joint_of
from ..bits import angle, diameter
from . import geometry
from .limits import height_limit
from .names import set_to
from .opening import check_wood, pitch_for, sensible_height
from .plan import DovetailPlan, dovetail
from .sample import Sample, gap_outside, sample_clearance, sample_readings

ODD = 3.0  # sds between what a reading shows and what was expected, from which on it is spoken of
_NINETY = 1.6448536  # of a normal law, 5 % lie above this many sds


@dataclass(frozen=True, slots=True)
class Heard:
    """One reading of the sample. height_sd: how well the height is known once it is heard too, mm.

    off: by how many sds of what was known before the sample it is out.  left_out: it cannot be
    true.
    """

    reading: Reading
    height_sd: float
    off: float
    left_out: bool


@dataclass(frozen=True, slots=True)
class Offer:
    """A height to cut at, true mm, the clearance expected there and the chance that it is good."""

    height: float
    clearance: Normal
    chance: float


@dataclass(frozen=True)
class Recovery:
    """What is known of the lost height; lengths true mm, each law a mean and one standard
    deviation.

    height: the law of the height that gives the window's middle.  offer: that height as it can be
    set. figures: the same by figures and history alone.  cut_at: the height the sample itself was
    cut at, by its mouth alone; None without one, or with another bit or table.  rods_angle:
    degrees, by two sizes of rods.  diameter, angle_deg: the bit's.  taught: set-ups that spoke of
    it.  learnt: those that spoke of anything that the fit depends on. remembered: what would come
    of a height that is remembered.
    """

    plan: DovetailPlan
    sample: Sample | None
    window: Window
    height: Normal
    offer: Offer
    figures: Normal
    heard: tuple[Heard, ...]
    cut_at: Normal | None
    rods_angle: Normal | None
    diameter: Normal
    angle_deg: Normal
    taught: int
    learnt: int
    not_good: bool
    remembered: Offer | None

    @property
    def range90(self) -> tuple[float, float]:
        """Where the height lies with a chance of 90 %, true mm."""
        return (
            self.height.mean - _NINETY * self.height.sd,
            self.height.mean + _NINETY * self.height.sd,
        )

    @property
    def test_piece(self) -> bool:
        """Whether a test piece is worth its wood, by the rule that also speaks of the confirming
        cut.
        """
        return worth_a_piece(self.offer.chance)


def recover(
    plan: DovetailPlan,
    past: History,
    sample: Sample | None = None,
    by: str = "",
    remembered: float | None = None,
) -> Recovery:
    """Return the height that restores the fit at the plan's pitch, in its real boards.

    past: finished set-ups, those that the sample comes from too.  by: whose `good` is meant.
    remembered: a height to judge, true mm.  Raises Refused where the wood or the bit doesn't allow
    it, with the pitch that would.
    """
    check_wood(plan)
    joint = joint_of(plan, past.voices, by, wood="")
    window, noise, before = joint.window("fit"), joint.word_noise("fit"), past.of("fit")
    known, heard, figures = before, [], _height(joint, before)
    readings = sample_readings(sample, sample_clearance(sample, window, noise)) if sample else ()
    for reading, told in zip(sample.readings if sample else (), readings, strict=True):
        law = before.law(told.terms)
        off, wrong = (told.value - law.mean) / math.hypot(law.sd, told.sd), suspect(told)
        known = known if wrong else known.and_([told])
        heard.append(Heard(reading, _height(joint, known).sd, off, wrong))
    height = _height(joint, known)
    size, turn = (diameter(plan.bit),), (angle(plan.bit),)
    return Recovery(
        plan,
        sample,
        window,
        height,
        _offer(joint, known, _settable(joint, past, height.mean, by)),
        figures,
        tuple(heard),
        _cut_at(plan, sample, before, heard) if sample else None,
        _rods_angle(sample.readings) if sample else None,
        _shifted(plan.bit.diameter, known.law(size)),
        Normal(
            plan.bit.angle + math.degrees(known.law(turn).mean), math.degrees(known.law(turn).sd)
        ),
        past.taught("fit", turn),
        past.taught("fit", joint.terms("fit", _at(plan, 1.0))),
        sample is not None and gap_outside(sample, window, noise),
        None if remembered is None else _offer(joint, known, remembered),
    )


def _at(plan: DovetailPlan, height: float) -> Settings:
    return set_to(max(1.0, height), plan.board_width / 2, plan.tail_thickness)


def _nominal(joint: Joint, height: float) -> float:
    plan = joint.plan
    return joint.nominal("fit", _at(dovetail(plan), height), plan.boards())


def _height(joint: Joint, known: Lessons) -> Normal:
    """Law of the height that gives the window's middle: u(h) = u(offset) / |dc/dh|. The offset
    depends a little on it.
    """
    middle = joint.window("fit").middle
    height = joint.setting_for("fit", middle, _at(dovetail(joint.plan), 1.0))
    for _ in range(8):
        law = known.law(joint.terms("fit", _at(dovetail(joint.plan), height)))
        height = joint.setting_for("fit", middle - law.mean, _at(dovetail(joint.plan), 1.0))
    return Normal(height, law.sd / abs(joint.slope("fit", _at(dovetail(joint.plan), 1.0))))


def _settable(joint: Joint, past: History, height: float, by: str) -> float:
    """The height as the machine can set it; raises Refused past a limit."""
    plan = dovetail(joint.plan)
    limit = height_limit(plan)
    if limit.low <= height <= limit.high:
        can = plan.adjuster("fit")
        return min(max(can.nearest(height), can.above(limit.low)), can.below(limit.high))
    why, remedy = map(limit.told, limit.beyond(height))
    best, zero = sensible_height(plan), plan.machine.zero("height") if plan.machine else 0.0
    pitch = pitch_for(plan, best, past, 2, by)
    raise Refused(
        "pitch-out-of-reach",
        "a pitch of {pitch} with bit {bit} asks for a bit height of {height:.2f}, which goes "
        "against {why}"
        if height > 0
        else "a pitch of {pitch} with bit {bit} asks for a bit below the table, which goes against "
        "{why}",
        "{remedy}; a pitch of {works} would work (height about {best}): --pitch {typed}",
        pitch=Mm(plan.pitch),
        bit=plan.bit.name,
        height=Mm(height + zero),
        why=why,
        remedy=remedy,
        works=Mm(pitch),
        best=Mm(best + zero),
        typed=Typed(pitch),
    )


def _offer(joint: Joint, known: Lessons, height: float) -> Offer:
    """The clearance at a height, and the chance that one joint cut there is in the window, its own
    variation included.
    """
    law, window = (
        known.law(joint.terms("fit", _at(dovetail(joint.plan), height))),
        joint.window("fit"),
    )
    clearance, noise = _nominal(joint, height) + law.mean, math.hypot(law.sd, joint.piece_sd("fit"))
    chance = float(band_chance(window.low, window.high, np.array([clearance]), noise)[0])
    return Offer(height, Normal(clearance, law.sd), chance)


def _cut_at(
    plan: DovetailPlan, sample: Sample, before: Lessons, heard: Sequence[Heard]
) -> Normal | None:
    """The height at which the sample was cut, h = (D - m) / (2 tan(theta)), by its mouth and what
    was known before it.

    Sensitivities: 1 / (2 tan(theta)) of D and m, -(D - m) / (2 sin^2(theta)) of theta; the zero of
    the scale shifts it.
    """
    made, mouths = sample.made, [h.reading.value for h in heard if h.reading.kind == "mouth"]
    shops = [p.machine.name if p.machine else None for p in (made, plan)]
    same = (
        made.bit.name == plan.bit.name
        and made.bit.sharpenings == plan.bit.sharpenings
        and shops[0] == shops[1]
    )
    if not mouths or not same:
        return None
    bit = plan.bit
    lift, taken = 2 * math.tan(bit.theta), bit.diameter - mouths[0]
    zero = next(t for t in joint_of(plan).terms("fit", _at(plan, 1.0)) if t.key[0] == "height zero")
    law = before.law(
        (
            diameter(bit, 1 / lift),
            angle(bit, -taken / (2 * math.sin(bit.theta) ** 2)),
            replace(zero, factor=-1.0),
        )
    )
    return Normal(taken / lift + law.mean, math.hypot(law.sd, defaults.CALIPER / lift))


def _rods_angle(readings: Sequence[Reading]) -> Normal | None:
    """The angle by two sizes of rods on one side, degrees, and its u = sqrt(2) u(x) / (|d1 - d2|
    dk/dtheta).
    """
    for kind, side in (("over_rods", 1.0), ("between_rods", -1.0)):
        found = {r.rod: side * r.value for r in readings if r.kind == kind and r.rod is not None}
        if len(found) < 2:
            continue
        (rod, width), (other, wider) = sorted(found.items())[0], sorted(found.items())[-1]
        theta = geometry.theta_from_rods(rod, width, other, wider)
        if not 0 < theta < math.pi / 4:  # misread: no bit is like that
            continue
        slope = math.tan(theta) / math.cos(theta) + 1 / math.cos(theta) ** 2
        return Normal(
            math.degrees(theta),
            math.degrees(math.sqrt(2) * defaults.CALIPER / ((other - rod) * slope)),
        )
    return None


def _shifted(by: float, law: Normal) -> Normal:
    return Normal(by + law.mean, law.sd)
