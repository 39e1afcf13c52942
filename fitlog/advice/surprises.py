"""What does not go together: verdicts against the pieces before them, numbers against words,
swapped sides.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np

from .. import defaults
from ..domain import Aspect, Piece, Remark
from ..estimator.evidence import Evidence
from ..estimator.likelihood import band_chance
from ..estimator.posterior import Posterior, each_alone, posterior, without
from ..language.units import Ruler
from .aim import Aim
from .knowledge import AS_SAID, Knowledge
from .laws import law_of
from .settled import nominal

_LOOK_BACK = 12  # pieces among which the one that is contradicted is sought


def surprises(
    know: Knowledge, pieces: Sequence[Piece], found: Aim, ruler: Ruler
) -> Iterable[Remark]:
    """Return what contradicts what, and what usually causes it."""
    last = pieces[-1] if pieces else None
    yield from _slips(know, last, found)
    yield from _surprises(know, pieces, ruler)
    yield from _far_off(know, last, ruler)
    yield from _misread(know, ruler)


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
        word, before = (
            f'"{said.word}"',
            "the pieces before it" if last and last.number > 1 else "what was known before it",
        )
        yield Remark(
            f"slip-{aspect}",
            f"{word} goes against {before} and may be a slip (another edge on the fence, a lock "
            "that "
            f"slipped, a wrong word): cut the same setting again.",
            aspect,
        )


def _expected(know: Knowledge, aspect: Aspect, piece: Piece) -> bool:
    """Whether a step is one that its settings may well give: how deep the tails go hangs on the
    clearance of each piece.
    """
    reading = know.joint.reading_of(aspect, piece)
    law = law_of(know, aspect, piece.settings)
    return (
        reading is not None
        and abs(reading[0] - nominal(know.joint, aspect, piece) - law.mean) < 2 * law.sd
    )


def _surprises(know: Knowledge, pieces: Sequence[Piece], ruler: Ruler) -> Iterable[Remark]:
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
            word, against = (
                said.word if said else "its reading",
                _against(know, aspect, pieces, found, ruler),
            )
            yield Remark(
                f"surprise-{aspect}",
                f'Piece {pieces[-1].number} ("{word}") was less than 1 % likely {against}: '
                "check for backlash, a slipped lock, another edge on the fence, or a word logged "
                "wrongly "
                "(`fitlog undo` takes it back).",
                aspect,
            )


def _against(
    know: Knowledge,
    aspect: Aspect,
    pieces: Sequence[Piece],
    found: Sequence[Evidence],
    ruler: Ruler,
) -> str:
    """Name the earlier piece that goes worst together with the last one."""
    if len(found) == 1:
        if know.past.taught(aspect, know.joint.terms(aspect, 1.0)):
            return "by what earlier set-ups taught"
        return "by the bit's figures" if aspect == "fit" else "by how well the fence is known"
    earlier = found[-_LOOK_BACK - 1 : -1]
    laws = each_alone(know.cold[aspect], earlier)
    alone = {e.piece: surprise(law, found[-1]) for e, law in zip(earlier, laws, strict=True)}
    worst = min(alone, key=lambda number: alone[number])
    piece = next(p for p in pieces if p.number == worst)
    said, zero = piece.verdict.of(aspect), piece.settings.on_scale(know.joint.plan.machine)
    word = f'"{said.word}" ' if said else "its reading "
    setting = know.joint.plan.family.adjusted(aspect)
    return f"after piece {worst} ({word}at a {setting.noun} of {ruler.length(zero[setting.name])})"


def _far_off(know: Knowledge, last: Piece | None, ruler: Ruler) -> Iterable[Remark]:
    """A number that cannot be squared with its word, or with the figures before the first piece."""
    for aspect in know.joint.plan.in_play if last else ():
        assert last is not None
        reading, said = know.joint.reading_of(aspect, last), last.verdict.of(aspect)
        if reading is None:
            continue
        value, sd = reading
        if aspect == "fit" and said is not None and said.size is not None:
            bands, noise = (
                know.joint.word_bands("fit")[said.index],
                math.hypot(sd, defaults.BAND_EDGES),
            )
            if (
                sum(w * float(band_chance(a, b, np.array([value]), noise)[0]) for a, b, w in bands)
                < defaults.SURPRISE
            ):
                yield Remark(
                    "word-and-number",
                    f'"{said.word}" and a pull-apart gap of {ruler.length(said.size)} don\'t go '
                    "together: that gap is a "
                    f"clearance of {ruler.length(value)}. Check the number; a word alone is better "
                    "than a wrong one.",
                    aspect,
                )
        elif aspect == "seat":
            law = law_of(know, "seat", last.settings)
            expected = nominal(know.joint, "seat", last) + law.mean
            if abs(value - expected) > 4 * math.hypot(law.sd, know.cold["seat"].sd):
                yield Remark(
                    "far-off-seat",
                    f"A step of {ruler.length(abs(value))} is far from what these settings give: "
                    "measure the socket depth from "
                    "the board's end to the bit's centre (to the deepest point of the mouth it is "
                    "half the mouth more). If the "
                    "number is right, set the depth by hand and log it with `--depth`.",
                    aspect,
                )


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


def _misread(know: Knowledge, ruler: Ruler) -> Iterable[Remark]:
    for reading in know.misread:
        yield Remark(
            "reading-left-out",
            f"The reading of the {reading.kind.replace('_', ' ')} is "
            f"{ruler.length(abs(reading.value))} off what this bit "
            "and pitch can give and was left out: measure it again.",
            "fit",
        )
