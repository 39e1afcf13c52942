"""What `fault` tells of a joint: symptoms, their causes in order, and for each cause a test and a
cure.

A family that knows some has them in its folder as a package `faults`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol, cast

from ..advice.history import History
from ..domain import Remark, SetUp
from . import offered

Words = frozenset[str]


@dataclass(frozen=True, slots=True)
class Cause:
    """One cause of a symptom. Texts name figures in braces, which the family works out.

    weight: how often it is this one, against the symptom's other causes, before the set-up is
    looked at (common practice, no source).  amounts: the figures its cure rests on.  signs: what of
    the set-up makes it likelier (or less likely), as (sign, factor); 0: it cannot be this one.
    move: what the cure moves of the settings, told only where something measured supports it.
    """

    code: str
    weight: float
    text: str
    test: str
    cure: str
    amounts: tuple[str, ...] = ()
    signs: tuple[tuple[str, float], ...] = ()
    move: str = ""


@dataclass(frozen=True, slots=True)
class Symptom:
    """What is seen on a joint. words: what to type; title: the same as a sentence.

    asks: sets of words any of which is enough; also: words that may stand beside them. size: what a
    number typed with it is ("" for none); typical: taken where none is known, mm (common practice,
    no source). first: what is done before anything is looked for; group: what it is listed under.
    """

    code: str
    words: str
    title: str
    asks: tuple[Words, ...]
    causes: tuple[Cause, ...]
    also: Words = frozenset()
    size: str = ""
    typical: float = 0.0
    first: str = ""
    group: str = ""


@dataclass(frozen=True, slots=True)
class Likely:
    """One cause of what was seen. share: how likely among the causes named, by rule of thumb; why:
    what moved it so far.

    amounts: the figures its cure rests on; lengths mm, under names that end in _mm.
    """

    code: str
    share: float
    text: Remark
    why: tuple[Remark, ...]
    test: Remark
    cure: Remark
    amounts: dict[str, float]


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """A symptom with its causes, the likeliest first. size: mm, None where the symptom has none;
    source: "said", "log" or "typical"; of: what the log's size is from; first: what is done before
    anything is looked for.
    """

    symptom: Symptom
    size: float | None
    source: str | None
    of: Remark | None
    causes: tuple[Likely, ...]
    first: Remark | None = None


@dataclass(frozen=True)
class Faults:
    """What is told of faults. setup: None where none was started yet; asked: the symptoms typed,
    their causes in order.

    log: what the log shows unasked.  list: all symptoms, where nothing was typed.
    """

    setup: SetUp | None
    log: tuple[Remark, ...]
    asked: tuple[Diagnosis, ...]
    list: tuple[Symptom, ...]
    cautions: tuple[Remark, ...]


class Faulty(Protocol):
    """A family's package `faults`. VOCABULARY: the words that symptoms are asked for by."""

    VOCABULARY: tuple[str, ...]

    def looked_for(
        self, setup: SetUp | None, past: History | None, words: Sequence[str], units: str
    ) -> Faults:
        """Return the causes of what was typed for a set-up, or all symptoms when nothing was typed.

        past: what was learnt before it; units: preferred unit of bare numbers. Raises NotUnderstood
        or Refused for words that name no symptom.
        """


def faults_of(joint: str) -> Faulty:
    """Return what is known of a joint's faults; raise `Refused` ("other-joint") without."""
    return cast(Faulty, offered(joint, "faults", "symptoms"))


def words(text: str) -> Words:
    """Return a set of words."""
    return frozenset(text.split())
