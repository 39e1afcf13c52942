"""What can be stacked to set a part of a machine: papers, tapes, shims, spacer blocks, each there
some times. Lengths are mm.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from ..errors import Mm, Most, Refused
from ..texts import tell
from .checks import clean_name, positive

MOST_OF_ONE, MOST_STACKS, THICKEST = 99, 5000, 200.0  # of a shim; different heights; mm
_LIMIT = re.compile(r"(?:(?P<one>one)|at most (?P<most>\d+)) of (?P<rest>.*)", re.I | re.S)
_SHIM = re.compile(r"(?P<name>[^\d.]+?)\s*(?P<size>[\d.].*?)(?:\s*[x*]\s*(?P<count>\d+))?", re.I)


@dataclass(frozen=True, slots=True)
class Shim:
    """A paper, a tape, a shim or a block of one thickness. count: how many there are."""

    name: str
    thickness: float
    count: int = 1

    def __post_init__(self) -> None:
        clean_name("a shim", self.name)
        positive(tell("the thickness of {name}", name=self.name), self.thickness)
        if self.thickness > THICKEST:
            raise Refused(
                "absurd-size",
                "{name} of {thickness} is thicker than {most}",
                "check the unit",
                name=self.name,
                thickness=Mm(self.thickness),
                most=Most(THICKEST),
            )
        if not 1 <= self.count <= MOST_OF_ONE:
            raise Refused(
                "bad-set",
                "{name} cannot be there {count} times",
                "say how many there are, 1 to {most}",
                name=self.name,
                count=self.count,
                most=MOST_OF_ONE,
            )


@dataclass(frozen=True, slots=True)
class Pack:
    """All that can be stacked. most: how many at a time, None for any number; 1: one of them."""

    shims: tuple[Shim, ...]
    most: int | None = None

    def __post_init__(self) -> None:
        names = [shim.name for shim in self.shims]
        twice = next((name for name in names if names.count(name) > 1), None)
        if not names or twice is not None:
            raise Refused(
                "bad-set",
                "{name} is named twice" if names else "nothing is named",
                "name each thickness once: paper 0.1 x4, tape 0.13",
                name=twice,
            )
        if self.most is not None and self.most < 1:
            raise Refused(
                "bad-set",
                "at most {most} stacked is nothing to set",
                "say one or more",
                most=self.most,
            )
        self.stacks()

    def text(self, length: Callable[[float], str] = str) -> str:
        """Return the description that `pack_of` reads. length: writes one, mm."""
        shims = ", ".join(
            f"{s.name} {length(s.thickness)}{f' x{s.count}' if s.count > 1 else ''}"
            for s in self.shims
        )
        if self.most is None:
            return shims
        return f"{'one' if self.most == 1 else f'at most {self.most}'} of {shims}"

    def stacks(self) -> list[tuple[float, tuple[str, ...]]]:
        """Return every height that can be stacked, in order, with the names of the fewest pieces
        that make it; nothing at all is 0.

        Raises Refused for more than `MOST_STACKS` heights.
        """
        return _stacked(self.shims, self.most)


@lru_cache(maxsize=32)
def _stacked(shims: tuple[Shim, ...], most: int | None) -> list[tuple[float, tuple[str, ...]]]:
    found: dict[float, tuple[int, ...]] = {0.0: ()}
    for shim in shims:
        found = _with(shim, found, most)
        if len(found) > MOST_STACKS:
            raise Refused(
                "bad-set",
                "{name} x{count} makes more than {most} different stacks",
                "name fewer, or how many are stacked: at most 3 of paper 0.1 x9, tape 0.13",
                name=shim.name,
                count=shim.count,
                most=MOST_STACKS,
            )
    return [
        (height, tuple(s.name for s, n in zip(shims, counts, strict=True) for _ in range(n)))
        for height, counts in sorted(found.items())
    ]


def _with(
    shim: Shim, before: dict[float, tuple[int, ...]], most: int | None
) -> dict[float, tuple[int, ...]]:
    """The stacks of the shims before it with some of one more: of equal heights the fewest."""
    found: dict[float, tuple[int, ...]] = {}
    for height, counts in before.items():
        for count in range(shim.count + 1):
            more, key = (*counts, count), round(height + count * shim.thickness, 6)
            if most is not None and sum(more) > most:
                break
            if key not in found or sum(more) < sum(found[key]):
                found[key] = more
    return found


def pack_of(text: str, length: Callable[[str], float]) -> Pack:
    """Return a pack from its description: "paper 0.1 x4, tape 0.13 x2, block 6", or "one of block
    6, thick block 8", or "at most 3 of ...". length: reads one length, mm.

    Raises Refused for anything else, and whatever `length` raises.
    """
    limit = _LIMIT.fullmatch(text.strip())
    rest = limit["rest"] if limit else text
    most = None if limit is None else int(limit["most"] or 1)
    return Pack(tuple(_shim_of(part.strip(), length) for part in rest.split(",")), most)


def _shim_of(text: str, length: Callable[[str], float]) -> Shim:
    said = _SHIM.fullmatch(text)
    if said is None:
        shown = text[:20].encode("unicode_escape").decode()
        raise Refused(
            "bad-set",
            "{shown!r} is no name with a thickness",
            "give each as a name, its thickness and how many there are: paper 0.1 x4",
            shown=shown,
        )
    name = " ".join(said["name"].split())
    return Shim(name, length(said["size"].strip()), int(said["count"] or 1))
