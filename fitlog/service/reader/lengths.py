"""How one person writes lengths."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from ...domain import LIFT, Machine
from ...language.limits import Limit
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


@dataclass(frozen=True, slots=True)
class Reader:
    """One person's text. units: of a number that names none; agrees: asks that person yes or no,
    None where nobody can be asked.
    """

    units: str = "mm"
    agrees: Callable[[str], bool] | None = None

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
