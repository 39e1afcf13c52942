"""How one person writes lengths, and says what was seen."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from ...domain import LIFT, Aspect, Machine, Verdict
from ...errors import FitlogError
from ...families.typed import speech_of
from ...language.limits import Limit
from ...language.phrases import parse_phrases
from ...language.speech import Speech
from ...language.units import Length, Ruler, parse_length


@dataclass(frozen=True, slots=True)
class BoardsTyped:
    """The boards' sizes; None: not given."""

    width: str | None = None
    thickness: str | None = None
    pin_thickness: str | None = None


@dataclass(frozen=True, slots=True)
class PieceTyped:
    """What a test piece is made of, where it differs; None: not given."""

    scrap: str | None = None
    width: str | None = None
    thickness: str | None = None


class Asks(NamedTuple):
    """How a person is asked. agrees: yes or no; chooses: one of a refusal's choices, by its place,
    None for none of them.
    """

    agrees: Callable[[str], bool]
    chooses: Callable[[FitlogError], int | None]


@dataclass(frozen=True, slots=True)
class Reader:
    """One person's text. units: of a number that names none; asks: how they are asked, None where
    nobody can be; own: their own phrases, each with what it means.
    """

    units: str = "mm"
    asks: Asks | None = None
    own: Mapping[str, str] = field(default_factory=dict)

    def speech(self, joint: str) -> Speech:
        """Return how the person speaks of a joint."""
        return speech_of(joint).with_own(self.own)

    def verdict(
        self, words: Sequence[str] | str, speech: Speech, now: Sequence[Aspect] = ()
    ) -> Verdict:
        """Read what was said, and ask what may mean several things. now, raises: as of
        `parse_phrases`.
        """
        while True:
            try:
                return parse_phrases(words, speech, units=self.units, now=now)
            except FitlogError as unclear:
                chosen = self.asks.chooses(unclear) if self.asks and unclear.choices else None
                if chosen is None:
                    raise
                words = unclear.choices[chosen].instead

    @property
    def ruler(self) -> Ruler:
        """How lengths are shown to the person, without turns."""
        return Ruler(self.units)

    def length(self, text: str, what: str, machine: Machine | None = None) -> Length:
        """Read a length; turns are those of the machine's lift. Raises NotUnderstood."""
        turn = machine.turn(LIFT) if machine else None
        return parse_length(text, units=self.units, turn=turn, what=what)

    def size(self, text: str, limit: Limit, machine: Machine | None = None) -> float:
        """Read a size, mm, inside its limit; raises NotUnderstood, or Refused beyond it."""
        return limit.check(self.length(text, limit.what, machine))

    def maybe(self, text: str | None, limit: Limit, machine: Machine | None = None) -> float | None:
        """Read a size as `size` does where one was given."""
        return None if text is None else self.size(text, limit, machine)

    def setting(self, text: str, part: str, limit: Limit, machine: Machine | None) -> float:
        """Read a setting on the scale of a part of the machine; return the true length, mm."""
        zero = machine.zero(part) if machine else 0.0
        return self.size(text, limit.moved(zero), machine) - zero

    def sizes(
        self, texts: Mapping[str, str | None], limits: Mapping[str, Limit]
    ) -> dict[str, float]:
        """Read the sizes that were given, mm by name."""
        return {n: self.size(t, limits[n]) for n, t in texts.items() if t is not None}
