"""What `start` was told, as typed, and the earlier set-up that is repeated where one is meant."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import astuple, dataclass, field, replace
from typing import Protocol, TypeVar

from ...domain import Bit, Machine, Plan, SetUp, Stock
from ...errors import NotUnderstood, Refused
from ...families.wanted import PlanValue, Wanted
from ...families.wood import coefficient, content_of
from ...language.units import shown
from .. import limits
from ..again import Named, alike, last, like, numbered, retired
from ..catalogue import Shelf
from ..session import Session
from .choices import aspects_of, joint_of, pair_of
from .figures import read_figures
from .lengths import BoardsTyped, PieceTyped, Reader
from .wood import told

LAST = "last"
T = TypeVar("T", Bit, Stock, Machine)


@dataclass(frozen=True, slots=True)
class WayTyped:
    """How it is tuned; None: not given."""

    only: str | None = None
    words_only: bool | None = None


@dataclass(frozen=True, slots=True)
class MoistureTyped:
    """How dry the boards and the scrap are today; None: not given."""

    tail: str | None = None
    pin: str | None = None
    scrap: str | None = None


@dataclass(frozen=True, slots=True)
class StartTyped:
    """All that `start` takes. again: which set-up is repeated, "last" or its number; None: none was
    named.  joint: None for the family registered first.  figures: those of its plan, by the names
    that the family has for them; given: more of them, each as NAME=VALUE.
    """

    named: Named = field(default_factory=Named)
    again: str | None = None
    joint: str | None = None
    figures: Mapping[str, str] = field(default_factory=dict)
    given: Sequence[str] = ()
    boards: BoardsTyped = field(default_factory=BoardsTyped)
    way: WayTyped = field(default_factory=WayTyped)
    piece: PieceTyped = field(default_factory=PieceTyped)
    moisture: MoistureTyped = field(default_factory=MoistureTyped)

    @property
    def own(self) -> bool:
        """Whether more than names and the day's moisture was said, which makes a set-up of its
        own.
        """
        groups = (self.boards, self.way, self.piece)
        said = any(value is not None for group in groups for value in astuple(group))
        return said or bool(self.figures or self.given)


def as_text(figures: Mapping[str, str | bool | int | None]) -> dict[str, str]:
    """Return the figures that were given as they would be typed by name; None: not given."""
    words = {True: "yes", False: "no"}
    return {
        name: words[value] if isinstance(value, bool) else str(value)
        for name, value in figures.items()
        if value is not None
    }


class Chooser(Protocol):
    """Somebody who can be asked which is meant."""

    def thing(self, kind: str, known: Sequence[str]) -> str:
        """Return the name of one of several of a kind."""

    def setup(self, found: Sequence[SetUp]) -> SetUp | None:
        """Return the set-up that is repeated, None for a new one."""


def wanted_of(
    session: Session, typed: StartTyped, chooser: Chooser | None
) -> tuple[Wanted, list[SetUp]]:
    """Return what is wanted, and the earlier set-ups that differ where nobody said which of them is
    meant. chooser: None where nobody can be asked.
    """
    home, machine = session.home(), typed.named.machine
    named = replace(typed.named, machine=machine or (home.name if home else None))
    base, new = None, False
    several: list[SetUp] = []
    if typed.again is not None:
        if typed.joint is not None:
            named = replace(named, joint=joint_of(typed.joint))
        base = _repeated(session, typed.again, named, machine)
        if typed.joint is not None and joint_of(typed.joint) != base.plan.joint:
            raise Refused(
                "other-joint",
                "set-up {number} is of the {joint}",
                "leave --joint out, or --again",
                number=base.number,
                joint=base.plan.family.called,
            )
    elif not typed.own:
        found = alike(session.bench(), replace(named, joint=joint_of(typed.joint)))
        base = found[0] if len(found) == 1 else None
        if len(found) > 1 and chooser is not None:
            base = chooser.setup(found)
            new = base is None
        elif len(found) > 1:
            several = found
    return _read(session, typed, base, new, chooser), several


def anew(session: Session, typed: StartTyped) -> Wanted:
    """Return what is wanted of a set-up that is like no other, with nobody to ask."""
    home = session.home()
    at = typed.named.machine or (home.name if home else None)
    return _read(session, replace(typed, named=replace(typed.named, machine=at)), None, True, None)


def _repeated(session: Session, again: str, named: Named, machine: str | None) -> SetUp:
    """Return the set-up that --again names, or the last one with what is named. machine: the one
    that was typed.
    """
    if again != LAST and not (again.isdecimal() and len(again) < 19):
        raise NotUnderstood(
            "bad-choice",
            "--again cannot be {typed!r}",
            "give the number of a set-up, or none for the last one",
            typed=shown(again),
        )
    bench = session.bench()
    found = last(bench, named) if again == LAST else numbered(bench, int(again))
    if (gone := retired(found.plan, replace(named, machine=machine))) is not None:
        kind, name = gone
        raise Refused(
            "retired",
            "the {kind} {name} of set-up {number} is retired",
            "name another with --{kind}, or bring it back with fitlog {kind} edit {name!r} "
            "--restore",
            "take something new, or bring it back at the shop's computer: fitlog {kind} "
            "edit {name!r} --restore",
            kind=kind,
            name=name,
            number=found.number,
        )
    return found


def _one(shelf: Shelf[T], name: str | None, chooser: Chooser | None) -> T:
    """Return what is named; where several are in the catalogue and nobody said which, ask."""
    known = shelf.all(False) if name is None and chooser is not None else []
    if chooser is not None and len(known) > 1:
        name = chooser.thing(shelf.kind, [item.name for item in known])
    return shelf.only(name)


def _things(
    session: Session, named: Named, old: Plan | None, chooser: Chooser | None
) -> tuple[Bit, Stock, Stock, Machine | None]:
    """Return bit, stock, pin stock and machine: named, of the repeated plan, or chosen."""
    if old is None:
        bit = _one(session.bits, named.bit, chooser)
        stock = _one(session.stocks, named.stock, chooser)
        pin_stock = session.stocks.get(named.pin_stock) if named.pin_stock else stock
        return bit, stock, pin_stock, session.machine(named.machine)
    bit = session.bits.get(named.bit or old.bit.name)
    stock = session.stocks.get(named.stock or old.stock.name)
    same = old.pin_stock.name == old.stock.name
    pin_stock = session.stocks.get(named.pin_stock or (stock.name if same else old.pin_stock.name))
    at = named.machine or (old.machine.name if old.machine is not None else None)
    return bit, stock, pin_stock, session.machine(at)


def _read(
    session: Session, typed: StartTyped, base: SetUp | None, new: bool, chooser: Chooser | None
) -> Wanted:
    """Return what was typed as values, in true mm. new: like no other."""
    bit, stock, pin_stock, machine = _things(
        session, typed.named, base.plan if base is not None else None, chooser
    )
    joint = joint_of(typed.joint) if base is None else base.plan.joint
    figures, first = _figures(session.reader, typed, joint, bit, machine)
    wanted = Wanted(bit, stock, pin_stock, machine, joint, figures, first, base)
    wanted = replace(wanted, figures={**figures, **_today(session, typed, wanted)})
    if base is not None or new:
        return wanted
    return replace(wanted, like=like(session.bench(), wanted))


def _figures(
    reader: Reader, typed: StartTyped, joint: str, bit: Bit, machine: Machine | None
) -> tuple[dict[str, PlanValue], dict[str, float]]:
    """Return what was said of the plan, by its fields, and the first piece's settings, true mm."""
    texts = dict(typed.figures)
    for one in typed.given:
        name, text = pair_of(one, "--given")
        if name in texts:
            raise NotUnderstood(
                "bad-choice", "the {name} was given twice", "give it once", name=name
            )
        texts[name] = text
    figures, first = read_figures(reader, joint, texts, bit, machine)
    boards, way, piece = typed.boards, typed.way, typed.piece
    thickness = limits.scrap_thickness(1, limits.SCRAP_WIDTH.why)
    said: dict[str, PlanValue] = {
        "board_width": reader.maybe(boards.width, limits.BOARD_WIDTH),
        "tail_thickness": reader.maybe(boards.thickness, limits.TAIL_BOARD._replace(high=2000)),
        "pin_thickness": reader.maybe(boards.pin_thickness, limits.PIN_BOARD),
        "in_play": None if way.only is None else aspects_of(way.only, joint),
        "words_only": way.words_only,
        "scrap": piece.scrap,
        "piece_width": reader.maybe(piece.width, limits.SCRAP_WIDTH),
        "piece_thickness": reader.maybe(piece.thickness, thickness),
    }
    said = {name: value for name, value in said.items() if value is not None}
    for name in figures.keys() & said.keys():  # a family may have a name of its own for a size
        named = name.replace("_", " ")
        raise NotUnderstood("bad-choice", "the {name} was given twice", "give it once", name=named)
    return {**figures, **said}, first


def _today(session: Session, typed: StartTyped, wanted: Wanted) -> dict[str, float | None]:
    """Return the moistures of a plan, %: what `start` was told, else what the catalogue says of the
    stocks.

    A pin board of the tail board's own stock is taken to be like it, and so is scrap of that stock;
    the moisture of sheet goods is not comparable with a board's.
    """
    given, stock, pin_stock = typed.moisture, wanted.stock, wanted.pin_stock
    tail = told(given.tail, "the tail board's moisture", content_of(stock))
    own = tail if pin_stock == stock else content_of(pin_stock)
    name = typed.piece.scrap
    if name is None:
        name = wanted.again.plan.scrap if wanted.again is not None else ""
    scrap = _scrap(session, name, stock)
    comparable = scrap is not None and coefficient(scrap.species) is not None
    return {
        "moisture": tail,
        "pin_moisture": told(given.pin, "the pin board's moisture", own),
        "scrap_moisture": told(
            given.scrap,
            "the scrap's moisture",
            content_of(scrap) if scrap is not None and comparable else None,
        ),
    }


def _scrap(session: Session, name: str, stock: Stock) -> Stock | None:
    """The stock of the catalogue that the scrap is, another than the board's own."""
    said = " ".join(name.split()).casefold()
    if not said or said in (stock.name.casefold(), stock.species.casefold()):
        return None
    return next((one for one in session.stocks.all(True) if one.name.casefold() == said), None)
