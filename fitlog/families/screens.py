"""What the screens say of a family's joints beside its remarks: how its pieces are asked about, and
what its plans are called by.

`Screens` says it all from the declared names. A family that says some of it better has a class
`Own` of this shape in its folder's module `english.screens`, or of another language.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import ClassVar, NamedTuple

from ..domain import Aspect, Family, Machine, Plan, Settings, TrialCut
from ..language.units import Ruler
from ..texts import ENGLISH, LANGUAGE, tell
from . import part_of

_TAKEN = "qufmsyF"  # keys that mean something of their own in the dialogue


class Typed(NamedTuple):
    """A reading that the dialogue takes. key: that types it; asks: what is asked, number by number;
    named: beside its key; told: in the help.
    """

    key: str
    asks: tuple[str, ...]
    named: str
    told: str


class Screens:
    """What is said from the declared names alone. `turn` below: the codes of what is to be minded
    before what shows an aspect spoils the piece.
    """

    # Notes that may wait for `why` on a screen that is full: questions about what was logged, and
    # what is only remarked. Any other, a new one too, never waits.
    may_wait: tuple[str, ...] = (
        *("side-swapped-once", "sides-swapped", "surprise-*", "slip-*", "far-off-*", "*-drifts"),
        *("move-did-nothing", "move-overshot", "coarse-*", "word-and-number", "reading-left-out"),
        *("other-size", "real-board", "moisture-*"),
    )
    # Steps that are cautions, which a start says in full each time.
    minded: tuple[str, ...] = ()
    # The reading of a cut in waste that is no piece; "" for none.
    waste = ""

    def __init__(self, family: Family) -> None:
        self.family = family

    def what_for(self) -> str:
        """Return what the joint is for and how it is cut, in a sentence or two."""
        return tell("The {joint}.", joint=self.family.name)

    def keys(self) -> Mapping[str, str]:
        """Return the settings by the keys that type them: the first letter of the part, of the name
        or of any that is free.
        """
        found: dict[str, str] = {}
        for kind in self.family.settings:
            letters = kind.part + kind.noun + "abcdefghijklmnopqrstuvwxyz"
            found[_free(letters, found)] = kind.name
        return found

    def readings(self) -> Mapping[str, Typed]:
        """Return what the dialogue takes beside words, by kind of reading."""
        found: dict[str, str] = {}
        for kind in self.family.kinds:
            for name in kind.read_by:
                letters = name + "abcdefghijklmnopqrstuvwxyz"
                found[_free(letters, {*self.keys(), *found})] = name
        return {name: self._typed(key, name) for key, name in found.items()}

    def _typed(self, key: str, name: str) -> Typed:
        called, second = name.replace("_", " "), self.family.readings[name]
        other = tell("other {reading}", reading=called)
        asks = {"": (called,), "rod": (tell("rod"), called), "other": (called, other)}
        measured = tell("{reading} measured", reading=called)
        return Typed(
            key, asks[second], measured, tell("type the {reading} as measured.", reading=called)
        )

    def what(self, plan: Plan, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> str:
        """Return the question of an aspect."""
        return tell("how is the {aspect}?", aspect=aspect)

    def tests(self, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> Sequence[str]:
        """Return what tells each word from its neighbours, in the order of the words."""
        return [""] * len(self.family.words(aspect))

    def tests_of(
        self, plan: Plan, aspect: Aspect, ruler: Ruler, turn: Collection[str]
    ) -> Sequence[str]:
        """Return the same for a plan whose words stand for other misfits than usual."""
        return self.tests(aspect, ruler, turn)

    def looked(self, plan: Plan, aspect: Aspect, ruler: Ruler) -> tuple[str, Sequence[str]]:
        """Return the question of an aspect of a joint between real boards, which nothing spoils,
        and what tells its words apart.
        """
        return self.what(plan, aspect, ruler, ()), self.tests(aspect, ruler, ())

    def before(
        self, cut: TrialCut, machine: Machine | None, turn: Mapping[str, str], ruler: Ruler
    ) -> list[str]:
        """Return what is read before the question whose answer spoils the piece. turn: what is to
        be minded, by code.
        """
        return list(turn.values())

    def gap(self, place: str) -> str:
        """Return how a gap at a place looks."""
        return ""

    def number(self, aspect: Aspect) -> str:
        """Return what the number said with a word of an aspect measures."""
        return tell("measure of the {aspect}", aspect=aspect)

    def taken(self, aspect: Aspect) -> str:
        """Return how that number is taken, "" where its name says so."""
        return ""

    def misfit(self, aspect: Aspect) -> str:
        """Return what the words of an aspect stand for, as a number."""
        return tell("the {aspect} as a number", aspect=aspect)

    def teaching(self, ruler: Ruler) -> str:
        """Return what teaches how a person uses their words."""
        return tell(
            "Words alone teach where your good settings lie; they cannot teach where one word ends "
            "and the next begins. A reading now and then does: say the number with the word."
        )

    def figures(self, plan: Plan, ruler: Ruler) -> tuple[str, ...]:
        """Return the figures of its own by which a plan is known at a glance."""
        return ()

    def measured(self, plan: Plan, settings: Settings, ruler: Ruler) -> Mapping[str, str]:
        """Return how settings are measured where that is not the number shown, by their names."""
        return {}

    # A plan's fields that are told by another one's name.
    part_of: ClassVar[Mapping[str, str]] = {
        "pin_thickness": "boards",
        "board_width": "boards",
        "tail_thickness": "boards",
        "piece_width": "scrap",
        "piece_thickness": "scrap",
    }

    def told(self, plan: Plan, ruler: Ruler) -> dict[str, str]:
        """Return what a plan says beside its wood, in words, by the first of its fields that each
        part tells; "" for what is usual.
        """
        width, thick = ruler.size(plan.board_width), ruler.size(plan.tail_thickness)
        pieces = tell(" by ").join(
            ruler.size(x) for x in (plan.piece_width, plan.piece_thickness) if x is not None
        )
        scrap = tell(
            "pieces of {wood}, {pieces}" if pieces else "pieces of {wood}",
            wood=plan.scrap or plan.stock.name,
            pieces=pieces,
        )
        boards = tell(
            "boards {width} by {thick}, the others {pin}",
            width=width,
            thick=thick,
            pin=ruler.size(plan.pin_thickness),
        )
        every = tuple(self.family.setting_of)
        return {
            "boards": boards,
            "in_play": tell("only {aspects}", aspects=", ".join(map(tell, plan.in_play)))
            if plan.in_play != every
            else "",
            "words_only": tell("no feeler") if plan.words_only else "",
            "scrap": scrap if plan.scrap or pieces else "",
        }


def _free(letters: str, taken: Collection[str]) -> str:
    """Return the first letter that means nothing else."""
    free: Iterator[str] = (c for c in letters if c.isalpha() and c not in (*taken, *_TAKEN))
    return next(free)


def screens_of(family: Family) -> Screens:
    """Return what the screens say of a family's joints; raise `Refused` for one not known."""
    room = part_of(family.name, f"{LANGUAGE}.screens") or part_of(family.name, f"{ENGLISH}.screens")
    own: type[Screens] = Screens if room is None else room.Own
    return own(family)
