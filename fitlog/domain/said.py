"""What was said and read of a piece."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from ..errors import Refused
from ..texts import tell
from .checks import optional_positive, positive

Aspect = str  # a family's own name for what is judged
UNPLACED = "unplaced"  # the place of a gap of which only `gap` was said, in every family


@dataclass(frozen=True, slots=True)
class AspectKind:
    """One aspect as its family declares it; the same where the name is.

    words: in the order of the misfit they stand for, most negative first. settling: the word that
    accepts it.  setting: the name of its own setting, None where nothing tunes it.  place: in the
    family's order.  places_gap: a word off the settling one says where a gap is.  tried: it is
    settled by a joint that was tried, never by figures.  zeroed: it need only be known, since every
    stop of the real boards is computed from its zero.  driver: the aspect that its misfit hangs on
    beside its own offset.  unread: words after which nothing is measured.  silenced_by: places of a
    gap that make its word worthless.  scaled: how a person uses its words is learnt where readings
    meet them.  read_by: readings that answer for it without its word.  shown_last: what shows it
    spoils the piece for the others.
    """

    name: Aspect
    words: tuple[str, ...] = field(compare=False, repr=False)
    settling: str = field(compare=False, repr=False)
    setting: str | None = field(default=None, compare=False, repr=False)
    place: int = field(default=0, compare=False, repr=False)
    places_gap: bool = field(default=False, compare=False, repr=False)
    tried: bool = field(default=False, compare=False, repr=False)
    zeroed: bool = field(default=False, compare=False, repr=False)
    driver: Aspect | None = field(default=None, compare=False, repr=False)
    unread: tuple[str, ...] = field(default=(), compare=False, repr=False)
    silenced_by: tuple[str, ...] = field(default=(), compare=False, repr=False)
    scaled: bool = field(default=False, compare=False, repr=False)
    read_by: tuple[str, ...] = field(default=(), compare=False, repr=False)
    shown_last: bool = field(default=False, compare=False, repr=False)

    @property
    def readable(self) -> tuple[int, ...]:
        """The places of the words after which an instrument can say how far."""
        return tuple(i for i, word in enumerate(self.words) if word not in self.unread)

    @property
    def settled_at(self) -> int:
        """The place of the settling word among the words."""
        return self.words.index(self.settling)


@dataclass(frozen=True, slots=True)
class Said:
    """One judged aspect: one of its words and the number said with it, unsigned mm.

    What the number measures is the family's.
    """

    kind: AspectKind
    word: str
    size: float | None = None

    def __post_init__(self) -> None:
        if self.word not in self.kind.words:
            raise Refused(
                "bad-word",
                "{word!r} is no word for the {aspect}",
                "see fitlog cut --help",
                "load the page again",
                word=self.word,
                aspect=self.aspect,
            )
        optional_positive("the size", self.size)

    @property
    def aspect(self) -> Aspect:
        """The name of what was judged."""
        return self.kind.name

    @property
    def index(self) -> int:
        """Place of the word among the aspect's, 0 for the most negative misfit."""
        return self.kind.words.index(self.word)

    @property
    def turned(self) -> Said:
        """The same said of the other side: proud for shy, far for near, tight for loose."""
        return replace(self, word=self.kind.words[-1 - self.index])

    @property
    def side(self) -> int:
        """-1, 0 or +1: the sign of the misfit that the word stands for."""
        middle = self.kind.settled_at
        return (self.index > middle) - (self.index < middle)

    @property
    def settles(self) -> bool:
        """Whether the word is the one that accepts the aspect."""
        return self.word == self.kind.settling

    def __str__(self) -> str:
        return self.word if self.size is None else f"{self.word} {self.size:.2f}"


@dataclass(frozen=True, slots=True)
class Fault:
    """A gap that no setting cures, by its place; `UNPLACED` when only `gap` was said."""

    place: str
    size: float | None = None

    def __post_init__(self) -> None:
        optional_positive("the size of the gap", self.size)

    @property
    def placed(self) -> bool:
        """Whether its place was said."""
        return self.place != UNPLACED

    def __str__(self) -> str:
        name = f"gap {self.place}" if self.placed else "gap"
        return name if self.size is None else f"{name} {self.size:.2f}"


@dataclass(frozen=True, slots=True)
class Verdict:
    """What was said of a piece, in the family's order. An aspect that was not judged is unknown,
    never good.
    """

    said: tuple[Said, ...] = ()
    faults: tuple[Fault, ...] = ()

    def __post_init__(self) -> None:
        if len({said.aspect for said in self.said}) < len(self.said):
            raise ValueError("an aspect has one word")
        object.__setattr__(self, "said", tuple(sorted(self.said, key=lambda s: s.kind.place)))

    def of(self, aspect: Aspect) -> Said | None:
        """Return what was said of `aspect`, None where it was not judged."""
        return next((said for said in self.said if said.aspect == aspect), None)

    def with_(self, said: Said) -> Verdict:
        """Return this verdict with what was said of one aspect changed."""
        others = (s for s in self.said if s.aspect != said.aspect)
        return replace(self, said=(*others, said))

    def without(self, aspect: Aspect) -> Verdict:
        """Return this verdict with one aspect not judged."""
        return replace(self, said=tuple(s for s in self.said if s.aspect != aspect))

    def silenced(self, kind: AspectKind) -> bool:
        """Tell whether a gap makes what was said of an aspect worthless."""
        return any(self.has_fault(place) for place in kind.silenced_by)

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
        placed = any(f.placed for f in other.faults) or any(
            said.kind.places_gap and said.side for said in other.said
        )
        kept = tuple(f for f in self.faults if f.place not in places and (f.placed or not placed))
        unsaid = (said for said in self.said if other.of(said.aspect) is None)
        return Verdict((*unsaid, *other.said), kept + other.faults)

    def __str__(self) -> str:
        return ", ".join(str(p) for p in (*self.said, *self.faults)) or "nothing judged"


@dataclass(frozen=True, slots=True)
class Reading:
    """A number measured on a piece, mm; which kinds there are, the family says.

    rod: the diameter of the rods that it was taken over or between.  other: the second of two
    numbers, such as the far wall's.
    """

    kind: str
    value: float
    rod: float | None = None
    other: float | None = None

    def __post_init__(self) -> None:
        positive(tell("the reading {kind}", kind=self.kind.replace("_", " ")), self.value)
        optional_positive("the rod", self.rod)
        optional_positive("the far wall", self.other)
