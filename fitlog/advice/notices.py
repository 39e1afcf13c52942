"""What deserves a word beside the advice: limits, faults, slips, surprises, the fence side. Codes
are stable.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from .. import defaults
from ..domain import Piece, Remark, Settings, SetUp, remark
from ..families.half_blind.plan import dovetail
from .aim import Aim
from .cautions import TURN
from .chances import centre_by, fence_side_chance, second_pass_safe
from .decision import decide
from .drift import findings
from .history import History
from .knowledge import Knowledge
from .lapses import lapses
from .moisture import plan_remarks
from .stages import moved_all_the_same
from .surprises import surprises
from .telltales import telltales, without_echoes, worth_saying


def notices(know: Knowledge, pieces: Sequence[Piece], found: Aim) -> tuple[Remark, ...]:
    """Return the notices for the advice on the next piece."""
    last = pieces[-1] if pieces else None
    return (
        *_unjudged(last),
        *moved_all_the_same(know.joint, pieces),
        *_faults(last, found.settings),
        *_limits(know, found),
        *(_coarse_steps(know, found) if pieces else _leaps(know)),
        *_odd(know, pieces, found),
        *_centre(know, pieces, found),
        *_other_size(know, last, found.settings),
        *_real_board(know, found.settings),
        *_rabbet(know, last, found.settings),
        *(() if pieces else plan_remarks(dovetail(know.joint.plan))),
    )


def before_the_turn(setup: SetUp, past: History) -> tuple[Remark, ...]:
    """Return what the second pass on the last piece, at the fence offset it was cut at, asks for
    beforehand.
    """
    pieces = setup.pieces()
    if not pieces:
        return ()
    made = decide(setup, past)
    if "centre" in made.settled and not made.centre_by:
        chance = made.found.settled["centre"].chance
        return (remark("centre-known", "centre", chance=chance),)
    return (*_centre(made.known, pieces, Aim(pieces[-1].settings)), TURN)


def _unjudged(last: Piece | None) -> Iterable[Remark]:
    if last is not None and last.silent:
        yield remark("piece-unjudged", piece=last.number)


def _leaps(know: Knowledge) -> Iterable[Remark]:
    """Before the first piece: an adjuster one step of which leaps over the whole window."""
    for aspect in know.joint.plan.in_play:
        can, window = know.joint.plan.adjuster(aspect), know.joint.window(aspect)
        leap = can.step * abs(know.joint.slope(aspect, know.about))
        if aspect != "centre" and can.coarse and leap > 2 * window.half:
            yield remark(
                f"coarse-step-{aspect}",
                aspect,
                step=can.step,
                leap=leap,
                window=2 * window.half,
                part=know.joint.plan.family.adjusted(aspect).part,
            )


def _odd(know: Knowledge, pieces: Sequence[Piece], found: Aim) -> Iterable[Remark]:
    """What does not go together; where a move or a drift explains it, that is said instead."""
    told = worth_saying(findings(know, pieces), found, pieces[-1].number) if pieces else ()
    odd, told = without_echoes((*lapses(know, pieces), *surprises(know, pieces, found)), told)
    yield from telltales(know, told)
    yield from odd


def _faults(last: Piece | None, settings: Settings) -> Iterable[Remark]:
    for fault in last.verdict.faults if last else ():
        if fault.place == "unplaced":
            yield remark("gap-where")
        else:
            place = fault.place
            yield remark(f"gap-{place}", place=place, height=settings["bit_height"])


def _limits(know: Knowledge, found: Aim) -> Iterable[Remark]:
    for aspect, (limit, wanted) in found.limited.items():
        over = wanted > limit.high + 1e-9
        zero = found.settings.on_scale(know.joint.plan.machine)[
            know.joint.plan.family.setting_of[aspect]
        ] - found.settings.of(aspect)
        why, remedy = (
            (limit.high_why, limit.high_remedy) if over else (limit.low_why, limit.low_remedy)
        )
        yield remark(f"limit-{aspect}", aspect, wanted=wanted + zero, why=why, remedy=remedy)


def _coarse_steps(know: Knowledge, found: Aim) -> Iterable[Remark]:
    """A step that leaps over the whole window can leave every setting wrong."""
    for aspect, wanted in found.wanted.items():
        can = know.joint.plan.adjuster(aspect)
        off = abs(found.settings.of(aspect) - wanted) * abs(
            know.joint.slope(aspect, found.settings)
        )
        zero = found.settings.on_scale(know.joint.plan.machine)[
            know.joint.plan.family.setting_of[aspect]
        ] - found.settings.of(aspect)
        if (
            can.coarse
            and aspect not in found.limited
            and aspect not in found.settled
            and off > know.joint.window(aspect).half
        ):
            yield remark(f"coarse-step-{aspect}", aspect, wanted=wanted + zero, step=can.step)


def _centre(know: Knowledge, pieces: Sequence[Piece], found: Aim) -> Iterable[Remark]:
    if "centre" not in know.joint.plan.in_play or "centre" in found.settled:
        return
    if not second_pass_safe(know, found.settings):
        yield remark("no-second-pass", "centre")
        return
    chance = fence_side_chance(know, found.settings)
    if chance > defaults.FENCE_SIDE_CHANCE:
        yield remark("fence-side", "centre", shaving=defaults.FENCE_SIDE_SHAVING, chance=chance)
    elif centre_by(know, pieces, found.settings) == "walls":
        yield remark("walls-first", "centre", most=defaults.MOST_SHAVING)


def _other_size(know: Knowledge, last: Piece | None, settings: Settings) -> Iterable[Remark]:
    """A piece of another size than the set-up's own was cut: give its figures too."""
    plan = know.joint.plan
    own = plan.figures()
    if last is None or all(last.sizes[name] == own[name] for name in last.sizes):
        return
    piece = plan.figures(last.sizes)
    fence = settings.on_scale(plan.machine)["fence_offset"] + (piece["width"] - own["width"]) / 2
    depth = settings["socket_depth"] + piece["thickness"] - own["thickness"]
    yield remark(
        "other-size",
        width=own["width"],
        thickness=own["thickness"],
        piece=last.number,
        fence=fence,
        depth=depth,
    )


def _real_board(know: Knowledge, settings: Settings) -> Iterable[Remark]:
    """The test pieces are scrap of another size: say what the real boards want."""
    plan = know.joint.plan
    wider, thicker = (
        plan.board_width - plan.figures()["width"],
        plan.tail_thickness - plan.figures()["thickness"],
    )
    if abs(wider) < 1e-9 and abs(thicker) < 1e-9:
        return
    fence = settings.on_scale(plan.machine)["fence_offset"] + wider / 2
    yield remark(
        "real-board",
        width=plan.board_width,
        thickness=plan.tail_thickness,
        fence=fence,
        depth=settings["socket_depth"] + thicker,
    )


def _rabbet(know: Knowledge, last: Piece | None, settings: Settings) -> Iterable[Remark]:
    if "bit_height" not in settings:  # a joint without a rabbet
        return
    if last is not None and abs(settings["bit_height"] - last.settings["bit_height"]) > 1e-9:
        yield remark("rabbet-follows", "fit", height=settings["bit_height"])
