"""The boards of a batch and the corners they meet in: which mark is pencilled on which end, and
which edge of that end lies at the fence.

A pin board lies inside face down, the end to be cut leading, and is fed right to left with the
fence behind it: seen from outside with the marked edge up, its left end has the marked edge at the
fence, its right end the other one. A tail board takes the edge of the end that it meets. L and R
are those of somebody who looks at the outside of the first pin board with its marked edge up, as
one stands before a drawer; the second pin board is seen from its inside then, so that its L is its
own right end.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from .stops import BothBoards

Hand = Literal["left", "right"]
Edge = Literal["marked", "other"]
HANDS: tuple[Hand, Hand] = ("left", "right")
EDGES: tuple[Edge, Edge] = ("marked", "other")


@dataclass(frozen=True, slots=True)
class End:
    """One end of one board. end: which of its two, "left" or "right" of a pin board, of a tail
    board the pin board that it meets; hand, back: in which corner it lies; box: which drawer.
    """

    mark: str
    kind: BothBoards
    board: str
    end: str
    edge: Edge
    hand: Hand
    back: bool
    box: int


@dataclass(frozen=True, slots=True)
class Depth:
    """Where the depth stop stands for the tail boards of one thickness. depth: the socket depth,
    mm; hands: on which sides of the box they are.
    """

    thickness: float
    depth: float
    hands: tuple[Hand, ...] = HANDS


@dataclass(frozen=True)
class Boards:
    """What is to be cut: so many boxes, each of a first pin board, a second one or none, and two
    tail boards, by the person's own names, in the singular.
    """

    first: str
    second: str | None
    tail: str
    boxes: int

    @property
    def pins(self) -> tuple[str, ...]:
        """The pin boards of one box."""
        return (self.first,) if self.second is None else (self.first, self.second)

    @property
    def letters(self) -> tuple[str, ...]:
        """What the marks of each pin board begin with: its initial, more where both have the same,
        its number where both are called alike.
        """
        first, *rest = (name.upper().replace(" ", "") for name in self.pins)
        if not rest:
            return (first[:1],)
        if first == rest[0]:
            return f"{first[:1]}1", f"{first[:1]}2"
        alike = next(n for n in range(1, 99) if first[:n] != rest[0][:n])
        return first[:alike], rest[0][:alike]

    @property
    def patterns(self) -> tuple[End, ...]:
        """The corners of one box by their pin boards' ends, without numbers."""
        return tuple(end for end in self.ends if end.kind == "pin" and end.box == 1)

    @cached_property
    def ends(self) -> tuple[End, ...]:
        """Every end that is cut, box by box; each corner's tail board, then its pin board."""
        return tuple(
            end
            for box in range(1, self.boxes + 1)
            for back, name in enumerate(self.pins)
            for hand in HANDS
            for end in self._corner(box, bool(back), name, hand)
        )

    def _corner(self, box: int, back: bool, name: str, hand: Hand) -> tuple[End, End]:
        edge = EDGES[(hand == "right") != back]
        mark = f"{self.letters[back]}{hand[0].upper()}{self._number(box)}"
        same, right = self.second == self.first, hand == "right"
        pin = f"{name} {2 * box - 1 + back if same else box}"
        tail = f"{self.tail} {2 * box - 1 + right}"
        meets = f"{name} {back + 1}" if same else name
        return (
            End(mark, "tail", tail, meets, edge, hand, back, box),
            End(mark, "pin", pin, hand, edge, hand, back, box),
        )

    def _number(self, box: int) -> str:
        return str(box) if self.boxes > 1 else ""
