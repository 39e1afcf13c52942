"""What deserves a word beside the advice: limits, faults, slips, surprises, other boards. Codes
are stable.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..domain import Adjuster, Aspect, Figures, Piece, Plan, Remark, Settings, remark
from .aim import Aim, target
from .craft import craft_of
from .decision import Decision
from .drift import findings
from .ends import nibbles
from .knowledge import Knowledge
from .lapses import lapses
from .stages import moved_all_the_same
from .surprises import surprises
from .telltales import telltales, without_echoes, worth_saying


def notices(made: Decision) -> tuple[Remark, ...]:
    """Return the notices for the advice on the next piece, the family's own at the end."""
    know, pieces, found = made.known, made.pieces, made.found
    last = pieces[-1] if pieces else None
    return (
        *_unjudged(last),
        *moved_all_the_same(know.joint, pieces),
        *_faults(last, found.settings),
        *_limits(know, found),
        *(_coarse_steps(know, found) if pieces else _leaps(know)),
        *_odd(know, pieces, found),
        *craft_of(know.joint.plan).notices(made),
    )


def sizes(made: Decision) -> tuple[Remark, ...]:
    """Return what other boards than the set-up's own test pieces want, for a family's notices."""
    know, settings = made.known, made.settings
    last = made.pieces[-1] if made.pieces else None
    return (*_other_size(know, last, settings), *_real_board(know, settings))


def _unjudged(last: Piece | None) -> Iterable[Remark]:
    if last is not None and last.silent:
        yield remark("piece-unjudged", piece=last.number)


def _leaps(know: Knowledge) -> Iterable[Remark]:
    """Before the first piece: an adjuster one step of which leaps over the whole window; with the
    setting that is wanted where no mark is good.
    """
    for aspect in know.joint.plan.in_play:
        can, window = _adjuster(know, aspect, know.about), know.joint.window(aspect)
        slope = abs(know.joint.slope(aspect, know.about))
        if not know.kind(aspect).zeroed and can.coarse and can.step * slope > 2 * window.half:
            told = {"step": can.step, "leap": can.step * slope, "window": 2 * window.half}
            wanted = _in_the_end(know, aspect, know.about)
            if abs(can.nearest(wanted) - wanted) * slope > window.half:
                told["wanted"] = wanted + _zero(know, aspect)
            part = know.joint.plan.family.adjusted(aspect).part
            yield remark(f"coarse-{_step(can)}-{aspect}", aspect, **told, part=part)


def _adjuster(know: Knowledge, aspect: Aspect, settings: Settings) -> Adjuster:
    """What an aspect's setting can be set to; of a set with the step that it has there."""
    can = know.joint.plan.adjuster(aspect)
    return know.joint.plan.adjuster(aspect, settings.of(aspect)) if can.stacks else can


def _step(can: Adjuster) -> str:
    return "stack" if can.stacks else "step"


def _odd(know: Knowledge, pieces: Sequence[Piece], found: Aim) -> Iterable[Remark]:
    """What does not go together; where a move or a drift explains it, that is said instead."""
    told = worth_saying(findings(know, pieces), found, pieces[-1].number) if pieces else ()
    odd, told = without_echoes((*lapses(know, pieces), *surprises(know, pieces, found)), told)
    yield from telltales(know, told)
    yield from odd


def _faults(last: Piece | None, settings: Settings) -> Iterable[Remark]:
    for fault in last.verdict.faults if last else ():
        place = fault.place
        if fault.placed:
            yield remark(f"gap-{place}", place=place, lead=settings.lead)
        else:
            yield remark("gap-where")


def _limits(know: Knowledge, found: Aim) -> Iterable[Remark]:
    for aspect, (limit, wanted) in found.limited.items():
        why, remedy = limit.beyond(wanted)
        yield remark(
            f"limit-{aspect}",
            aspect,
            wanted=wanted + _zero(know, aspect),
            why=why,
            remedy=remedy,
            figures=limit.figures,
        )


def _coarse_steps(know: Knowledge, found: Aim) -> Iterable[Remark]:
    """A step that leaps over the whole window can leave every setting wrong."""
    for aspect, wanted in found.wanted.items():
        can = _adjuster(know, aspect, found.settings)
        if nibbles(know, aspect):  # not only of the next cut
            wanted = _in_the_end(know, aspect, found.settings)
        slope, now = know.joint.slope(aspect, found.settings), found.settings.of(aspect)
        off = min(abs(now - wanted), abs(can.nearest(wanted) - wanted)) * abs(slope)
        if (
            can.coarse
            and aspect not in (*found.limited, *found.settled, *found.asked)
            and off > know.joint.window(aspect).half
        ):
            told = {"wanted": wanted + _zero(know, aspect), "step": can.step}
            part = {"part": know.joint.plan.family.adjusted(aspect).part} if can.stacks else {}
            yield remark(f"coarse-{_step(can)}-{aspect}", aspect, **told, **part)


def _in_the_end(know: Knowledge, aspect: Aspect, settings: Settings) -> float:
    """The setting that is likeliest good, whatever marks and ends there are, true mm."""
    middle = target(know, aspect, know.pieces, settings)
    return know.joint.setting_for(aspect, middle, settings)


def _zero(know: Knowledge, aspect: Aspect) -> float:
    machine = know.joint.plan.machine
    return machine.zero(know.joint.plan.family.adjusted(aspect).part) if machine else 0.0


def _other_size(know: Knowledge, last: Piece | None, settings: Settings) -> Iterable[Remark]:
    """A piece of another size than the set-up's own was cut: give its figures too."""
    plan = know.joint.plan
    own = plan.figures()
    if last is None or all(last.sizes[name] == own[name] for name in last.sizes):
        return
    to = _carried(plan, settings, own, plan.figures(last.sizes))
    size = {"width": own["width"], "thickness": own["thickness"]}
    yield remark("other-size", **size, piece=last.number, **to)


def _real_board(know: Knowledge, settings: Settings) -> Iterable[Remark]:
    """The test pieces are scrap of another size: say what the real boards want."""
    plan = know.joint.plan
    boards, own = plan.boards(), plan.figures()
    followed = {name for kind in plan.family.settings for name in kind.with_figures}
    if all(abs(boards[name] - own[name]) < 1e-9 for name in followed):
        return
    size = {"width": boards["width"], "thickness": boards["thickness"]}
    yield remark("real-board", **size, **_carried(plan, settings, own, boards))


def _carried(plan: Plan, settings: Settings, own: Figures, other: Figures) -> dict[str, float]:
    """What follows a board's figures, by the part of the machine, on the user's scale, mm."""
    dial = settings.on_scale(plan.machine)
    return {
        kind.part: dial[kind.name]
        + sum(by * (other[name] - own[name]) for name, by in kind.with_figures.items())
        for kind in plan.family.settings
        if kind.with_figures
    }
