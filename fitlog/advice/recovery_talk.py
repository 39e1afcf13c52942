"""What is said of a recovered height: where each number comes from, and what to mind. In the user's
own units and scale.
"""

from __future__ import annotations

from collections.abc import Iterable

from ..domain import Plan, Reading, Remark
from ..estimator.posterior import Normal
from ..families.half_blind.causes import diameter_prior
from ..language.units import MM_PER_INCH, Ruler, counted
from .recovery import ODD, Heard, Recovery

_NAMES = {
    "mouth": "the mouth",
    "tail_width": "the tail end width",
    "over_rods": "the width over rods",
    "between_rods": "the width between rods",
    "pull_gap": "the pull-apart gap",
}


def reasons(found: Recovery, pitch_from: str, ruler: Ruler) -> tuple[Remark, ...]:
    """Where each number comes from. pitch_from: who or what says the pitch."""
    return tuple(_reasons(found, pitch_from, ruler))


def _reasons(found: Recovery, pitch_from: str, ruler: Ruler) -> Iterable[Remark]:
    plan = found.plan
    yield Remark("pitch-from", f"Pitch: {ruler.size(plan.pitch)}, {pitch_from}.")
    yield Remark("bit-from", f"Bit: {_bit(found, ruler)}.")
    yield from _sample(found, ruler)
    yield Remark("height-from", _height(found, ruler), "fit")
    if found.cut_at is not None:
        yield Remark(
            "cut-at",
            "Cross-check: by its mouth alone the sample was cut at a bit height of "
            f"{_high(found.cut_at, plan, ruler)}.",
            "fit",
        )
    if found.rods_angle is not None:
        angle, known = found.rods_angle, found.angle_deg
        yield Remark(
            "angle-from-rods",
            f"Angle: the two rods alone give {angle.mean:.2f} +- {angle.sd:.2f} deg; with all that "
            "is known it is taken as "
            f"{known.mean:.2f} +- {known.sd:.2f} deg.",
        )
    yield _worth(found)


def _sample(found: Recovery, ruler: Ruler) -> Iterable[Remark]:
    """What is taken for granted of the sample."""
    sample, window = found.sample, found.window
    if sample is None or found.not_good or all(h.left_out for h in found.heard):
        return
    if sample.height is not None:
        zero = sample.made.machine.height_zero if sample.made.machine else 0.0
        text = f"Sample: cut at the bit height of its set-up, {ruler.length(sample.height + zero)}."
        yield Remark("sample-height", text)
        return
    yield Remark(
        "sample-good",
        f"Sample: it was good, so its clearance is taken to lie from {ruler.length(window.low)} to "
        f"{ruler.length(window.high)}; its own height is not needed.",
    )


def _bit(found: Recovery, ruler: Ruler) -> str:
    """The bit with its figures as they are taken, and from what."""
    bit, size, angle = found.plan.bit, found.diameter, found.angle_deg
    told = [counted(found.taught, "finished set-up")] if found.taught else []
    same = found.sample is not None and found.sample.made.bit.name == bit.name
    if same and any(h.reading.kind != "pull_gap" and not h.left_out for h in found.heard):
        told.append("the sample")
    state = (
        "measured"
        if bit.measured
        else "sharpened, not measured since"
        if bit.sharpenings
        else "as sold"
    )
    source = (
        f"corrected by {' and '.join(told)}"
        if told
        else f"{state}, nothing is known of it beyond its figures"
    )
    if not told and not bit.measured:
        source += f" (such bits run {ruler.length(-diameter_prior(bit)[0])} under)"
    return (
        f"{bit.name} is taken to cut like {ruler.length(size.mean)} +- {ruler.length(size.sd)} and "
        f"{angle.mean:.2f} +- "
        f"{angle.sd:.2f} deg; {source}"
    )


def _height(found: Recovery, ruler: Ruler) -> str:
    alone = " alone" if found.heard else ""
    parts = [
        f"{_high(found.figures, found.plan, ruler)} by the "
        f"figures{' and the history' if found.learnt else ''}{alone}"
    ]
    parts += [
        f"+- {ruler.length(h.height_sd)} with {_NAMES[h.reading.kind]}{_rod(h.reading, ruler)}"
        for h in found.heard
        if not h.left_out
    ]
    return (
        f"Bit height: {', '.join(parts)}. (+- is one standard deviation: two times in three "
        "the "
        "truth lies inside.)"
    )


def _rod(reading: Reading, ruler: Ruler) -> str:
    return f" of {ruler.size(reading.rod)}" if reading.rod is not None else ""


def _high(height: Normal, plan: Plan, ruler: Ruler) -> str:
    """A height on the user's own scale and its sd."""
    zero = plan.machine.height_zero if plan.machine else 0.0
    return f"{ruler.length(height.mean + zero)} +- {ruler.length(height.sd)}"


def _worth(found: Recovery) -> Remark:
    """The rule of the confirming cut, before the first one."""
    lead = f"A joint cut at this height is good with a chance of {_percent(found.offer.chance)}"
    if found.test_piece:
        return Remark("test-piece", f"{lead}: one test piece first is worth its wood.", "fit")
    return Remark(
        "no-test-piece", f"{lead}: for the fit a test piece is not worth its wood.", "fit"
    )


def _percent(chance: float) -> str:
    return "under 1%" if chance < 0.01 else "over 99%" if chance > 0.99 else f"{chance:.0%}"


def notices(found: Recovery, ruler: Ruler, moves: float | None = None) -> tuple[Remark, ...]:
    """What to mind. moves: how much of its width the tail board moves per 1 % of moisture; None: it
    is no solid wood.
    """
    return tuple(_notices(found, ruler, moves))


def _notices(found: Recovery, ruler: Ruler, moves: float | None) -> Iterable[Remark]:
    plan, sample = found.plan, found.sample
    yield from (_odd(h, found, ruler) for h in found.heard if abs(h.off) > ODD or h.left_out)
    if found.not_good:
        yield Remark(
            "sample-not-good",
            "Its pull-apart gap says that the sample was not a good joint: it is taken by that "
            "gap, not as good.",
            "fit",
        )
    if sample is not None:
        yield from _elsewhere(plan, sample.made, bool(sample.readings))
    if sample is not None and sample.readings:
        if plan.bit.sharpenings and sample.made.bit == plan.bit:
            yield Remark(
                "sharpened",
                f"Bit {plan.bit.name} was sharpened {plan.bit.sharpenings} x. If the sample is "
                "older than that, name a set-up "
                "from before it with --from, so that its readings are not taken for today's "
                "diameter.",
            )
        yield from _moisture(found, ruler, moves)
    if found.remembered is not None:
        yield _remembered(found, ruler)
    yield Remark(
        "height-only",
        "Only the height comes back this way: fence and socket depth are proposed by `fitlog "
        "start`.",
    )


def _odd(heard: Heard, found: Recovery, ruler: Ruler) -> Remark:
    """A reading that doesn't go with what was known: in heights where it tells one, and what may be
    behind it.
    """
    name = _NAMES[heard.reading.kind]
    at, cut, sample = _high(found.figures, found.plan, ruler), found.cut_at, found.sample
    known = f"figures and history, {at}"
    if sample is not None and sample.height is not None:
        known = (
            "its set-up, "
            f"{_high(Normal(sample.height, 0.0), found.plan, ruler).partition(' +-')[0]}"
        )
    heights = heard.reading.kind == "mouth" and cut is not None
    what = (
        f"The height by the mouth, {_high(cut, found.plan, ruler)}, and that by {known}, disagree"
        if heights and cut is not None
        else f"{name.capitalize()}{_rod(heard.reading, ruler)} "
        f"({ruler.length(heard.reading.value)}) disagrees with the rest"
    )
    left = "It is left out. " if heard.left_out else ""
    return Remark(
        "heights-disagree" if heights else "reading-disagrees",
        f"{what} by {abs(heard.off):.1f} standard deviations. {left}The sample may be from another "
        "bit or another pitch, or "
        "have moved with its moisture; measure again.",
        "fit",
    )


def _elsewhere(plan: Plan, made: Plan, measured: bool) -> Iterable[Remark]:
    if plan.bit.name != made.bit.name:
        what = "pitch, boards and wood" if measured else "pitch and boards"
        yield Remark(
            "other-bit",
            f"The joint was cut with bit {made.bit.name}: only its {what} carry over, bit "
            f"{plan.bit.name} is known by its own "
            "figures and set-ups. Another angle changes the look of the tails.",
        )
    elif plan.bit.sharpenings != made.bit.sharpenings:
        yield Remark(
            "sharpened-since",
            f"Bit {plan.bit.name} was sharpened since: its angle carries over, its diameter does "
            "not.",
        )
    shops = [p.machine.name if p.machine else "" for p in (plan, made)]
    if shops[0] != shops[1]:
        yield Remark(
            "other-machine",
            f"The joint was cut at {shops[1] or 'a table without a name'}: the zero of the height "
            "scale and the pitch belong "
            "to the table, and here they are known only as far as set-ups at it taught them.",
        )


def _moisture(found: Recovery, ruler: Ruler, moves: float | None) -> Iterable[Remark]:
    """A kept sample moves with its moisture, dimension x C a per cent (Wood Handbook, FPL-GTR-190,
    2010, equation 13-2).
    """
    assert found.sample is not None
    widths = {r.kind: r.value for r in found.sample.readings if r.kind in ("mouth", "tail_width")}
    if moves is None or not widths:
        return
    kind = max(widths, key=lambda k: widths[k])
    yield Remark(
        "moisture",
        f"A kept sample moves with its moisture: {_NAMES[kind]} of {ruler.length(widths[kind])} by "
        "about "
        f"{_thin(widths[kind] * moves, ruler)} a per cent. Let it lie where the boards lie before "
        "it is measured.",
    )


def _thin(mm: float, ruler: Ruler) -> str:
    """A length too small for two decimals of a mm."""
    return f"{mm:.3f} mm" if ruler.units == "mm" else f"{mm / MM_PER_INCH * 1000:.1f} thou"


def _remembered(found: Recovery, ruler: Ruler) -> Remark:
    offer = found.remembered
    assert offer is not None
    zero = found.plan.machine.height_zero if found.plan.machine else 0.0
    return Remark(
        "remembered",
        f"At the height you remember, {ruler.length(offer.height + zero)}, the clearance would be "
        f"{ruler.length(offer.clearance.mean)} +- {ruler.length(offer.clearance.sd)}: good with a "
        "chance of "
        f"{_percent(offer.chance)}.",
        "fit",
    )
