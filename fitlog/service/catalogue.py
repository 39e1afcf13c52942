"""The use cases of the catalogue: bits, stocks and machines, added, edited, retired, removed,
listed, sharpened.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Generic, Literal, NamedTuple, TypeVar

from ..domain import Bit, Machine, PartChanges, Stock, clean_name, edited
from ..errors import NotUnderstood, Refused
from ..log import Log, Stamp
from .bench import Workbench
from .edits import bit_edit, machine_edit

Kind = Literal["bit", "stock", "machine"]
Thing = Bit | Stock | Machine
Value = float | str | bool | PartChanges | None
Values = Mapping[str, Value]  # by the names of `Bit`, `Stock` and `Machine`; lengths in mm; of the
# parts of a machine what changes of each
T = TypeVar("T", Bit, Stock, Machine)
_DOUBTED = ("diameter", "angle", "cutting_length", "thickness", "width")


class Consequence(NamedTuple):
    """What an edit does to earlier set-ups: the refusal where nobody can be asked, and the
    question.
    """

    refusal: Refused
    question: str


@dataclass(frozen=True)
class Shelf(Generic[T]):
    """All of one kind of thing in a log, and what can be done with them.

    Each use case may raise Refused: unknown-name, name-taken, in-use, log-moved-on, or what the
    domain refuses.
    """

    kind: Kind
    make: Callable[..., T]
    all: Callable[[bool], list[T]]
    get: Callable[[str], T]
    put: Callable[[T], None]
    change: Callable[..., T]
    drop: Callable[[str, T], None]

    def only(self, name: str | None) -> T:
        """Return what is named, or the only one there is. Raises Refused: no-bit, no-stock,
        which-one.
        """
        if name is not None:
            return self.get(name)
        kind, found = self.kind, self.all(False)
        if len(found) == 1:
            return found[0]
        if not found:
            raise Refused(
                f"no-{kind}",
                "there is no {kind} in the catalogue",
                "add one: fitlog {kind} add --help",
                kind=kind,
            )
        known = ", ".join(item.name for item in found)
        raise Refused(
            "which-one",
            "there are {count} {kind}s",
            "name one with --{kind}: {known}",
            count=len(found),
            kind=kind,
            known=known,
        )

    def add(self, name: str, values: Values) -> T:
        """Add one, and return it."""
        item = self.make(clean_name(self.kind, name), **values)
        self.put(item)
        return item

    def edit(self, name: str, changes: Values, *, restore: bool = False) -> Edit[T]:
        """Return an edit that is prepared; restore: a retired one is brought back, too. Raises
        NotUnderstood where nothing is to change.
        """
        told = dict(changes)
        if isinstance(new := told.get("name"), str):
            told["name"] = clean_name(self.kind, new)
        if restore:
            told["retired"] = False
        if not told:
            raise NotUnderstood(
                "nothing-to-change",
                "nothing to change was named for {kind} {name!r}",
                "see fitlog {kind} edit --help",
                kind=self.kind,
                name=name,
            )
        return Edit(self, name, self.get(name), told)

    def retire(self, name: str) -> T:
        """Offer one no longer, and return it; its set-ups stay."""
        return self.change(name, self.get(name), retired=True)

    def remove(self, name: str) -> T:
        """Remove one that nothing refers to, and return what it was."""
        found = self.get(name)
        self.drop(name, found)
        return found


@dataclass(frozen=True)
class Edit(Generic[T]):
    """An edit, prepared and not yet done."""

    shelf: Shelf[T]
    name: str
    old: T
    changes: Values

    def sizes(self) -> dict[str, float]:
        """Return the sizes, mm, and the angle, deg, as they would be, where one of them changes and
        can be doubted.
        """
        if isinstance(self.old, Machine) or not self.changes.keys() & set(_DOUBTED):
            return {}
        wanted = {n: self.changes.get(n, getattr(self.old, n, None)) for n in _DOUBTED}
        return {name: value for name, value in wanted.items() if isinstance(value, float)}

    def mended(self, sizes: Mapping[str, float]) -> Edit[T]:
        """Return the edit with sizes that were put right."""
        old = self.sizes()
        right = {name: size for name, size in sizes.items() if size != old[name]}
        return replace(self, changes={**self.changes, **right})

    def consequence(self, bench: Callable[[], Workbench]) -> Consequence | None:
        """Return what the edit does to the set-ups cut with it, None where it does nothing."""
        old: Thing = self.old
        new: Thing = edited(old, self.changes)
        refusal, question = None, "Was the scale itself moved?"
        if isinstance(old, Bit) and isinstance(new, Bit):
            refusal = bit_edit(bench(), old, new)
            question = "Is it the same steel, and only the figure was wrong?"
        elif isinstance(old, Machine) and isinstance(new, Machine):
            refusal = machine_edit(bench(), old, new)
        if refusal is None:
            return None
        said = f"{refusal.message[:1].upper()}{refusal.message[1:]}."
        return Consequence(refusal, f"{said} {question}")

    def done(self) -> T:
        """Do it; return what it is now. Raises Refused: log-moved-on where it was edited since."""
        return self.shelf.change(self.name, self.old, **self.changes)


AnyShelf = Shelf[Bit] | Shelf[Stock] | Shelf[Machine]
AnyEdit = Edit[Bit] | Edit[Stock] | Edit[Machine]


def bits(log: Log) -> Shelf[Bit]:
    """The bits of a log."""
    return Shelf("bit", Bit, log.bits, log.bit, log.add_bit, log.edit_bit, log.remove_bit)


def stocks(log: Log) -> Shelf[Stock]:
    """The kinds of board of a log."""
    return Shelf(
        "stock", Stock, log.stocks, log.stock, log.add_stock, log.edit_stock, log.remove_stock
    )


def machines(log: Log) -> Shelf[Machine]:
    """The router tables of a log."""
    return Shelf(
        "machine",
        lambda name, parts: Machine(name).with_parts(parts),
        log.machines,
        log.machine,
        log.add_machine,
        log.edit_machine,
        log.remove_machine,
    )


def sharpen(log: Log, name: str, diameter: float | None, stamp: Stamp) -> Bit:
    """Note that a bit was sharpened, and return it; diameter: as measured afterwards, mm.

    Raises Refused: unknown-name, still-tuning, log-moved-on.
    """
    return log.sharpen(name, diameter, stamp, log.bit(name))


def lacking(item: Thing) -> tuple[str, ...]:
    """Return the scales that are set between marks which the log does not know."""
    if not isinstance(item, Machine):
        return ()
    return tuple(part for part in item.between if item.step(part) is None)
