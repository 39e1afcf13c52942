"""What a set-up itself shows that makes one cause of a fault likelier than another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from .... import defaults
from ....advice.drift import Finding
from ....advice.knowledge import Knowledge
from ....advice.laws import law_of, nominal_of
from ....advice.settled import SAME
from ....domain import Piece, Plan, Settings
from ....language.units import Ruler
from ... import wood
from .figures import tails_of

Sign = tuple[str, str]  # its code, and what it says


def signs(
    know: Knowledge, pieces: Sequence[Piece], at: Settings, found: Sequence[Finding], ruler: Ruler
) -> dict[str, str]:
    """Return what the set-up shows, by code, each as a sentence. at: the settings in question, true
    mm.
    """
    plan = know.joint.plan
    return dict(
        [
            *_of_plan(plan, ruler),
            *_of_height(plan, at, ruler),
            *_of_last_moves(pieces, ruler),
            *_of_fit(know, pieces, at, ruler),
            *_of_centre(know, pieces, at, ruler),
            *_of_seat(know, pieces, at, ruler),
            *_of_log(found),
        ]
    )


def _of_plan(plan: Plan, ruler: Ruler) -> Iterator[Sign]:
    machine, tails = plan.machine, tails_of(plan)
    if machine is not None and machine.backlash is not None:
        known = f"this lift has {ruler.length(machine.backlash)} of play"
        yield (
            ("backlash", known)
            if machine.backlash > 0
            else ("no-play", "this lift is stored as having no play")
        )
    if plan.many_tails or tails >= defaults.MANY_TAILS:
        yield (
            "many-tails",
            f"the board has about {tails} tails, and small errors of the steps add up",
        )
    yield (
        ("by-spacer", "the pitch is stepped by a spacer")
        if plan.spaced
        else ("by-scale", "the pitch is stepped by a scale")
    )
    if plan.stock.species.casefold() != plan.pin_stock.species.casefold():
        yield (
            "two-woods",
            f"the boards are of two woods, {plan.stock.species} and {plan.pin_stock.species}",
        )
    dry = wood.content_of(plan.stock), wood.content_of(plan.pin_stock)
    if dry[0] is not None and dry[1] is not None and plan.stock != plan.pin_stock:
        unequal = abs(dry[0] - dry[1]) > defaults.METER / 2
        code = "moisture-differs" if unequal else "equally-dry"
        yield code, f"the boards are stored at {dry[0]:.1f} and {dry[1]:.1f} % moisture"
    if plan.board_width >= defaults.WIDE_BOARD:
        yield "wide-board", f"a board {ruler.size(plan.board_width)} wide moves a good deal"
    if plan.bit.sharpenings:
        yield "sharpened", "this bit was sharpened"
    if plan.rabbet_depth < plan.bit.diameter / 2 - 0.05:
        yield (
            "shallow-rabbet",
            f"the rabbet is planned shallower than half the bit, {ruler.length(plan.rabbet_depth)}",
        )


def _of_height(plan: Plan, at: Settings, ruler: Ruler) -> Iterator[Sign]:
    lap = plan.pin_thickness - at["bit_height"]
    if lap < defaults.LEAST_LAP + 0.5:
        yield (
            "thin-lap",
            f"at this height a pin board of {ruler.size(plan.pin_thickness)} keeps a lap of "
            f"{ruler.length(lap)}",
        )


def _of_last_moves(pieces: Sequence[Piece], ruler: Ruler) -> Iterator[Sign]:
    if not pieces:
        return
    last = pieces[-1]
    if last.scrap:
        yield "other-wood", f"the last piece was cut in {last.scrap}"
    heights = [p.settings["bit_height"] for p in pieces]
    moved = next((b - a for a, b in reversed(list(pairwise(heights))) if abs(b - a) > SAME), 0.0)
    if moved == 0.0:
        return
    size = ruler.length(abs(moved))
    if moved > 0:
        yield (
            "raised",
            f"the bit was last raised by {size}: a rabbet as before is that much too short",
        )
    else:
        yield (
            "lowered",
            f"the bit was last lowered by {size}: a rabbet as before is that much too long",
        )
        yield "down", f"the last move of the height, {size}, was down"


def _of_fit(know: Knowledge, pieces: Sequence[Piece], at: Settings, ruler: Ruler) -> Iterator[Sign]:
    if "fit" not in know.joint.plan.in_play or not pieces:
        return
    clearance, window = nominal_of(know, "fit", at) + know.fit.mean, know.joint.window("fit")
    if not window.holds(clearance):
        side, word = ("tight-now", "tighter") if clearance < window.low else ("loose-now", "looser")
        shown = (
            ruler.length(clearance)
            if clearance >= 0
            else f"{ruler.length(-clearance)} of interference"
        )
        yield side, f"by the log the joint is {word} than good, {shown}"


def _of_centre(
    know: Knowledge, pieces: Sequence[Piece], at: Settings, ruler: Ruler
) -> Iterator[Sign]:
    if "centre" not in know.joint.plan.in_play:
        yield "centre-unknown", "the centre is not in play in this set-up"
        return
    window = know.joint.window("centre")
    ends = np.array([window.low, window.high]) - nominal_of(know, "centre", at)
    low, high = (float(x) for x in know.centre.cdf(ends))
    mean, sd = nominal_of(know, "centre", at) + know.centre.mean, know.centre.sd
    shown = f"{ruler.length(mean)} +- {ruler.length(sd)}"
    if high - low > 0.8:
        yield "centre-good", f"by the log the centre is right, off by {shown}"
    elif low > 0.8 or high < 0.2:
        yield "centre-off", f"by the log the centre is off by {shown}"
    else:
        yield "centre-unknown", f"the centre is not sure to be inside its window, off by {shown}"


def _of_seat(
    know: Knowledge, pieces: Sequence[Piece], at: Settings, ruler: Ruler
) -> Iterator[Sign]:
    if "seat" not in know.joint.plan.in_play or not pieces:
        return
    window, step = (
        know.joint.window("seat"),
        nominal_of(know, "seat", at) + law_of(know, "seat", at).mean,
    )
    if not window.holds(step):
        side = "proud" if step > window.high else "shy"
        yield (
            f"{side}-now",
            f"by the log the step is {ruler.length(abs(step))} {'proud' if step > 0 else 'shy'}",
        )


def _of_log(found: Sequence[Finding]) -> Iterator[Sign]:
    for f in found:
        if f.kind == "drift" and f.aspect == "fit":
            way = "tighter" if f.move < 0 else "looser"
            yield (
                f"{way}-log",
                f"the log shows the fit growing {way} from piece {f.before} to piece {f.after}",
            )
            yield "fit-drifts", "the log shows the fit drifting from piece to piece"
        elif f.kind == "drift":
            yield "centre-drift", "the log shows the centre drifting from piece to piece"
        elif f.aspect == "fit":
            yield f"{f.kind}-log", f"the log shows it between pieces {f.before} and {f.after}"
