"""What was said and read of a piece."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ..errors import Refused
from .checks import optional_positive, positive

Aspect = Literal["fit", "centre", "seat"]
ASPECTS: tuple[Aspect, ...] = ("fit", "centre", "seat")
# The words of each aspect in the order of the misfit they stand for, most negative first.
WORDS: dict[Aspect, tuple[str, ...]] = {
    "fit": (
        "very tight",
        "tight",
        "slightly tight",
        "good",
        "slightly loose",
        "loose",
        "very loose",
    ),
    "centre": ("gap near", "centred", "gap far"),
    "seat": ("very shy", "shy", "slightly shy", "flush", "slightly proud", "proud", "very proud"),
}
SETTLING_WORD: dict[Aspect, str] = {"fit": "good", "centre": "centred", "seat": "flush"}
FAULT_PLACES = ("baseline", "inside", "flank", "unplaced")
READING_KINDS = ("pull_gap", "mouth", "tail_width", "between_rods", "over_rods", "walls")


@dataclass(frozen=True, slots=True)
class Said:
    """One judged aspect: its word from WORDS and the number said with it.

    size: fit, the pull-apart gap; centre, the extra width of the cut; seat, the step; all unsigned
    mm.
    """

    aspect: Aspect
    word: str
    size: float | None = None

    def __post_init__(self) -> None:
        if self.word not in WORDS[self.aspect]:
            raise Refused(
                "bad-word",
                f"{self.word!r} is no word for the {self.aspect}",
                "see fitlog cut --help",
            )
        optional_positive("the size", self.size)

    @property
    def index(self) -> int:
        """Place of the word in WORDS, 0 for the most negative misfit."""
        return WORDS[self.aspect].index(self.word)

    @property
    def turned(self) -> Said:
        """The same said of the other side: proud for shy, far for near, tight for loose."""
        words = WORDS[self.aspect]
        return Said(self.aspect, words[len(words) - 1 - self.index], self.size)

    @property
    def side(self) -> int:
        """-1, 0 or +1: the sign of the misfit that the word stands for."""
        middle = WORDS[self.aspect].index(SETTLING_WORD[self.aspect])
        return (self.index > middle) - (self.index < middle)

    def __str__(self) -> str:
        return self.word if self.size is None else f"{self.word} {self.size:.2f}"


@dataclass(frozen=True, slots=True)
class Fault:
    """A gap that no setting cures, by its place; 'unplaced' when only `gap` was said."""

    place: str
    size: float | None = None

    def __post_init__(self) -> None:
        if self.place not in FAULT_PLACES:
            raise Refused(
                "bad-word", f"{self.place!r} is no place of a gap", "say baseline, inside or flank"
            )
        optional_positive("the size of the gap", self.size)

    def __str__(self) -> str:
        name = "gap" if self.place == "unplaced" else f"gap {self.place}"
        return name if self.size is None else f"{name} {self.size:.2f}"


@dataclass(frozen=True, slots=True)
class Verdict:
    """What was said of a piece. An aspect that is None was not judged: unknown, never good."""

    fit: Said | None = None
    centre: Said | None = None
    seat: Said | None = None
    faults: tuple[Fault, ...] = ()

    def of(self, aspect: Aspect) -> Said | None:
        """Return what was said of `aspect`."""
        said: Said | None = getattr(self, aspect)
        return said

    def with_(self, said: Said) -> Verdict:
        """Return this verdict with what was said of one aspect changed."""
        return Verdict(
            said if said.aspect == "fit" else self.fit,
            said if said.aspect == "centre" else self.centre,
            said if said.aspect == "seat" else self.seat,
            self.faults,
        )

    def has_fault(self, place: str) -> bool:
        """Tell whether a gap at `place` was said."""
        return any(f.place == place for f in self.faults)

    @property
    def empty(self) -> bool:
        """True when nothing was judged."""
        return self == Verdict()

    def later(self, other: Verdict) -> Verdict:
        """Return this verdict with what was seen later on the same piece laid over it."""
        places = {f.place for f in other.faults}
        placed = bool(places - {"unplaced"}) or (
            other.centre is not None and other.centre.side != 0
        )
        kept = tuple(
            f
            for f in self.faults
            if f.place not in places and not (placed and f.place == "unplaced")
        )
        return Verdict(
            other.fit or self.fit,
            other.centre or self.centre,
            other.seat or self.seat,
            kept + other.faults,
        )

    def __str__(self) -> str:
        parts: list[object] = [s for s in (self.fit, self.centre, self.seat) if s is not None]
        return ", ".join(str(p) for p in [*parts, *self.faults]) or "nothing judged"


@dataclass(frozen=True, slots=True)
class Reading:
    """A number measured on a piece, mm.

    pull_gap: `value`.  mouth, tail_width: `value`.  between_rods, over_rods: rod diameter `rod`,
    width `value`. walls: the wall at the fence `value`, the far wall `other`, beside a cut in the
    middle.
    """

    kind: str
    value: float
    rod: float | None = None
    other: float | None = None

    def __post_init__(self) -> None:
        if self.kind not in READING_KINDS:
            raise Refused(
                "bad-reading", f"{self.kind!r} is no kind of reading", "see fitlog cut --help"
            )
        positive(f"the reading {self.kind.replace('_', ' ')}", self.value)
        optional_positive("the rod", self.rod)
        optional_positive("the far wall", self.other)
        if (self.rod is not None) != self.kind.endswith("_rods"):
            raise Refused(
                "bad-reading",
                "a reading over or between rods needs the rods' diameter",
                "give D and the width",
            )
        if (self.other is not None) != (self.kind == "walls"):
            raise Refused(
                "bad-reading",
                "the walls are two readings",
                "give the wall at the fence, then the far one",
            )
