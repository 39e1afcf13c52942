"""One line of reason for each setting: where its number comes from."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from .. import defaults
from ..domain import Advice, Aspect, Bit, Misfit, Piece, Remark, Settings, Value, remark
from ..domain.standing import Standing, chances_of, worth_a_piece
from ..families.half_blind.causes import diameter_prior
from ..families.half_blind.plan import dovetail
from .aim import Aim
from .bits import bit_law
from .chances import centre_by
from .ends import where
from .knowledge import Knowledge
from .laws import law_of, nominal_of
from .stages import kept


def first_reasons(know: Knowledge) -> tuple[Remark, ...]:
    """Where the numbers of the first piece come from."""
    told = (_first(know, aspect) for aspect in know.joint.plan.in_play)
    return tuple(reason for reason in told if reason is not None)


def _first(know: Knowledge, aspect: Aspect) -> Remark | None:
    plan, law = know.joint.plan, know.cold[aspect]
    taught = know.past.taught(aspect, know.joint.terms(aspect, know.about))
    if aspect == "fit":
        return remark(
            "height-from",
            "fit",
            bit=_bit(know),
            pitch=dovetail(plan).pitch,
            same=know.past.last_like(plan),
            taught=taught,
            sd=law.sd,
        )
    if aspect == "centre":
        remembered = law.sd <= defaults.FENCE_REMEMBERED
        return remark("fence-from", "centre", taught=taught, sd=law.sd, remembered=remembered)
    if aspect == "seat":
        same = dovetail(plan).rabbet_bit == "same"
        return remark(
            "depth-from",
            "seat",
            rabbet=dovetail(plan).rabbet_depth,
            same=same,
            taught=taught,
            sd=law.sd,
        )
    return None


def _bit(know: Knowledge) -> tuple[Value, ...]:
    """The bit with its figures as they are taken: as learnt where set-ups spoke of it, else as
    assumed.
    """
    bit = know.joint.plan.bit
    law, figures = bit_law(bit, know.past), (bit.diameter, bit.angle, state_of(bit))
    if law.taught:
        return (*figures, law.diameter, law.angle_deg)
    return (*figures, diameter_prior(bit), None)


def state_of(bit: Bit) -> str:
    """Where a bit's diameter is from: "measured", "sharpened" (and not measured since) or
    "sold".
    """
    return "measured" if bit.measured else "sharpened" if bit.sharpenings else "sold"


def next_reasons(
    know: Knowledge, pieces: Sequence[Piece], found: Aim, misfit: dict[str, Misfit | None]
) -> tuple[Remark, ...]:
    """Why the next piece is cut where it is: one line an aspect."""
    in_play = know.joint.plan.in_play
    lines = tuple(_next(know, a, pieces[-1], found, misfit[a]) for a in in_play)
    told = where(know, found.end) if set(in_play) - set(found.settled) else None
    ends = (told,) if told is not None else ()
    return (*lines, *_stacked(know, found.settings), *ends, *_one_piece(know, found))


def _stacked(know: Knowledge, settings: Settings) -> Iterable[Remark]:
    """Say what is stacked for each setting that is made of thicknesses."""
    for aspect in know.joint.plan.in_play:
        names = know.joint.plan.adjuster(aspect).made_of(settings.of(aspect))
        if names:
            called = know.joint.plan.family.adjusted(aspect).called
            yield remark("stack", aspect, setting=called, names=names)


def _one_piece(know: Knowledge, found: Aim) -> Iterable[Remark]:
    """How to cut the next piece so that it shows all that is still open."""
    unsettled = [a for a in know.joint.plan.in_play if a not in found.settled]
    if "centre" in unsettled and len(unsettled) > 1:
        yield remark("one-piece", way=centre_by(know, know.pieces, found.settings))
    elif unsettled == ["fit"]:
        yield remark("one-piece", way="fit")


def _next(
    know: Knowledge, aspect: Aspect, last: Piece, found: Aim, misfit: Misfit | None
) -> Remark:
    if aspect in found.settled:
        return _settled(know, aspect, found)
    if aspect in found.frozen or aspect in found.waiting:
        return kept(know, aspect, found.frozen.get(aspect))
    if aspect == "fit" and found.faulty:
        return remark("fit-held", aspect)
    window, said = know.joint.window(aspect), last.verdict.of(aspect)
    driver = know.kind(aspect).driver
    follows = bool(driver and abs(found.settings.of(driver) - last.settings.of(driver)) > 1e-9)
    return remark(
        f"{aspect}-aim",
        aspect,
        said=(said.word, said.size) if said else None,
        misfit=(misfit.mean, misfit.sd) if misfit else None,
        window=(window.low, window.high),
        follows=follows,
    )


def _settled(know: Knowledge, aspect: Aspect, found: Aim) -> Remark:
    """Say by what an aspect is settled."""
    by = found.settled[aspect]
    said = found.held[aspect].verdict.of(aspect) if by.way in ("word", "reading") else None
    told: dict[str, Value] = {
        "way": by.way,
        "piece": by.piece,
        "word": said.word if said else None,
        "chance": by.chance,
    }
    if aspect == "seat":
        told["off"] = _off(know, found) if by.way == "nearest" else None
    return remark(f"{aspect}-settled", aspect, **told)


def _off(know: Knowledge, found: Aim) -> float | None:
    """How far a coarse depth stop stays from what is wanted of the seat, mm."""
    if not know.joint.plan.adjuster("seat").coarse:
        return None
    step = nominal_of(know, "seat", found.settings) + law_of(know, "seat", found.settings).mean
    return step - know.joint.window("seat").middle


def confirm(know: Knowledge, found: Advice, how: Standing) -> tuple[Remark, ...]:
    """When all is settled: how sure the real boards' clearance is, and whether one more cut is
    worth its wood.
    """
    chance = chances_of(found).get("fit")
    if chance is None:
        return ()
    other = how.more and not worth_a_piece(chance)
    told = remark(
        "confirm" if how.more else "confirmed",
        "fit",
        chance=chance,
        together=(how.chance or 0.0) if other else None,
        apart=(know.apart.mean, know.apart.sd) if know.joint.wood else None,
        scrap=know.joint.plan.stock.name if how.more and know.joint.wood else None,
        more=how.more,
    )
    return (told,)
