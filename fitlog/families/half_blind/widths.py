"""How wide a slot's mouth and a tail's end are: what a caliper is to read on the sample.

By the printed figures they would be a tenth of a millimetre off, more than the window of the fit:
a bit is mostly ground undersize. They are what the log knows of the bit, or a mouth as measured.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Literal, NamedTuple

from ... import defaults
from ...advice.history import History
from ...domain import Reading, Settings, SetUp
from ...estimator.history import suspect
from ...estimator.posterior import Normal
from .. import Joint, joint_of
from ..bits import diameter, of_the_bit
from .layouts import Layout
from .names import FIT, HEIGHT
from .plan import dovetail
from .readings import expected

_SAME = 0.005  # mm of height: a slot as high as this one
_NINETY = 1.6449  # sds on either side of a normal law's mean that hold 90 % of it


class Widths(NamedTuple):
    """mouth, tail, bit: of a slot at the surface, of a tail at its end, the cutting diameter, mm.

    by: "measured", the mouth at this height; "log": finished set-ups or this one's pieces told of
    the bit; "figures": nothing did.  window: half that of the fit, mm.
    """

    mouth: Normal
    tail: Normal
    bit: Normal
    by: Literal["measured", "log", "figures"]
    window: float

    @property
    def doubt(self) -> float:
        """How far off either may be with 90 %, mm."""
        return _NINETY * max(self.mouth.sd, self.tail.sd)

    @property
    def rough(self) -> bool:
        """Whether that is worse than the window of the fit."""
        return self.doubt > self.window


def widths(setup: SetUp, past: History, layout: Layout, settings: Settings) -> Widths:
    """Return what is known of the widths at these settings. past: what was learnt before this
    set-up, whose own pieces and measured slots count as well.
    """
    plan = dovetail(setup.plan)
    joint, known = joint_of(plan, past.voices), past.and_(setup)
    causes = joint.terms(FIT, settings)
    slots = [r for r in joint.term_readings(setup.slots()) if not suspect(r)]
    lessons = known.of(FIT).and_(slots)
    told = bool(slots) or known.taught(FIT, [t for t in causes if of_the_bit(t)]) > 0

    def law(kind: str) -> Normal:
        nominal, terms = expected(plan, settings[HEIGHT], Reading(kind, 1.0), causes)
        off = lessons.law(terms)
        return Normal(nominal + off.mean, off.sd)

    mouth, tail, bit = law("mouth"), law("tail_width"), lessons.law((diameter(plan.bit),))
    read = _as_measured(setup, joint, settings)
    return Widths(
        mouth if read is None else Normal(read, defaults.CALIPER),
        Normal(tail.mean + layout.spacing - plan.pitch, tail.sd),
        Normal(plan.bit.diameter + bit.mean, bit.sd),
        "measured" if read is not None else "log" if told else "figures",
        joint.window(FIT).half,
    )


def _as_measured(setup: SetUp, joint: Joint, settings: Settings) -> float | None:
    """The mouth that was read last at this height, mm, unless it was misread."""
    at = [
        piece
        for piece in (*setup.pieces(), *setup.slots())
        if abs(piece.settings[HEIGHT] - settings[HEIGHT]) < _SAME
    ]
    read = [
        reading.value
        for piece in at
        for reading in piece.readings
        if reading.kind == "mouth"
        and not any(map(suspect, joint.term_readings([replace(piece, readings=(reading,))])))
    ]
    return read[-1] if read else None
