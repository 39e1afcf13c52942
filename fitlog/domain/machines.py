"""A machine by its parts: the steps they can be set by, or what is stacked to set them, and where
their scales start. Lengths are millimetres.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any, TypeVar

from ..errors import Mm, Most, Refused
from ..texts import tell
from .checks import clean_name, finite, optional_positive
from .packs import Pack, pack_of
from .shop import Bit, Stock

LIFT = "height"  # the part whose moves are shown, and may be typed, in turns
TURN_PARTS = 32  # the finest part of a turn that a hand sets by eye
DIAL = (8, 500)  # divisions a turn: common practice, no source
PartChanges = Mapping[str, "Part | Mapping[str, Any]"]  # by part: what it is, or what changes of it
T = TypeVar("T", bound="Bit | Stock | Machine")


@dataclass(frozen=True, slots=True)
class Part:
    """What is known of one part of a machine; None: not known.

    step: the smallest move it can be set by.  turn: its travel per turn; dial: the divisions that
    its dial has, a turn.  backlash: its play.
    zero: what the user's own scale shows minus the true value, of a pack what is there with nothing
    stacked, negative.  between: it can be set between its marks by eye.  pack: what is stacked to
    set it, which has no steps.
    """

    step: float | None = None
    turn: float | None = None
    backlash: float | None = None
    zero: float = 0.0
    between: bool = False
    pack: Pack | None = None
    dial: int | None = None

    @property
    def turn_parts(self) -> int:
        """The parts of a turn that it is set by: divisions of its dial, halves or quarters of wide
        ones, 32nds of a turn without a dial.
        """
        if self.dial is None:
            return TURN_PARTS
        return self.dial * next((k for k in (1, 2) if self.dial * k >= TURN_PARTS), 4)

    def check(self, name: str) -> None:
        """Raise `Refused` for what no part of this name can be like."""
        for what, value, most in (
            (tell("the {part} step", part=name), self.step, 5.0),
            ("the travel per turn", self.turn, 50.0),
        ):
            optional_positive(what, value)
            if value is not None and value > most:
                raise Refused(
                    "absurd-size",
                    "{what} of {value} is more than {most}",
                    "check the unit",
                    what=what,
                    value=Mm(value),
                    most=Most(most),
                )
        if self.backlash is not None and not 0 <= finite("the backlash", self.backlash) <= 5:
            whose = "lift" if name == LIFT else name
            raise Refused(
                "absurd-size",
                "a backlash of {backlash} is not a {whose}'s",
                "give 0 to {most}",
                most=Most(5.0),
                backlash=Mm(self.backlash),
                whose=whose,
            )
        self._check_dial()
        finite(tell("the {part} scale's zero", part=name), self.zero)
        if self.pack is not None and (self.step or self.turn or self.between or self.dial):
            raise Refused(
                "bad-set",
                "the {name} cannot be set by stacks and by steps or turns at once",
                "say what is stacked for it, or its step",
                name=name,
            )
        if self.pack is not None and not _can_be_read(self.pack):
            raise Refused(
                "bad-set",
                "what is stacked for the {name} cannot be written down",
                "name it without digits, dots and commas",
                name=name,
            )

    def _check_dial(self) -> None:
        if self.dial is not None and not DIAL[0] <= self.dial <= DIAL[1]:
            raise Refused(
                "absurd-size",
                "a dial of {dial} divisions a turn is none",
                "give {least} to {most}",
                dial=self.dial,
                least=DIAL[0],
                most=DIAL[1],
            )
        if self.dial is not None and self.turn is None:
            raise Refused(
                "bad-set",
                "a dial of {dial} divisions says nothing without the travel per turn",
                "add it: --height-turn L",
                dial=self.dial,
            )

    def changed(self, changes: Mapping[str, Any]) -> Part:
        """Return it with other figures; what is stacked takes the place of steps and turns, and
        they that of what is stacked.
        """
        before = self
        if changes.get("pack") is not None:
            before = Part(zero=self.zero)
        elif any(changes.get(what) for what in ("step", "turn", "between", "dial")):
            before = replace(self, pack=None)
        return replace(before, **changes)


def _can_be_read(pack: Pack) -> bool:
    """Tell whether a pack comes back from its description, as the log keeps it."""
    try:
        return pack_of(pack.text(), float) == pack
    except (Refused, ValueError):
        return False


NOTHING_KNOWN = Part()


@dataclass(frozen=True, slots=True)
class Machine:
    """A machine, by its parts what is known of them; a part of which nothing is known is left out.

    Which parts the settings of a joint are of, its family says.
    """

    name: str
    parts: Mapping[str, Part] = field(default_factory=dict, hash=False)
    retired: bool = False

    def __post_init__(self) -> None:
        clean_name("machine", self.name)
        known = {clean_name("a part", name): part for name, part in self.parts.items()}
        for name, part in known.items():
            part.check(name)
        told = {name: part for name, part in known.items() if part != NOTHING_KNOWN}
        object.__setattr__(self, "parts", told)

    def part(self, name: str) -> Part:
        """Return what is known of a part."""
        return self.parts.get(name, NOTHING_KNOWN)

    def zero(self, part: str) -> float:
        """Return what the user's own scale of a part shows minus the true value, mm."""
        return self.part(part).zero

    def step(self, part: str) -> float | None:
        """Return the smallest move of a part, mm, None where it is not known."""
        return self.part(part).step

    def turn(self, part: str) -> float | None:
        """Return the travel of a part per turn, mm, None where it has none."""
        return self.part(part).turn

    @property
    def between(self) -> tuple[str, ...]:
        """The parts that can be set between their marks by eye."""
        return tuple(name for name, part in self.parts.items() if part.between)

    def with_parts(self, changes: PartChanges) -> Machine:
        """Return it with what changes of its parts, the others as they are."""
        parts = dict(self.parts)
        for name, told in changes.items():
            parts[name] = told if isinstance(told, Part) else self.part(name).changed(told)
        return replace(self, parts=parts)


def edited(item: T, changes: Mapping[str, Any]) -> T:
    """Return a thing of the catalogue with other values by name; "parts" of a machine are
    `PartChanges`.
    """
    if isinstance(item, Machine) and "parts" in changes:
        changes = {**changes, "parts": item.with_parts(changes["parts"]).parts}
    return replace(item, **changes)
