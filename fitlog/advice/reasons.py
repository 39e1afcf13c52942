"""One line of reason for each setting: where its number comes from."""

from __future__ import annotations

from collections.abc import Iterable

from ..domain import Advice, Aspect, Misfit, Piece, Remark, Settings, Value, remark
from ..domain.standing import Standing, chances_of, worth_a_piece
from .aim import Aim
from .craft import craft_of
from .decision import Decision
from .ends import where
from .knowledge import Knowledge
from .laws import law_of, nominal_of
from .stages import kept


def first_reasons(know: Knowledge, settings: Settings) -> tuple[Remark, ...]:
    """Where the numbers of the first piece come from."""
    plan = know.joint.plan
    craft = craft_of(plan)
    told = (craft.first_reason(know, aspect) for aspect in plan.in_play)
    return (*(reason for reason in told if reason is not None), *_stacked(know, settings))


def next_reasons(made: Decision, misfit: dict[str, Misfit | None]) -> tuple[Remark, ...]:
    """Why the next piece is cut where it is: one line an aspect, and what the family adds."""
    plan = made.known.joint.plan
    known, found = made.known, made.found
    lines = (_next(known, a, made.pieces[-1], found, misfit[a]) for a in plan.in_play)
    told = where(known, found.end) if set(plan.in_play) - set(found.settled) else None
    ends = () if told is None else (told,)
    return (*lines, *_stacked(known, found.settings), *ends, *craft_of(plan).more_reasons(made))


def _stacked(know: Knowledge, settings: Settings) -> Iterable[Remark]:
    """Say what is stacked for each setting that is made of thicknesses."""
    plan = know.joint.plan
    for aspect in plan.in_play:
        names = plan.adjuster(aspect).made_of(settings.of(aspect))
        if names:
            called = plan.family.adjusted(aspect).called
            yield remark("stack", aspect, setting=called, names=names)


def _next(
    know: Knowledge, aspect: Aspect, last: Piece, found: Aim, misfit: Misfit | None
) -> Remark:
    if aspect in found.settled:
        return _settled(know, aspect, found)
    if aspect in found.frozen or aspect in found.waiting:
        return kept(know, aspect, found.frozen.get(aspect))
    if know.kind(aspect).tried and found.faulty:
        return remark(f"{aspect}-held", aspect)
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
    kind = know.kind(aspect)
    if not kind.tried and not kind.zeroed:
        told["off"] = _off(know, aspect, found) if by.way == "nearest" else None
    return remark(f"{aspect}-settled", aspect, **told)


def _off(know: Knowledge, aspect: Aspect, found: Aim) -> float | None:
    """How far coarse marks stay from what is wanted of an aspect, mm."""
    if not know.joint.plan.adjuster(aspect).coarse:
        return None
    law = law_of(know, aspect, found.settings)
    misfit = nominal_of(know, aspect, found.settings) + law.mean
    return misfit - know.joint.window(aspect).middle


def confirm(know: Knowledge, found: Advice, how: Standing) -> tuple[Remark, ...]:
    """When all is settled: how sure the lead aspect of the real boards is, and whether one more
    cut is worth its wood.
    """
    lead = know.joint.plan.family.lead
    chance = chances_of(found).get(lead)
    if chance is None:
        return ()
    other = how.more and not worth_a_piece(chance)
    told = remark(
        "confirm" if how.more else "confirmed",
        lead,
        chance=chance,
        together=(how.chance or 0.0) if other else None,
        apart=(know.apart.mean, know.apart.sd) if know.joint.wood else None,
        scrap=know.joint.plan.stock.name if how.more and know.joint.wood else None,
        more=how.more,
    )
    return (told,)
