"""Which earlier set-up a new one repeats, in a sentence."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..domain import Plan, SetUp
from ..domain.standing import ended
from ..families.screens import screens_of
from ..language.english.names import woods
from ..language.numbers import together
from ..language.units import Ruler
from ..texts import tell


def as_setup(base: SetUp, plan: Plan, ruler: Ruler) -> str:
    """Return which set-up is repeated, with what the new plan then is, and what is otherwise."""
    how = {
        "as it is": tell(", which was finished as it is"),
        "abandoned": tell(", which was abandoned"),
    }.get(ended(base) or "", "")
    new, old = plan_told(plan, ruler), plan_told(base.plan, ruler)
    there = [text for name, text in old.items() if text != new.get(name)]
    but = tell(" There it was: {there}.", there="; ".join(there)) if there else ""
    return tell(
        "As set-up {number}{how}: {new}.{but}{catalogue}",
        number=base.number,
        how=how,
        new="; ".join(new.values()),
        but=but,
        catalogue=_catalogue(base.plan, plan, ruler),
    )


def _catalogue(base: Plan, plan: Plan, ruler: Ruler) -> str:
    """Return what the catalogue says of the boards today, where sizes that are taken over are
    others.
    """
    stock, size = plan.stock, (plan.board_width, plan.tail_thickness)
    if size != (base.board_width, base.tail_thickness) or size == (stock.width, stock.thickness):
        return ""
    return tell(
        " (In the catalogue {stock} is {width} by {thickness}.)",
        stock=stock.name,
        width=ruler.size(stock.width),
        thickness=ruler.size(stock.thickness),
    )


def not_as_setup(base: SetUp, names: Iterable[str], ruler: Ruler) -> str:
    """Return what of an earlier set-up is not repeated because something else was said. names: of
    the plan's fields.
    """
    told, part_of = plan_told(base.plan, ruler), screens_of(base.plan.family).part_of
    lost = list(
        dict.fromkeys(
            told.get(part_of.get(name, name), tell("no {name}", name=name.replace("_", " ")))
            for name in names
        )
    )
    return tell(
        "Not taken over from set-up {number}: {lost}. To take over all you "
        "don't say: --again {number}",
        number=base.number,
        lost="; ".join(lost),
    )


def differ(found: Sequence[SetUp]) -> str:
    """Return that earlier set-ups differ, so that none of them is repeated whole."""
    numbers = [str(setup.number) for setup in found]
    which = together(numbers)
    return tell(
        "Set-ups {which} differ, so only the last one's layout is taken over. To repeat one: "
        "fitlog start --again N",
        which=which,
    )


def choices(found: Sequence[SetUp], ruler: Ruler) -> list[str]:
    """Return earlier set-ups that differ, a line each."""
    return [
        tell("Earlier set-ups differ:"),
        *(f"  {s.number}{s.titled}: {'; '.join(plan_told(s.plan, ruler).values())}" for s in found),
    ]


def plan_told(plan: Plan, ruler: Ruler) -> dict[str, str]:
    """Return what a plan says, in words, by the first of its fields that each part tells; what is
    usual is left out.
    """
    machine = f", {plan.machine.name}" if plan.machine else ""
    wood = woods(plan.stock.name, plan.pin_stock.name)
    own = screens_of(plan.family).told(plan, ruler)
    parts = {"bit": f"{plan.bit.name}, {wood}{machine}", **own}
    return {name: text for name, text in parts.items() if text}
