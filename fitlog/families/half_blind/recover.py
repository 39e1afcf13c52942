"""From what is named and measured of a kept joint to a plan and a sample, and from these to the
height and the words about it.
"""

from __future__ import annotations

import shlex
from dataclasses import dataclass, replace

from ...advice.history import History
from ...advice.settled import settled_by
from ...domain import Bit, Reading, SetUp
from ...errors import Mm, NotUnderstood, Refused
from ...language.units import MM_PER_INCH, Ruler
from .. import joint_of
from ..recovering import Asked, Recovered
from ..wood import coefficient
from . import cautions
from .plan import DovetailPlan, dovetail
from .possible import check_height
from .recovery import Recovery, recover
from .recovery_talk import notices, reasons
from .sample import Sample, pitch_of


@dataclass(frozen=True, kw_only=True)
class RecoveredHeight(Recovered):
    """What is handed back of a height."""

    found: Recovery


def recovered(asked: Asked, past: History, by: str, ruler: Ruler) -> RecoveredHeight:
    """Return the height that restores a fit. Raises Refused, NotUnderstood: nothing-kept, no-pitch,
    not-good, ...
    """
    if not asked.readings and asked.origin is None:
        raise NotUnderstood(
            "nothing-kept",
            "nothing says what the joint was",
            "measure the kept sample (--mouth, --tail-width, --over-rods, --between-rods) or name "
            "its set-up with --from N",
        )
    height = None if asked.origin is None else _good_height(asked.origin, past, by)
    plan, pitch_from = _plan(asked)
    if asked.remembered is not None:
        check_height(plan, asked.remembered)
    found = recover(plan, past, _sample(asked, plan, height), by, asked.remembered)
    moves = coefficient(plan.stock.species, plan.stock.sawn)
    return RecoveredHeight(
        reasons(found, pitch_from),
        notices(found, None if moves is None else moves.value),
        (*cautions.FULL, cautions.speed(plan)),
        _start(found, ruler),
        asked.origin,
        found=found,
    )


def _good_height(setup: SetUp, past: History, by: str) -> float:
    """The height at which a set-up ended with a good fit, mm; refuse one that did not, and say what
    it lacks.
    """
    plan, number, pieces = dovetail(setup.plan), setup.number, setup.tuned_on()
    where = "go on with it (fitlog use {number}), or name another with --from (see fitlog review)"
    if setup.undone:
        raise Refused(
            "undone-setup",
            "set-up {number} was undone",
            "name another with --from (see fitlog review)",
            number=number,
        )
    if not pieces:
        raise Refused(
            "not-good",
            "set-up {number} has no piece yet, so nothing of it is known to be good",
            where,
            number=number,
        )
    holder = settled_by(joint_of(plan, past.voices, by), "fit", pieces)
    if holder is not None:
        return holder.settings["bit_height"]
    said = pieces[-1].verdict.of("fit")
    raise Refused(
        "not-good",
        'set-up {number} did not end with a good fit: its piece {piece} said "{word}"'
        if said
        else "set-up {number} did not end with a good fit: its piece {piece} did not judge the fit",
        where,
        number=number,
        piece=pieces[-1].number,
        word=said.word if said else "",
    )


def _plan(asked: Asked) -> tuple[DovetailPlan, int | str]:
    """Today's plan, and where its pitch comes from."""
    bit, origin = asked.bit, asked.origin
    pitch, source = _pitch(asked)
    if origin is not None:
        old = dovetail(origin.plan)
        rabbet = old.rabbet_depth if old.bit.name == bit.name else bit.diameter / 2
        spaced = old.spaced if asked.spaced is None else asked.spaced
        plan = replace(
            old,
            bit=bit,
            stock=asked.stock,
            pin_stock=asked.pin_stock,
            machine=asked.machine,
            pitch=pitch,
            spaced=spaced,
            rabbet_depth=rabbet,
            many_tails=old.many_tails or asked.many_tails,
            scrap="",
            piece_width=None,
            piece_thickness=None,
            moisture=None,
            pin_moisture=None,
            scrap_moisture=None,
            spacing=None if asked.pitch is not None else old.spacing,
        )
        return _today(plan, asked), source
    plan = DovetailPlan(
        bit,
        asked.stock,
        asked.pin_stock,
        asked.machine,
        asked.stock.width,
        asked.stock.thickness,
        asked.pin_stock.thickness,
        pitch=pitch,
        rabbet_depth=bit.diameter / 2,
        spaced=bool(asked.spaced),
        many_tails=asked.many_tails,
    )
    return _today(plan, asked), source


def _pitch(asked: Asked) -> tuple[float, int | str]:
    """The pitch, mm, and where it comes from: "given", the number of a set-up, or the "sample"."""
    if asked.pitch is not None:
        return asked.pitch, "given"
    if asked.origin is not None:
        return dovetail(asked.origin.plan).pitch, asked.origin.number
    derived = pitch_of(asked.readings)
    if derived is None:
        raise Refused(
            "no-pitch",
            "the sample's pitch is not known",
            "give it with --pitch, or measure both its mouth and its tail end width, which add "
            "up to it",
        )
    return round(derived, 4), "sample"


def _today(plan: DovetailPlan, asked: Asked) -> DovetailPlan:
    """Today's own thicknesses over those of the stock or the set-up."""
    return replace(
        plan,
        tail_thickness=asked.thickness or plan.tail_thickness,
        pin_thickness=asked.pin_thickness or plan.pin_thickness,
    )


def _sample(asked: Asked, plan: DovetailPlan, height: float | None) -> Sample:
    """The kept joint: cut as its set-up says, or as today's plan with its own bit."""
    if asked.origin is not None:
        sample = Sample(dovetail(asked.origin.plan), asked.readings, height=height)
    else:
        made = plan if asked.sample_bit is None else replace(plan, bit=asked.sample_bit)
        sample = Sample(made, asked.readings, pitch_known=asked.pitch is not None)
    for reading in asked.readings:
        _check(reading, sample.made.bit)
    return sample


def _check(reading: Reading, bit: Bit) -> None:
    """Refuse what this bit cannot have cut: a slot or a tail's end wider than the bit."""
    name = {"mouth": "a mouth", "tail_width": "a tail end width"}.get(reading.kind)
    if name and reading.value >= bit.diameter + (0.0 if reading.kind == "mouth" else 0.5):
        raise Refused(
            "bad-reading",
            "{name} of {value:.2f} cannot be from bit {bit} of {diameter}",
            "check the unit and what was measured, or name the bit that cut the sample with "
            "--sample-bit",
            name=name,
            value=Mm(reading.value),
            bit=bit.name,
            diameter=Mm(bit.diameter),
        )


def _start(found: Recovery, ruler: Ruler) -> str:
    """The `fitlog start` line to go on with; every length carries its unit, fine enough to give the
    same setting back.
    """
    plan = found.plan
    zero = plan.machine.zero("height") if plan.machine else 0.0
    parts = ["fitlog", "start", "--bit", plan.bit.name, "--stock", plan.stock.name]
    if plan.pin_stock.name != plan.stock.name:
        parts += ["--pin-stock", plan.pin_stock.name]
    if plan.machine is not None:
        parts += ["--machine", plan.machine.name]
    parts += [
        "--pitch",
        _exact(plan.pitch, ruler),
        "--height",
        _exact(found.offer.height + zero, ruler),
    ]
    for option, value, usual in (
        ("--width", plan.board_width, plan.stock.width),
        ("--thickness", plan.tail_thickness, plan.stock.thickness),
        ("--pin-thickness", plan.pin_thickness, plan.pin_stock.thickness),
        ("--rabbet", plan.rabbet_depth, plan.bit.diameter / 2),
    ):
        parts += [option, _exact(value, ruler)] if abs(value - usual) > 1e-6 else []
    parts += ["--rabbet-bit", plan.rabbet_bit] if plan.rabbet_bit != "same" else []
    parts += ["--spacer"] if plan.spaced else []
    parts += (
        ["--tails", str(plan.tails)] if plan.tails else ["--many-tails"] if plan.many_tails else []
    )
    parts += ["--spacing", _exact(plan.spacing, ruler)] if plan.spacing else []
    parts += ["--proud", _exact(plan.wanted_step, ruler)] if plan.wanted_step else []
    return shlex.join(parts)


def _exact(mm: float, ruler: Ruler) -> str:
    if ruler.units == "fraction":
        return ruler.exact(mm)
    value, unit = (mm, "mm") if ruler.units == "mm" else (mm / MM_PER_INCH, "in")
    return f"{round(value, 4 if unit == 'mm' else 5):.10g}{unit}"
