"""One line of reason for each setting: where its number comes from, in the user's own units."""

from __future__ import annotations

import shlex
from collections.abc import Iterable, Sequence

from .. import defaults
from ..domain import Advice, Aspect, Misfit, Piece, Remark
from ..domain.standing import Standing, chances_of, worth_a_piece
from ..families.half_blind.causes import diameter_prior
from ..language.units import Ruler, counted
from .aim import Aim
from .bits import bit_law
from .chances import centre_by
from .knowledge import Knowledge
from .laws import law_of, nominal_of

_NAME: dict[Aspect, str] = {"fit": "clearance", "centre": "centre error", "seat": "step"}


def first_reasons(know: Knowledge, ruler: Ruler) -> tuple[Remark, ...]:
    """Where the numbers of the first piece come from."""
    return tuple(text for a in know.joint.plan.in_play for text in _first(know, a, ruler))


def _first(know: Knowledge, aspect: Aspect, ruler: Ruler) -> Iterable[Remark]:
    plan, law = know.joint.plan, know.cold[aspect]
    taught = know.past.taught(aspect, know.joint.terms(aspect, 1.0))
    learnt = f", corrected by {counted(taught, 'earlier set-up')}" if taught else ""
    if aspect == "fit":
        same = know.past.last_like(plan)
        stops = f" (that of set-up {same}: the stops can stay)" if same is not None else ""
        yield Remark(
            "height-from",
            f"Bit height: from the geometry of {_bit(know, ruler)} and a pitch of "
            f"{ruler.size(plan.pitch)}{stops}{learnt}; "
            f"the clearance is known to +-{ruler.length(law.sd)}.",
            "fit",
        )
    elif aspect == "centre":
        remembered = law.sd <= defaults.FENCE_REMEMBERED
        outside = (
            "where it was good"
            if remembered
            else "a little too far out so that the shaving falls on the far wall"
        )
        yield Remark(
            "fence-from",
            f"Fence offset: half the piece's width{learnt}, known to +-{ruler.length(law.sd)}, "
            f"{outside}. "
            "Measure it: to the far edge of the tip it is half the bit's diameter more.",
            "centre",
        )
    elif aspect == "seat":
        which = "the same bit" if plan.rabbet_bit == "same" else "a straight bit"
        yield Remark(
            "depth-from",
            "Socket depth: from the board's thickness and a rabbet of "
            f"{ruler.size(plan.rabbet_depth)} cut with {which}"
            f"{learnt}, at the clearance that is aimed at; known to +-{ruler.length(law.sd)}.",
            "seat",
        )


def _bit(know: Knowledge, ruler: Ruler) -> str:
    """The bit with its figures as they are taken: as learnt where set-ups spoke of it, else as
    assumed.
    """
    bit = know.joint.plan.bit
    law, name = bit_law(bit, know.past), f"a {ruler.size(bit.diameter)} bit at {bit.angle:g} deg"
    if law.taught:
        size = f"{ruler.length(law.diameter.mean)} +- {ruler.length(law.diameter.sd)}"
        return (
            f"{name} that cuts like {size} and {law.angle_deg.mean:.2f} +- "
            f"{law.angle_deg.sd:.2f} deg"
        )
    mean, sd = diameter_prior(bit)
    state = (
        "measured"
        if bit.measured
        else "sharpened, not measured since"
        if bit.sharpenings
        else "as sold"
    )
    under = "" if bit.measured else f"; such bits run {ruler.length(-mean)} under"
    return f"{name} ({state}{under}, +-{ruler.length(sd)})"


def next_reasons(
    know: Knowledge,
    pieces: Sequence[Piece],
    found: Aim,
    misfit: dict[str, Misfit | None],
    ruler: Ruler,
) -> tuple[Remark, ...]:
    """Why the next piece is cut where it is: one line an aspect."""
    in_play = know.joint.plan.in_play
    lines = tuple(_next(know, a, pieces[-1], found, misfit[a], ruler) for a in in_play)
    return (*lines, *_one_piece(know, found))


def _one_piece(know: Knowledge, found: Aim) -> Iterable[Remark]:
    """How to cut the next piece so that it shows all that is still open."""
    unsettled = [a for a in know.joint.plan.in_play if a not in found.settled]
    if "centre" in unsettled and len(unsettled) > 1:
        turn = (
            "only then the turn and the second pass, which widens the slot"
            if centre_by(know, know.pieces, found.settings) == "turn"
            else "then measure the two walls beside the cut instead of turning it"
        )
        yield Remark(
            "one-piece",
            "Piece: one shows all that is open: two passes, the socket, judge fit and seat; "
            f"{turn}.",
        )
    elif unsettled == ["fit"]:
        yield Remark(
            "one-piece",
            "Piece: only the fit is open; two scraps on end in their carrier show it as well, two "
            "passes a pitch apart in "
            "one and a single pass in the other.",
        )


def _next(
    know: Knowledge, aspect: Aspect, last: Piece, found: Aim, misfit: Misfit | None, ruler: Ruler
) -> Remark:
    if aspect in found.settled:
        return Remark(
            f"{aspect}-settled",
            f"{aspect.capitalize()}: {by_what(know, aspect, found, ruler)}.",
            aspect,
        )
    if aspect == "fit" and found.faulty:
        return Remark("fit-held", "Fit: the bit stays where it is until the gap is cured.", aspect)
    window = know.joint.window(aspect)
    known = f"{ruler.length(misfit.mean)} +- {ruler.length(misfit.sd)}" if misfit else "unknown"
    said = last.verdict.of(aspect)
    size = f" {ruler.length(said.size)}" if said and said.size else ""
    lead = f'after "{said.word}{size}" the' if said else "the"
    tail = ""
    if aspect == "seat" and abs(found.settings["bit_height"] - last.settings["bit_height"]) > 1e-9:
        tail = "; the new clearance moves the seat by itself"
    return Remark(
        f"{aspect}-aim",
        f"{aspect.capitalize()}: {lead} {_NAME.get(aspect, aspect)} at that setting is {known}; "
        f"good is {ruler.length(window.low)} to {ruler.length(window.high)}{tail}.",
        aspect,
    )


def by_what(know: Knowledge, aspect: Aspect, found: Aim, ruler: Ruler) -> str:
    """Say by what an aspect is settled."""
    by = found.settled[aspect]
    if by.way in ("word", "reading"):
        said = found.held[aspect].verdict.of(aspect)
        why = (
            f'your word "{said.word}"'
            if by.way == "word" and said
            else "its reading inside the window"
        )
        return f"settled by piece {by.piece}, {why}; leave it"
    if by.way == "figures":
        known = (
            "known well enough, whatever mark the fence stands on"
            if aspect == "centre"
            else "sure enough at this depth"
        )
        return f"settled by figures ({by.chance:.0%}): {known}"
    if aspect == "centre":
        return (
            f"as well known as words tell it ({by.chance:.0%}); the two walls measured would "
            "tell more"
        )
    if aspect != "seat" or not know.joint.plan.adjuster("seat").coarse:
        return f"sure to {by.chance:.0%}; another piece would cost more than it could still save"
    step = nominal_of(know, "seat", found.settings) + law_of(know, "seat", found.settings).mean
    off = step - know.joint.window("seat").middle
    way, side = ("proud", "behind") if off > 0 else ("shy", "before")
    much = ruler.length(abs(off))
    cure = f"a shim of {much} {side} the stop cures it"
    return f"as near as this stop goes, {much} {way} of what is wanted, {by.chance:.0%}; {cure}"


def confirm(know: Knowledge, found: Advice, how: Standing, ruler: Ruler) -> tuple[Remark, ...]:
    """When all is settled: how sure the real boards' clearance is, and whether one more cut is
    worth its wood.
    """
    chance = chances_of(found).get("fit")
    if chance is None:
        return ()
    verdict = "is worth its wood" if how.more else "is not worth its wood"
    if how.more and know.joint.wood:
        verdict += f" (log it with `--scrap {shlex.quote(know.joint.plan.stock.name)}`)"
    together = how.chance or 0.0
    other = (
        f", but all that is tuned together with {together:.0%} only"
        if how.more and not worth_a_piece(chance)
        else ""
    )
    text = (
        f"The true clearance of the real boards{_apart(know, ruler)} lies inside its window with a "
        f"chance of {chance:.0%}"
        f"{other}: one more piece in the real stock first {verdict}."
    )
    return (Remark("confirm" if how.more else "confirmed", text, "fit"),)


def _apart(know: Knowledge, ruler: Ruler) -> str:
    """How the real boards differ from the scrap."""
    if not know.joint.wood:
        return ""
    doubt, mean = ruler.length(know.apart.sd), ruler.length(abs(know.apart.mean))
    if mean == ruler.length(0.0):
        return f", which may differ from the scrap by {doubt} either way,"
    return (
        f", which come out about {mean} {'looser' if know.apart.mean > 0 else 'tighter'} than "
        f"the scrap (+- {doubt}),"
    )
