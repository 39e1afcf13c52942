"""A repeat: which earlier set-up `start` can repeat."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from ..advice.craft import craft_of
from ..domain import Plan, SetUp
from ..domain.standing import ended
from ..errors import Refused
from ..families.wanted import Wanted
from ..language.units import quoted
from .asked import Bench

# of the newest set-ups, where nobody named one: who has worked otherwise for so long means that
LOOKED_AT = 24


@dataclass(frozen=True, slots=True)
class Named:
    """By which names a repeat is sought; None: any, or not said."""

    bit: str | None = None
    stock: str | None = None
    pin_stock: str | None = None
    machine: str | None = None
    joint: str | None = None

    def fits(self, plan: Plan) -> bool:
        """Tell whether a plan has what is named; one without a machine may be repeated at any."""
        board = _is(self.stock, plan.stock.name) and _is(self.pin_stock, plan.pin_stock.name)
        return (
            board
            and _is(self.bit, plan.bit.name)
            and _is(self.joint, plan.joint)
            and (plan.machine is None or _is(self.machine, plan.machine.name))
        )


def numbered(bench: Bench, number: int) -> SetUp:
    """Return the set-up that is to be repeated by its number. Raises Refused: unknown-setup,
    undone-setup, still-tuning.
    """
    setup = bench.log.setup(number)
    if setup.undone:
        raise Refused(
            "undone-setup",
            "set-up {number} was undone",
            "name another with --again N",
            "take another one",
            number=number,
        )
    if setup.outcome is None and bench.status(setup) != "ready":
        raise Refused(
            "still-tuning",
            "set-up {number} is still tuning: there is nothing to repeat yet",
            "go on with it, or name another with --again N",
            "go on with it, or take another one",
            number=number,
        )
    return setup


def last(bench: Bench, named: Named) -> SetUp:
    """Return the newest set-up that ended good and has what is named; where none is of that stock,
    of any other.

    Raises Refused: nothing-to-repeat, unknown-name.
    """
    either = (named, replace(named, stock=None, pin_stock=None))
    found = next((setup for one in either for setup in _newest(bench, one)), None)
    if found is None:
        names = [quoted(name) for name in (named.bit, named.machine) if name]
        said = {
            0: "no set-up was finished yet that could be repeated",
            1: "no set-up with {one} was finished yet that could be repeated",
            2: "no set-up with {one} and {other} was finished yet that could be repeated",
        }
        one, other = (*names, "", "")[:2]
        raise Refused(
            "nothing-to-repeat",
            said[len(names)],
            "leave --again out, or name any other set-up with --again N",
            "take another one, or something new",
            one=one,
            other=other,
        )
    return found


def alike(bench: Bench, named: Named) -> list[SetUp]:
    """Return the newest of each kind of set-up that a plain `start` may mean, of the newest of the
    log, newest first.
    """
    found: list[SetUp] = []
    for setup in _newest(bench, named, LOOKED_AT):
        if not any(_same(setup.plan, other.plan) for other in found) and not retired(
            setup.plan, named
        ):
            found.append(setup)
    return found


def like(bench: Bench, wanted: Wanted) -> SetUp | None:
    """Return the newest set-up of the newest few that has the same joint, bit, boards and machine
    as a new one; or None.
    """
    at = wanted.machine.name if wanted.machine else None
    named = Named(wanted.bit.name, wanted.stock.name, wanted.pin_stock.name, at, wanted.joint)
    return next(_newest(bench, named, LOOKED_AT), None)


def retired(plan: Plan, named: Named) -> tuple[str, str] | None:
    """Return what of a plan is retired and not named all the same, as its kind and its name; None:
    nothing is.
    """
    parts = (
        ("bit", plan.bit, named.bit),
        ("stock", plan.stock, named.stock),
        ("stock", plan.pin_stock, named.pin_stock),
        ("machine", plan.machine, named.machine),
    )
    return next(
        (
            (kind, i.name)
            for kind, i, other in parts
            if i is not None and i.retired and other is None
        ),
        None,
    )


def changed(wanted: Wanted, base: Plan, plan: Plan) -> tuple[str, ...]:
    """Return what of an earlier plan is otherwise in a new one although nobody said so, by the
    names of its fields.
    """
    return craft_of(plan).changed(wanted, base, plan)


def _newest(bench: Bench, named: Named, most: int | None = None) -> Iterator[SetUp]:
    """Yield the set-ups that ended good, or would with the next `start`, and have what is named,
    newest first.
    """
    before: int | None = None
    while found := bench.log.setups(
        bit=named.bit, stock=named.stock, before=before, limit=LOOKED_AT
    ):
        yield from (s for s in found if named.fits(s.plan) and _is_good(bench, s))
        if most is not None:
            return
        before = found[-1].number


def _is_good(bench: Bench, setup: SetUp) -> bool:
    if setup.outcome is None:
        return bool(setup.cuts) and bench.status(setup) == "ready"
    return ended(setup) == "good"


def _same(one: Plan, other: Plan) -> bool:
    """Tell whether two set-ups are one, cut again: the newest stands for them."""
    names = (
        (p.joint, p.bit.name, p.stock.name, p.pin_stock.name, p.machine.name if p.machine else None)
        for p in (one, other)
    )
    return len(set(names)) == 1 and craft_of(one).alike(one, other)


def _is(wanted: str | None, name: str) -> bool:
    return wanted is None or wanted == name
