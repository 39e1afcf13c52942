"""One line of reason for each setting: where its number comes from, in the user's own units."""

from __future__ import annotations

import shlex
from collections.abc import Iterable, Sequence

import numpy as np

from .. import defaults
from ..domain import SETTLING_WORD, Aspect, Misfit, Piece, Remark, Settings
from ..estimator.choice import chance_good
from ..joints.causes import diameter_prior
from ..units import Ruler
from .aim import Aim, nominal_of
from .knowledge import Knowledge

_NAME: dict[Aspect, str] = {"fit": "clearance", "centre": "centre error", "seat": "step"}


def first_reasons(know: Knowledge, ruler: Ruler) -> tuple[Remark, ...]:
    """Where the numbers of the first piece come from."""
    return tuple(text for a in know.joint.plan.in_play for text in _first(know, a, ruler))


def _first(know: Knowledge, aspect: Aspect, ruler: Ruler) -> Iterable[Remark]:
    plan, law = know.joint.plan, know.cold[aspect]
    learnt = f", corrected by {_counted(know.taught, 'earlier set-up')}" if know.taught else ""
    if aspect == "fit":
        mean, sd = diameter_prior(plan.bit)
        state = "measured" if plan.bit.measured else f"as sold; bits run {ruler.length(-mean)} under"
        yield Remark(
            "height-from",
            f"Bit height: from the geometry of a {ruler.size(plan.bit.diameter)} bit ({state}, +-{ruler.length(sd)}) at "
            f"{plan.bit.angle:g} deg and a pitch of {ruler.size(plan.pitch)}{learnt}; the clearance is known to "
            f"+-{ruler.length(law.sd)}.",
            "fit",
        )
    elif aspect == "centre":
        yield Remark(
            "fence-from",
            f"Fence offset: half the piece's width{learnt}, known to +-{ruler.length(law.sd)}, a little too far out so that "
            "the shaving falls on the far wall. Measure it: to the far edge of the tip it is "
            "half the bit's diameter more.",
            "centre",
        )
    else:
        which = "the same bit" if plan.rabbet_bit == "same" else "a straight bit"
        yield Remark(
            "depth-from",
            f"Socket depth: from the board's thickness and a rabbet of {ruler.size(plan.rabbet_depth)} cut with {which}"
            f"{learnt}, at the clearance that is aimed at; known to +-{ruler.length(law.sd)}.",
            "seat",
        )


def next_reasons(
    know: Knowledge, pieces: Sequence[Piece], found: Aim, misfit: dict[str, Misfit | None], ruler: Ruler
) -> tuple[Remark, ...]:
    """Why the next piece is cut where it is: one line an aspect."""
    in_play = know.joint.plan.in_play
    lines = tuple(_next(know, a, pieces[-1], found, misfit[a], ruler) for a in in_play)
    return (*lines, *_one_piece(tuple(a for a in in_play if a not in found.held)))


def _one_piece(unsettled: Sequence[Aspect]) -> Iterable[Remark]:
    """How to cut the next piece so that it shows all that is still open."""
    if "centre" in unsettled and len(unsettled) > 1:
        yield Remark(
            "one-piece",
            "Piece: one shows all that is open. Two passes from one edge, the socket, judge fit and seat; only then the "
            "turn and the second pass, which widens the slot.",
        )
    elif list(unsettled) == ["fit"]:
        yield Remark("one-piece", "Piece: only the fit is open; two short scraps, both cut on end, show it as well.")


def _next(know: Knowledge, aspect: Aspect, last: Piece, found: Aim, misfit: Misfit | None, ruler: Ruler) -> Remark:
    if aspect in found.held:
        piece = found.held[aspect]
        said = piece.verdict.of(aspect)
        why = f'"{said.word}"' if said and said.word == SETTLING_WORD[aspect] else "its reading is inside the window"
        return Remark(
            f"{aspect}-settled", f"{aspect.capitalize()}: settled by piece {piece.number}, {why}; leave it.", aspect
        )
    if aspect == "fit" and found.faulty:
        return Remark("fit-held", "Fit: the bit stays where it is until the gap is cured.", aspect)
    window = know.joint.window(aspect)
    known = f"{ruler.length(misfit.mean)} +- {ruler.length(misfit.sd)}" if misfit else "unknown"
    said = last.verdict.of(aspect)
    size = f" {ruler.length(said.size)}" if said and said.size else ""
    lead = f'after "{said.word}{size}" the' if said else "the"
    tail = ""
    if aspect == "seat" and abs(found.settings.bit_height - last.settings.bit_height) > 1e-9:
        tail = "; the new clearance moves the seat by itself"
    return Remark(
        f"{aspect}-aim",
        f"{aspect.capitalize()}: {lead} {_NAME[aspect]} at that setting is {known}; "
        f"good is {ruler.length(window.low)} to {ruler.length(window.high)}{tail}.",
        aspect,
    )


def confirm(know: Knowledge, settings: Settings, ruler: Ruler) -> tuple[Remark, ...]:
    """When all is settled: how sure the real boards' clearance is, and whether one more cut is worth its wood."""
    if "fit" not in know.joint.plan.in_play:
        return ()
    law, window = know.fit, know.joint.window("fit")
    at = np.array([nominal_of(know, "fit", settings) + know.wood.mean])
    chance = float(chance_good(law, at, window, know.wood.sd)[0])
    worth = (1 - chance) * defaults.SPOILED_JOINT > 1
    verdict = "is worth its wood" if worth else "is not worth its wood"
    if worth and know.wood.sd > 0:
        verdict += f" (log it with `--scrap {shlex.quote(know.joint.plan.stock.name)}`)"
    text = (
        f"The true clearance of the real boards{_apart(know, ruler)} lies inside its window with a chance of {chance:.0%}: "
        f"one confirming cut in the real stock {verdict}."
    )
    return (Remark("confirm" if worth else "confirmed", text, "fit"),)


def _apart(know: Knowledge, ruler: Ruler) -> str:
    """How the real boards differ from the scrap."""
    if know.wood.sd == 0:
        return ""
    doubt, mean = ruler.length(know.wood.sd), ruler.length(abs(know.wood.mean))
    if mean == ruler.length(0.0):
        return f", which may differ from the scrap by {doubt} either way,"
    return f", which come out about {mean} {'looser' if know.wood.mean > 0 else 'tighter'} than the scrap (+- {doubt}),"


def _counted(n: int, what: str) -> str:
    return f"{n} {what}" if n == 1 else f"{n} {what}s"


