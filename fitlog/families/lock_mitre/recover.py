"""Getting a lock mitre back: from the set-up that made it, for boards of today's thickness."""

from __future__ import annotations

import shlex
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from ...advice.history import History
from ...advice.knowledge import Knowledge, know
from ...advice.laws import law_of, nominal_of
from ...advice.settled import settled_by
from ...domain import Remark, Settings, SetUp, remark
from ...errors import NotUnderstood, Refused
from ...estimator.choice import chance_good
from ...language.units import Ruler
from .. import joint_of
from ..recovering import Asked, Recovered
from .craft import cautions, check_thickness
from .names import FENCE, HEIGHT, OFFSET
from .plan import MitrePlan, mitre


@dataclass(frozen=True, kw_only=True)
class RecoveredMitre(Recovered):
    """What is handed back. settings: true mm; chances: of good in each pair, by aspect."""

    plan: MitrePlan
    settings: Settings
    chances: dict[str, float]


def recovered(asked: Asked, past: History, by: str, ruler: Ruler) -> RecoveredMitre:
    """See `families.recovering.Recovering`."""
    if asked.origin is None:
        raise NotUnderstood(
            "nothing-kept",
            "kept ends alone do not say how a mitre was set",
            "name its set-up with --from N, or set up by the ends: fitlog start --joint lock-mitre "
            "--given set-by=blocks",
        )
    old, plan = mitre(asked.origin.plan), _today(asked)
    check_thickness(plan)
    held = _held(asked.origin, past, by)
    moved = held.changed(
        **{
            HEIGHT: held[HEIGHT] + (plan.tail_thickness - old.figures()["thickness"]) / 2,
            OFFSET: held[OFFSET] + (plan.pin_thickness - old.figures()["upright"]) / 2,
        }
    )
    known = know(plan, (), past, moved, by)
    chances = {aspect: _chance(known, aspect, moved) for aspect in (HEIGHT, FENCE)}
    return RecoveredMitre(
        reasons=tuple(_reasons(asked.origin, known, moved, plan, old)),
        notices=tuple(_notices(plan, old, chances)),
        cautions=cautions(plan, None),
        start=_start(plan, moved, ruler),
        origin=asked.origin,
        plan=plan,
        settings=moved,
        chances=chances,
    )


def _today(asked: Asked) -> MitrePlan:
    assert asked.origin is not None
    old = mitre(asked.origin.plan)
    thick = asked.thickness or old.tail_thickness
    return replace(
        old,
        bit=asked.bit,
        stock=asked.stock,
        pin_stock=asked.pin_stock,
        machine=asked.machine,
        tail_thickness=thick,
        pin_thickness=asked.pin_thickness or (thick if old.equal else old.pin_thickness),
        scrap="",
        piece_width=None,
        piece_thickness=None,
        moisture=None,
        pin_moisture=None,
        scrap_moisture=None,
    )


def _held(setup: SetUp, past: History, by: str) -> Settings:
    """The settings that a set-up ended good with, on its test pieces; refuse one that did not."""
    pieces, joint = setup.pieces(), joint_of(setup.plan, past.voices, by)
    if setup.undone or setup.outcome != "finished" or setup.as_it_is or not pieces:
        raise Refused(
            "not-good",
            "set-up {number} did not end good",
            "name another with --from (see fitlog review)",
            number=setup.number,
        )
    held = pieces[-1].settings
    for aspect in (HEIGHT, FENCE):
        good = settled_by(joint, aspect, pieces)
        held = held if good is None else held.moved(aspect, good.settings.of(aspect))
    return held


def _chance(known: Knowledge, aspect: str, at: Settings) -> float:
    law, window = law_of(known, aspect, at), known.joint.window(aspect)
    nominal = np.array([nominal_of(known, aspect, at)])
    return float(chance_good(law, nominal, window, known.joint.piece_sd(aspect))[0])


def _reasons(
    origin: SetUp, known: Knowledge, at: Settings, plan: MitrePlan, old: MitrePlan
) -> Iterator[Remark]:
    yield remark("mitre-from", setup=origin.number, by=plan.tail_thickness - old.tail_thickness)
    height, fence = (law_of(known, aspect, at).sd for aspect in (HEIGHT, FENCE))
    yield remark("known-to", height=height, fence=fence)


def _notices(plan: MitrePlan, old: MitrePlan, chances: dict[str, float]) -> Iterator[Remark]:
    if plan.bit.name != old.bit.name:
        yield remark("another-bit")
    yield remark("by-blocks")
    yield remark("test-first", chance=chances[HEIGHT] * chances[FENCE])


def _start(plan: MitrePlan, settings: Settings, ruler: Ruler) -> str:
    """The `fitlog start` line to go on with; every length carries its unit."""
    dial = settings.on_scale(plan.machine)
    parts = ["fitlog", "start", "--joint", plan.joint, "--bit", plan.bit.name]
    parts += ["--stock", plan.stock.name]
    if plan.pin_stock.name != plan.stock.name:
        parts += ["--pin-stock", plan.pin_stock.name]
    if plan.machine is not None:
        parts += ["--machine", plan.machine.name]
    for option, value, usual in (
        ("--thickness", plan.tail_thickness, plan.stock.thickness),
        ("--pin-thickness", plan.pin_thickness, plan.tail_thickness),
    ):
        parts += [option, ruler.exact(value)] if abs(value - usual) > 1e-6 else []
    parts += ["--height", ruler.exact(dial[HEIGHT])]
    for name, value in (("fence-offset", dial[OFFSET]), ("middle", plan.middle)):
        parts += ["--given", f"{name}={ruler.exact(value)}"]
    return shlex.join(parts)
