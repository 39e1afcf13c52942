"""Getting a sliding dovetail back: from the set-up that made it, and from what a kept sample of its
tongue and socket measures.

The socket's height is taken as it was, since new tongues go into sockets like the old ones; the
tongue is found from what all set-ups taught, and from the sample's own root and mouth where the bit
is still the same.
"""

from __future__ import annotations

import shlex
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from ...advice.history import History
from ...advice.knowledge import Knowledge, know
from ...advice.laws import law_if_good, nominal_of
from ...advice.settled import settled_by
from ...domain import Piece, Remark, Settings, SetUp, Verdict, remark
from ...errors import NotUnderstood, Refused
from ...estimator.choice import chance_good
from ...language.units import MM_PER_INCH, Ruler
from .. import joint_of
from ..recovering import Asked, Recovered
from .cautions import cautions
from .names import EXPOSURE, FIT, HEIGHT, SHOULDER, TONGUE
from .plan import SlidingPlan, sliding

_ENOUGH = 0.5  # chance of good from which on real wood may be tried first in scrap of its own


@dataclass(frozen=True, kw_only=True)
class RecoveredTongue(Recovered):
    """What is handed back of a slide. settings: true mm; range90: of the exposure; chance: that a
    tongue cut at it is good.
    """

    plan: SlidingPlan
    settings: Settings
    range90: tuple[float, float]
    chance: float


def recovered(asked: Asked, past: History, by: str, ruler: Ruler) -> RecoveredTongue:
    """See `families.recovering.Recovering`."""
    if asked.origin is None:
        raise NotUnderstood(
            "nothing-kept",
            "a sample alone does not say how a slide was cut",
            "name its set-up with --from N",
        )
    held = _good(asked.origin, past, by)
    plan = _today(asked, held.settings)
    same_bit = plan.bit.name == asked.origin.plan.bit.name
    if asked.readings and not same_bit:
        raise Refused(
            "bad-reading",
            "the sample was cut by {old}, and today's bit is {new}",
            "leave its readings out, or name its own bit with --bit",
            old=asked.origin.plan.bit.name,
            new=plan.bit.name,
        )
    sample = Piece(0, held.settings, Verdict(), asked.readings, ())
    known = know(plan, (), past, held.settings, by, (sample,) if asked.readings else ())
    at, chance, ends = _exposure(known, held.settings)
    settings = held.settings.with_(EXPOSURE, at)
    return RecoveredTongue(
        reasons=tuple(_reasons(asked, known, held)),
        notices=tuple(_notices(plan, same_bit=same_bit, chance=chance)),
        cautions=cautions(plan, None),
        start=_start(plan, settings, ruler),
        origin=asked.origin,
        plan=plan,
        settings=settings,
        range90=ends,
        chance=chance,
    )


def _good(setup: SetUp, past: History, by: str) -> Piece:
    """The piece that a set-up ended good with; refuse one that did not."""
    pieces = setup.pieces()
    joint = joint_of(setup.plan, past.voices, by)
    held = None if setup.undone else settled_by(joint, FIT, pieces)
    if held is None:
        raise Refused(
            "not-good",
            "set-up {number} did not end with a good fit",
            "name another with --from (see fitlog review)",
            number=setup.number,
        )
    tongue = settled_by(joint, SHOULDER, pieces) or held
    return replace(held, settings=held.settings.with_(TONGUE, tongue.settings[TONGUE]))


def _today(asked: Asked, at: Settings) -> SlidingPlan:
    assert asked.origin is not None
    old = sliding(asked.origin.plan)
    return replace(
        old,
        bit=asked.bit,
        stock=asked.stock,
        pin_stock=asked.pin_stock,
        machine=asked.machine,
        socket_height=at[HEIGHT],
        tail_thickness=asked.thickness or old.tail_thickness,
        pin_thickness=asked.pin_thickness or old.pin_thickness,
        scrap="",
        piece_width=None,
        piece_thickness=None,
        moisture=None,
        pin_moisture=None,
        scrap_moisture=None,
    )


def _exposure(known: Knowledge, at: Settings) -> tuple[float, float, tuple[float, float]]:
    """The exposure for the middle of the window, the chance of good there, and where the right one
    lies with 90 %, mm.
    """
    joint, window = known.joint, known.joint.window(FIT)
    law = law_if_good(known, FIT, at)
    low, middle, high = (
        joint.setting_for(FIT, window.middle - off, at)
        for off in (law.quantile(0.95), law.mean, law.quantile(0.05))
    )
    limit, can = joint.limit(EXPOSURE, at), joint.plan.adjuster(FIT)
    value = can.nearest(min(max(middle, limit.low), limit.high))
    nominal = nominal_of(known, FIT, at.with_(EXPOSURE, value))
    chance = chance_good(law, np.array([nominal]), window, joint.piece_sd(FIT))
    return value, float(chance[0]), (low, high)


def _reasons(asked: Asked, known: Knowledge, held: Piece) -> Iterator[Remark]:
    assert asked.origin is not None
    yield remark("slide-from", setup=asked.origin.number, socket=held.settings[HEIGHT])
    if asked.readings:
        kinds = tuple(r.kind.replace("_", " ") for r in asked.readings)
        yield remark("sample-read", kinds=kinds, left_out=len(known.misread))


def _notices(plan: SlidingPlan, *, same_bit: bool, chance: float) -> Iterator[Remark]:
    if not same_bit:
        yield remark("sockets-anew", bit=plan.bit.name)
    yield remark("one-trial" if chance >= _ENOUGH else "thick-trial", chance=chance)


def _start(plan: SlidingPlan, settings: Settings, ruler: Ruler) -> str:
    """The `fitlog start` line to go on with; every length carries its unit."""
    dial = settings.on_scale(plan.machine)
    parts = ["fitlog", "start", "--joint", plan.joint, "--bit", plan.bit.name]
    parts += ["--stock", plan.stock.name]
    if plan.pin_stock.name != plan.stock.name:
        parts += ["--pin-stock", plan.pin_stock.name]
    if plan.machine is not None:
        parts += ["--machine", plan.machine.name]
    parts += ["--height", _exact(dial[HEIGHT], ruler)]
    for name, value in (("tongue-height", dial[TONGUE]), ("exposure", dial[EXPOSURE])):
        parts += ["--given", f"{name}={_exact(value, ruler)}"]
    for option, value, usual in (
        ("--width", plan.board_width, plan.stock.width),
        ("--thickness", plan.tail_thickness, plan.stock.thickness),
        ("--pin-thickness", plan.pin_thickness, plan.pin_stock.thickness),
    ):
        parts += [option, _exact(value, ruler)] if abs(value - usual) > 1e-6 else []
    for name, on in (("one-face", plan.one_face), ("to-axis", plan.to_axis)):
        parts += ["--given", f"{name}=yes"] if on else []
    if plan.exposure_by != "rod":
        parts += ["--given", f"exposure-by={plan.exposure_by}"]
    return shlex.join(parts)


def _exact(mm: float, ruler: Ruler) -> str:
    if ruler.units == "fraction":
        return ruler.exact(mm)
    value, unit = (mm, "mm") if ruler.units == "mm" else (mm / MM_PER_INCH, "in")
    return f"{round(value, 4 if unit == 'mm' else 5):.10g}{unit}"
