"""How each person uses their words: learned where a word and a reading of the same piece meet."""

from __future__ import annotations

import math
from bisect import bisect
from collections.abc import Iterable, Mapping, Sequence

from .. import defaults
from ..domain import Aspect, Piece
from ..estimator.evidence import Voice, Voices
from ..estimator.scale import Meeting, Scale, assumed, learn_scale
from ..families import Joint, word_sets
from ..families.names import FAMILIES
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


def usual_edges(aspect: Aspect) -> Edges:
    """Return the edges between the words of an aspect that a scale is learnt about, mm: those of
    the first family that has it.
    """
    kinds = ((f, f.by_aspect[aspect]) for f in FAMILIES.values() if aspect in f.by_aspect)
    return word_sets(next(family.name for family, kind in kinds if kind.scaled), aspect)[""]


def carried(meeting: Meeting, own: Edges, usual: Edges) -> Meeting:
    """Return what a word met as it lies among the usual edges. own: those of the joint at hand, mm,
    such as a tenon's, whose every word means less play; a person shifts both alike.
    """
    above = bisect(own, meeting.mean)
    at = min(max(above, 1), len(own) - 1)
    share = min(max((meeting.mean - own[at - 1]) / (own[at] - own[at - 1]), 0.0), 1.0)
    shifts = [there - here for there, here in zip(usual, own, strict=True)]
    shift = shifts[at - 1] + share * (shifts[at] - shifts[at - 1])
    return meeting._replace(mean=meeting.mean + shift)


def voices(found: Mapping[Speaker, Scale]) -> Voices:
    """Return scales as the joints use them; those that are only assumed are left out."""
    return {one: _voice(usual_edges(one[1]), scale) for one, scale in found.items() if scale.met}


def _voice(usual: Edges, scale: Scale) -> Voice:
    doubt = math.sqrt(sum(sd**2 for sd in scale.edge_sds) / len(usual))
    return Voice(tuple(e - b for e, b in zip(scale.edges, usual, strict=True)), scale.noise, doubt)
