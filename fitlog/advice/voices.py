"""How each person uses their words: learned where a word and a reading of the same piece meet."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence

from .. import defaults
from ..domain import Aspect, Piece
from ..estimator.evidence import Voice, Voices
from ..estimator.scale import Meeting, Scale, assumed, learn_scale
from ..families import Joint
from .settled import nominal

Speaker = tuple[str, Aspect]
Edges = tuple[float, ...]


def meetings(joint: Joint, pieces: Sequence[Piece]) -> Iterable[tuple[Speaker, Meeting]]:
    """Yield every word that met a reading, with its speaker.

    A reading of one piece tells of the others too, since the settings tell how they differ: a word
    on a tight piece, which no feeler reads, meets the gaps of its loose neighbours.
    """
    if joint.plan.word_set:  # other edges
        return
    for aspect in (kind.name for kind in joint.plan.family.kinds if kind.scaled):
        read = {p.number: r for p in pieces if (r := joint.reading_of(aspect, p)) is not None}
        for piece in pieces if read else ():
            said = piece.verdict.of(aspect)
            if said is None or piece.verdict.silenced(said.kind):
                continue
            law = _read_on(joint, aspect, piece, pieces, read)
            if law is not None and law[1] < defaults.MEETING_SD:
                yield (piece.by, aspect), Meeting(said.index, *law)


def _read_on(
    joint: Joint,
    aspect: Aspect,
    piece: Piece,
    pieces: Sequence[Piece],
    read: dict[int, tuple[float, float]],
) -> tuple[float, float] | None:
    """What all readings of a set-up say of one piece's own misfit, mean and sd, mm."""
    weight, total = 0.0, 0.0
    if joint.plan.family.kind(aspect).tried:
        spread = joint.piece_sd(aspect)
        others = [p for p in pieces if p.number in read and p is not piece]
        known = [1 / (read[p.number][1] ** 2 + spread**2) for p in others]
        if known:
            offset = sum(
                w * (read[p.number][0] - nominal(joint, aspect, p))
                for w, p in zip(known, others, strict=True)
            )
            weight = 1 / (1 / sum(known) + spread**2)
            total = weight * (offset / sum(known) + nominal(joint, aspect, piece))
    if piece.number in read:
        value, sd = read[piece.number]
        weight, total = weight + 1 / sd**2, total + value / sd**2
    return (total / weight, 1 / math.sqrt(weight)) if weight > 0 else None


def scale_of(usual: Edges, met: Sequence[Meeting]) -> Scale:
    """Return a person's scale from the words that met a reading; few of them leave it as
    assumed. usual: the edges between the words of an aspect, mm.
    """
    prior = assumed_scale(usual)
    least, most = defaults.VOICE_MEETINGS
    heard = met[-most:]
    words = [m.word for m in heard]
    return prior if len(met) < least else learn_scale(prior, heard, read=(min(words), max(words)))


def assumed_scale(usual: Edges) -> Scale:
    """Return the scale of a person of whom nothing is known."""
    return assumed(usual, defaults.WORD_NOISE, defaults.BAND_EDGES)


def voices(found: Mapping[Speaker, Scale], usual: Mapping[Aspect, Edges]) -> Voices:
    """Return scales as the joints use them; those that are only assumed are left out. usual: the
    edges between the words of each aspect, mm.
    """
    return {
        speaker: _voice(usual[speaker[1]], scale) for speaker, scale in found.items() if scale.met
    }


def _voice(usual: Edges, scale: Scale) -> Voice:
    doubt = math.sqrt(sum(sd**2 for sd in scale.edge_sds) / len(usual))
    return Voice(tuple(e - b for e, b in zip(scale.edges, usual, strict=True)), scale.noise, doubt)
