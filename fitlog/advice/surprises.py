"""What does not go together: verdicts against the pieces before them, numbers against words,
swapped sides.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np

from .. import defaults
from ..domain import Aspect, Piece, Remark, Value, remark
from ..estimator.evidence import Evidence
from ..estimator.likelihood import band_chance
from ..estimator.posterior import Posterior, each_alone, posterior, without
from .aim import Aim
from .knowledge import AS_SAID, Knowledge
from .laws import law_of
from .settled import nominal

_LOOK_BACK = 12  # pieces among which the one that is contradicted is sought


def surprises(know: Knowledge, pieces: Sequence[Piece], found: Aim) -> Iterable[Remark]:
    """Return what contradicts what, and what usually causes it."""
    last = pieces[-1] if pieces else None
    yield from _slips(know, last, found)
    yield from _surprises(know, pieces)
    yield from _far_off(know, last)
    yield from _misread(know)


def _slips(know: Knowledge, last: Piece | None, found: Aim) -> Iterable[Remark]:
    for aspect in found.slips:
        if aspect in found.limited:
            continue
        said = last.verdict.of(aspect) if last else None
        if (
            last is None
            or said is None
            or (know.kind(aspect).driver and _expected(know, aspect, last))
        ):
            continue
        yield remark(f"slip-{aspect}", aspect, word=said.word, first=last.number == 1)


def _expected(know: Knowledge, aspect: Aspect, piece: Piece) -> bool:
    """Whether a coupled misfit is one that its settings may well give: it hangs on the driver's of
    each piece.
    """
    reading = know.joint.reading_of(aspect, piece)
    law = law_of(know, aspect, piece.settings)
    return (
        reading is not None
        and abs(reading[0] - nominal(know.joint, aspect, piece) - law.mean) < 2 * law.sd
    )


def _surprises(know: Knowledge, pieces: Sequence[Piece]) -> Iterable[Remark]:
    plan = know.joint.plan
    alone = [a for a in plan.family.aspects if a in plan.in_play and not know.kind(a).driver]
    for aspect in alone if pieces else ():
        prior, found = know.as_taken(aspect)
        if not found or found[-1].piece != pieces[-1].number:
            continue
        law = know.law(aspect)
        plain = know.chance_of(aspect, AS_SAID) > 0.99 and found[-1].slip > 0
        before = without(law, found[-1]) if plain else posterior(prior, found[:-1])
        if surprise(before, found[-1]) < defaults.SURPRISE:
            said = pieces[-1].verdict.of(aspect)
            against, before_it = _against(know, aspect, pieces, found)
            yield remark(
                f"surprise-{aspect}",
                aspect,
                piece=pieces[-1].number,
                word=said.word if said else None,
                against=against,
                before=before_it,
            )


def _against(
    know: Knowledge, aspect: Aspect, pieces: Sequence[Piece], found: Sequence[Evidence]
) -> tuple[str, Value]:
    """Name what the last piece goes worst together with: "history", "figures", or the earlier
    "piece", with its number, its word and its setting on the user's scale, mm.
    """
    if len(found) == 1:
        taught = know.past.taught(aspect, know.joint.terms(aspect, know.about))
        return "history" if taught else "figures", None
    earlier = found[-_LOOK_BACK - 1 : -1]
    laws = each_alone(know.cold[aspect], earlier)
    alone = {e.piece: surprise(law, found[-1]) for e, law in zip(earlier, laws, strict=True)}
    worst = min(alone, key=lambda number: alone[number])
    piece = next(p for p in pieces if p.number == worst)
    plan, said = know.joint.plan, piece.verdict.of(aspect)
    at = piece.settings.on_scale(plan.machine)[plan.family.setting_of[aspect]]
    return "piece", (worst, said.word if said else None, at)


def _far_off(know: Knowledge, last: Piece | None) -> Iterable[Remark]:
    """A number that cannot be squared with its word, or with the figures before the first piece."""
    for aspect in know.joint.plan.in_play if last else ():
        assert last is not None
        reading, said = know.joint.reading_of(aspect, last), last.verdict.of(aspect)
        if reading is None:
            continue
        value, sd = reading
        kind = know.kind(aspect)
        if kind.tried and said is not None and said.size is not None:
            bands, noise = (
                know.joint.word_bands(aspect)[said.index],
                math.hypot(sd, defaults.BAND_EDGES),
            )
            if (
                sum(w * float(band_chance(a, b, np.array([value]), noise)[0]) for a, b, w in bands)
                < defaults.SURPRISE
            ):
                yield remark(
                    "word-and-number", aspect, word=said.word, size=said.size, misfit=value
                )
        elif kind.driver is not None:
            law = law_of(know, aspect, last.settings)
            expected = nominal(know.joint, aspect, last) + law.mean
            if abs(value - expected) > 4 * math.hypot(law.sd, know.cold[aspect].sd):
                yield remark(f"far-off-{aspect}", aspect, misfit=abs(value))


def surprise(before: Posterior, evidence: Evidence) -> float:
    """Chance, by what was known before, of a verdict at least as unlikely: the word, or a reading
    as far out.
    """
    misfit = evidence.nominal + before.grid
    chance = 1.0
    if evidence.read is not None:
        sd = math.hypot(evidence.read_sd, evidence.piece_sd)
        below = float(before.weight @ band_chance(-np.inf, evidence.read, misfit, sd))
        chance = 2 * min(below, 1 - below)
    if evidence.bands is not None:
        noise = math.hypot(evidence.word_noise, evidence.piece_sd)
        said = sum(
            w * float(before.weight @ band_chance(a, b, misfit, noise))
            for a, b, w in evidence.bands
        )
        chance = min(chance, said)
    return chance


def _misread(know: Knowledge) -> Iterable[Remark]:
    lead = know.joint.plan.family.lead
    for reading in know.misread:
        yield remark("reading-left-out", lead, kind=reading.kind, off=abs(reading.value))
