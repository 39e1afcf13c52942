"""What is said of a recovered height: where each number comes from, and what to mind."""

from __future__ import annotations

from collections.abc import Iterable

from ...domain import Remark, remark
from ...estimator.posterior import Normal
from ..bits import diameter_prior
from .plan import DovetailPlan
from .reasons import state_of
from .recovery import ODD, Heard, Recovery


def reasons(found: Recovery, pitch_from: int | str) -> tuple[Remark, ...]:
    """Where each number comes from. pitch_from: the set-up that says the pitch, or
    "given", or "sample", whose own widths add up to it."""
    return tuple(_reasons(found, pitch_from))


def _reasons(found: Recovery, pitch_from: int | str) -> Iterable[Remark]:
    yield remark("pitch-from", pitch=found.plan.pitch, source=pitch_from)
    yield _bit(found)
    yield from _sample(found)
    yield _height(found)
    if found.cut_at is not None:
        yield remark("cut-at", "fit", height=_high(found.cut_at, found.plan))
    if found.rods_angle is not None:
        yield remark("angle-from-rods", rods=found.rods_angle, known=found.angle_deg)
    worth = found.test_piece
    yield remark(
        "test-piece" if worth else "no-test-piece", "fit", chance=found.offer.chance, worth=worth
    )


def _sample(found: Recovery) -> Iterable[Remark]:
    """What is taken for granted of the sample."""
    sample, window = found.sample, found.window
    if sample is None or found.not_good or all(h.left_out for h in found.heard):
        return
    if sample.height is not None:
        zero = sample.made.machine.zero("height") if sample.made.machine else 0.0
        yield remark("sample-height", height=sample.height + zero)
        return
    yield remark("sample-good", window=(window.low, window.high))


def _bit(found: Recovery) -> Remark:
    """The bit with its figures as they are taken, and from what."""
    bit = found.plan.bit
    same = found.sample is not None and found.sample.made.bit.name == bit.name
    heard = same and any(h.reading.kind != "pull_gap" and not h.left_out for h in found.heard)
    told = bool(found.taught) or heard
    return remark(
        "bit-from",
        name=bit.name,
        diameter=found.diameter,
        angle=found.angle_deg,
        taught=found.taught,
        sample=heard,
        state=state_of(bit),
        under=None if told or bit.measured else -diameter_prior(bit)[0],
    )


def _height(found: Recovery) -> Remark:
    heard = ((h.reading.kind, h.reading.rod, h.height_sd) for h in found.heard if not h.left_out)
    return remark(
        "height-from",
        "fit",
        figures=_high(found.figures, found.plan),
        learnt=bool(found.learnt),
        heard=tuple(heard),
        alone=bool(found.heard),
    )


def _high(height: Normal, plan: DovetailPlan) -> tuple[float, float]:
    """A height on the user's own scale and its sd, mm."""
    zero = plan.machine.zero("height") if plan.machine else 0.0
    return height.mean + zero, height.sd


def notices(found: Recovery, moves: float | None = None) -> tuple[Remark, ...]:
    """What to mind. moves: how much of its width the tail board moves per 1 % of moisture; None: it
    is no solid wood.
    """
    return tuple(_notices(found, moves))


def _notices(found: Recovery, moves: float | None) -> Iterable[Remark]:
    plan, sample = found.plan, found.sample
    yield from (_odd(h, found) for h in found.heard if abs(h.off) > ODD or h.left_out)
    if found.not_good:
        yield remark("sample-not-good", "fit")
    if sample is not None:
        yield from _elsewhere(plan, sample.made, bool(sample.readings))
    if sample is not None and sample.readings:
        if plan.bit.sharpenings and sample.made.bit == plan.bit:
            yield remark("sharpened", name=plan.bit.name, times=plan.bit.sharpenings)
        yield from _moisture(found, moves)
    if found.remembered is not None:
        yield _remembered(found)
    yield remark("height-only")


def _odd(heard: Heard, found: Recovery) -> Remark:
    """A reading that doesn't go with what was known: in heights where it tells one."""
    reading, cut, sample = heard.reading, found.cut_at, found.sample
    if reading.kind == "mouth" and cut is not None:
        own = None if sample is None else sample.height
        return remark(
            "heights-disagree",
            "fit",
            mouth=_high(cut, found.plan),
            own=None if own is None else _high(Normal(own, 0.0), found.plan)[0],
            figures=_high(found.figures, found.plan),
            off=heard.off,
            left_out=heard.left_out,
        )
    return remark(
        "reading-disagrees",
        "fit",
        kind=reading.kind,
        rod=reading.rod,
        value=reading.value,
        off=heard.off,
        left_out=heard.left_out,
    )


def _elsewhere(plan: DovetailPlan, made: DovetailPlan, measured: bool) -> Iterable[Remark]:
    if plan.bit.name != made.bit.name:
        yield remark("other-bit", made=made.bit.name, name=plan.bit.name, measured=measured)
    elif plan.bit.sharpenings != made.bit.sharpenings:
        yield remark("sharpened-since", name=plan.bit.name)
    shops = [p.machine.name if p.machine else "" for p in (plan, made)]
    if shops[0] != shops[1]:
        yield remark("other-machine", made=shops[1])


def _moisture(found: Recovery, moves: float | None) -> Iterable[Remark]:
    """A kept sample moves with its moisture, dimension x C a per cent (Wood Handbook, FPL-GTR-190,
    2010, equation 13-2).
    """
    assert found.sample is not None
    widths = {r.kind: r.value for r in found.sample.readings if r.kind in ("mouth", "tail_width")}
    if moves is None or not widths:
        return
    kind = max(widths, key=lambda k: widths[k])
    yield remark("moisture", kind=kind, width=widths[kind], per_cent=widths[kind] * moves)


def _remembered(found: Recovery) -> Remark:
    offer = found.remembered
    assert offer is not None
    zero = found.plan.machine.zero("height") if found.plan.machine else 0.0
    return remark(
        "remembered",
        "fit",
        height=offer.height + zero,
        clearance=offer.clearance,
        chance=offer.chance,
    )
