"""What deserves a word beside the advice: limits, faults, slips, surprises, the fence side. Codes
are stable.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from .. import defaults
from ..domain import Aspect, Piece, Remark, Settings, SetUp
from ..language.units import Ruler
from .aim import Aim
from .cautions import TURN
from .chances import centre_by, fence_side_chance, second_pass_safe
from .decision import decide
from .drift import findings
from .history import History
from .knowledge import Knowledge
from .lapses import lapses
from .moisture import plan_remarks
from .surprises import surprises
from .telltales import telltales, without_echoes, worth_saying

_FAULTS = {
    "baseline": "The gap at the baseline is not the bit's height: leave the bit alone. The pin "
    "board lifted (by the gap's "
    "size) or the rabbet is shorter than the tails: hold the board down, cut the rabbet {height} "
    "long (up to {margin} "
    "more), and cut another piece. Its fit word says nothing about the fit. `fitlog fault gap "
    "baseline` has the tests.",
    "inside": "A gap on the inside corner only: leave the bit alone. The rabbet is too long or the "
    "board leaned against "
    "the fence: cut the rabbet {height} long, hold the board upright, and cut another piece. "
    "`fitlog fault gap inside` has the tests.",
    "flank": "One flank tight and the other open is a board leaning in its plane: leave the bit "
    "alone. Square the board's "
    "end, stand it upright in its carrier, and cut another piece. `fitlog fault gap flank` has the "
    "tests.",
    "unplaced": "A gap was logged without its place, and moves nothing: where is it? Add it with "
    "`fitlog cut --same-piece "
    "gap far` (or near, baseline, inside, flank).",
}


def notices(
    know: Knowledge, pieces: Sequence[Piece], found: Aim, ruler: Ruler
) -> tuple[Remark, ...]:
    """Return the notices for the advice on the next piece."""
    last = pieces[-1] if pieces else None
    return (
        *_unjudged(last),
        *_faults(last, ruler, found.settings),
        *_limits(know, found, ruler),
        *(_coarse_steps(know, found, ruler) if pieces else _leaps(know, ruler)),
        *_odd(know, pieces, found, ruler),
        *_centre(know, pieces, found, ruler),
        *_other_size(know, last, found.settings, ruler),
        *_real_board(know, found.settings, ruler),
        *_rabbet(know, last, found.settings, ruler),
        *(() if pieces else plan_remarks(know.joint.plan, ruler)),
    )


def before_the_turn(setup: SetUp, past: History, ruler: Ruler) -> tuple[Remark, ...]:
    """Return what the second pass on the last piece, at the fence offset it was cut at, asks for
    beforehand.
    """
    pieces = setup.pieces()
    if not pieces:
        return ()
    made = decide(setup, past)
    if "centre" in made.settled and not made.centre_by:
        known = (
            f"The centre is known already ({made.found.settled['centre'].chance:.0%}): no "
            "turn, and s leaves it out."
        )
        return (Remark("centre-known", known, "centre"),)
    return (*_centre(made.known, pieces, Aim(pieces[-1].settings), ruler), TURN)


def _noun(know: Knowledge, aspect: Aspect) -> str:
    """What an aspect's own setting is called."""
    return know.joint.plan.family.adjusted(aspect).noun


def _unjudged(last: Piece | None) -> Iterable[Remark]:
    if last is not None and last.silent:
        yield Remark(
            "piece-unjudged",
            f"Piece {last.number} is logged but not judged, so nothing was learnt from it: say "
            "what it showed with "
            "`fitlog cut --same-piece WORDS`, or cut another.",
        )


def _leaps(know: Knowledge, ruler: Ruler) -> Iterable[Remark]:
    """Before the first piece: an adjuster one step of which leaps over the whole window."""
    for aspect in know.joint.plan.in_play:
        can, window = know.joint.plan.adjuster(aspect), know.joint.window(aspect)
        leap = can.step * abs(know.joint.slope(aspect))
        if aspect != "centre" and can.coarse and leap > 2 * window.half:
            what = {"fit": "the clearance", "seat": "the step"}.get(aspect, f"the {aspect}")
            part = know.joint.plan.family.adjusted(aspect).part
            yield Remark(
                f"coarse-step-{aspect}",
                f"One step of {ruler.length(can.step)} in the {_noun(know, aspect)} moves {what} "
                f"by {ruler.length(leap)}, over the "
                f"whole window of {ruler.length(2 * window.half)}: set it between the marks. If "
                "you can by eye, say so once: "
                f"`fitlog machine edit NAME --between {part}`; else take a caliper or a paper "
                "shim, and log what you set.",
                aspect,
            )


def _odd(know: Knowledge, pieces: Sequence[Piece], found: Aim, ruler: Ruler) -> Iterable[Remark]:
    """What does not go together; where a move or a drift explains it, that is said instead."""
    told = worth_saying(findings(know, pieces), found, pieces[-1].number) if pieces else ()
    odd, told = without_echoes(
        (*lapses(know, pieces, ruler), *surprises(know, pieces, found, ruler)), told
    )
    yield from telltales(know, told, ruler)
    yield from odd


def _faults(last: Piece | None, ruler: Ruler, settings: Settings) -> Iterable[Remark]:
    for fault in last.verdict.faults if last else ():
        text = _FAULTS[fault.place].format(
            height=ruler.length(settings["bit_height"]), margin=ruler.length(0.2)
        )
        yield Remark("gap-where" if fault.place == "unplaced" else f"gap-{fault.place}", text)


def _limits(know: Knowledge, found: Aim, ruler: Ruler) -> Iterable[Remark]:
    for aspect, (limit, wanted) in found.limited.items():
        over = wanted > limit.high + 1e-9
        zero = found.settings.on_scale(know.joint.plan.machine)[
            know.joint.plan.family.setting_of[aspect]
        ] - found.settings.of(aspect)
        why, remedy = (
            (limit.high_why, limit.high_remedy) if over else (limit.low_why, limit.low_remedy)
        )
        yield Remark(
            f"limit-{aspect}",
            f"The wanted {_noun(know, aspect)} of {ruler.length(wanted + zero)} goes against "
            f"{why}: {remedy}.",
            aspect,
        )


def _coarse_steps(know: Knowledge, found: Aim, ruler: Ruler) -> Iterable[Remark]:
    """A step that leaps over the whole window can leave every setting wrong."""
    for aspect, wanted in found.wanted.items():
        can = know.joint.plan.adjuster(aspect)
        off = abs(found.settings.of(aspect) - wanted) * abs(know.joint.slope(aspect))
        zero = found.settings.on_scale(know.joint.plan.machine)[
            know.joint.plan.family.setting_of[aspect]
        ] - found.settings.of(aspect)
        if (
            can.coarse
            and aspect not in found.limited
            and aspect not in found.settled
            and off > know.joint.window(aspect).half
        ):
            yield Remark(
                f"coarse-step-{aspect}",
                f"The {_noun(know, aspect)} wants {ruler.length(wanted + zero)}, between two steps "
                f"of {ruler.length(can.step)}, "
                "and none is good: set it between the marks with a caliper or a paper shim, and "
                "log the setting you used.",
                aspect,
            )


def _centre(know: Knowledge, pieces: Sequence[Piece], found: Aim, ruler: Ruler) -> Iterable[Remark]:
    if "centre" not in know.joint.plan.in_play or "centre" in found.settled:
        return
    if not second_pass_safe(know, found.settings):
        yield Remark(
            "no-second-pass",
            "At this fence offset a second pass may shave the fence side, or too much: make none, "
            "and measure the two walls "
            "beside the cut instead (`--walls NEAR FAR` logs them).",
            "centre",
        )
        return
    chance = fence_side_chance(know, found.settings)
    if chance > defaults.FENCE_SIDE_CHANCE:
        yield Remark(
            "fence-side",
            f"The chance of a shaving over {ruler.length(defaults.FENCE_SIDE_SHAVING)} on the "
            "fence side (a climb cut that "
            f"can snatch) is {chance:.0%}: before the turn, measure the two walls beside the cut; "
            "half their difference is "
            "the error (`--walls NEAR FAR` logs it), and skip the second pass when the wall at the "
            "fence is the thinner one.",
            "centre",
        )
    elif centre_by(know, pieces, found.settings) == "walls":
        yield Remark(
            "walls-first",
            "Before any turn measure the two walls beside the slot (`--walls NEAR FAR`): half "
            "their difference is the error of "
            "the centre, and says all. A second pass is safe only where the wall at the fence is "
            "the thicker one, by up to "
            f"{ruler.length(defaults.MOST_SHAVING)}.",
            "centre",
        )


def _other_size(
    know: Knowledge, last: Piece | None, settings: Settings, ruler: Ruler
) -> Iterable[Remark]:
    """A piece of another size than the set-up's own was cut: give its figures too."""
    plan = know.joint.plan
    if last is None or (
        last.width in (None, plan.width_of(None))
        and last.thickness in (None, plan.thickness_of(None))
    ):
        return
    fence = (
        settings.on_scale(plan.machine)["fence_offset"]
        + (plan.width_of(last.width) - plan.width_of(None)) / 2
    )
    depth = settings["socket_depth"] + plan.thickness_of(last.thickness) - plan.thickness_of(None)
    yield Remark(
        "other-size",
        f"These settings are for a piece {ruler.size(plan.width_of(None))} wide and "
        f"{ruler.size(plan.thickness_of(None))} thick; for one like piece {last.number} set the "
        "fence to "
        f"{ruler.length(fence)} and the socket depth to {ruler.length(depth)}.",
    )


def _real_board(know: Knowledge, settings: Settings, ruler: Ruler) -> Iterable[Remark]:
    """The test pieces are scrap of another size: say what the real boards want."""
    plan = know.joint.plan
    wider, thicker = (
        plan.board_width - plan.width_of(None),
        plan.tail_thickness - plan.thickness_of(None),
    )
    if abs(wider) < 1e-9 and abs(thicker) < 1e-9:
        return
    fence = settings.on_scale(plan.machine)["fence_offset"] + wider / 2
    yield Remark(
        "real-board",
        f"These settings are for the scrap. The real boards, {ruler.size(plan.board_width)} wide "
        "and "
        f"{ruler.size(plan.tail_thickness)} thick, want a fence offset of {ruler.length(fence)} "
        "and a socket depth of "
        f"{ruler.length(settings['socket_depth'] + thicker)}.",
    )


def _rabbet(
    know: Knowledge, last: Piece | None, settings: Settings, ruler: Ruler
) -> Iterable[Remark]:
    if "bit_height" not in settings:  # a joint without a rabbet
        return
    if last is not None and abs(settings["bit_height"] - last.settings["bit_height"]) > 1e-9:
        yield Remark(
            "rabbet-follows",
            f"The rabbet's length follows the height: {ruler.length(settings['bit_height'])}, up "
            f"to {ruler.length(0.2)} more.",
            "fit",
        )
