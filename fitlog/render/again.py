"""Which earlier set-up a new one repeats, in a sentence."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..domain import SetUp
from ..domain.standing import ended
from ..families.half_blind.names import ASPECTS
from ..families.half_blind.plan import DovetailPlan, dovetail
from ..language.english.names import woods
from ..language.units import Ruler, counted


def as_setup(base: SetUp, plan: DovetailPlan, ruler: Ruler) -> str:
    """Return which set-up is repeated, with what the new plan then is, and what is otherwise."""
    how = {"as it is": ", which was finished as it is", "abandoned": ", which was abandoned"}.get(
        ended(base) or "", ""
    )
    new, old = _told(plan, ruler), _told(dovetail(base.plan), ruler)
    there = [text for name, text in old.items() if text != new.get(name)]
    but = f" There it was: {'; '.join(there)}." if there else ""
    return (
        f"As set-up {base.number}{how}: "
        f"{'; '.join(new.values())}.{but}{_catalogue(dovetail(base.plan), plan, ruler)}"
    )


def _catalogue(base: DovetailPlan, plan: DovetailPlan, ruler: Ruler) -> str:
    """Return what the catalogue says of the boards today, where sizes that are taken over are
    others.
    """
    stock, size = plan.stock, (plan.board_width, plan.tail_thickness)
    if size != (base.board_width, base.tail_thickness) or size == (stock.width, stock.thickness):
        return ""
    return (
        f" (In the catalogue {stock.name} is {ruler.size(stock.width)} by "
        f"{ruler.size(stock.thickness)}.)"
    )


def not_as_setup(base: SetUp, names: Iterable[str], ruler: Ruler) -> str:
    """Return what of an earlier set-up is not repeated because something else was said. names: of
    the plan's fields.
    """
    told = _told(dovetail(base.plan), ruler)
    lost = list(
        dict.fromkeys(
            told.get(_PART.get(name, name), f"no {name.replace('_', ' ')}") for name in names
        )
    )
    return (
        f"Not taken over from set-up {base.number}: {'; '.join(lost)}. To take over all you "
        f"don't say: --again {base.number}"
    )


def differ(found: Sequence[SetUp]) -> str:
    """Return that earlier set-ups differ, so that none of them is repeated whole."""
    numbers = [str(setup.number) for setup in found]
    which = f"{', '.join(numbers[:-1])} and {numbers[-1]}"
    return (
        f"Set-ups {which} differ, so only the last one's layout is taken over. To repeat one: "
        "fitlog start --again N"
    )


def choices(found: Sequence[SetUp], ruler: Ruler) -> list[str]:
    """Return earlier set-ups that differ, a line each."""
    return [
        "Earlier set-ups differ:",
        *(f"  {s.number}: {'; '.join(_told(dovetail(s.plan), ruler).values())}" for s in found),
    ]


_PART = {
    "spacing": "tails",
    "pin_thickness": "boards",
    "board_width": "boards",
    "tail_thickness": "boards",
    "rabbet_bit": "rabbet_depth",
    "piece_width": "scrap",
    "piece_thickness": "scrap",
    "spaced": "pitch",
}


def _told(plan: DovetailPlan, ruler: Ruler) -> dict[str, str]:
    """Return what a plan says, in words, by the first of its fields that each part tells; what is
    usual is left out.
    """
    machine = f", {plan.machine.name}" if plan.machine else ""
    wood = woods(plan.stock.name, plan.pin_stock.name)
    bit = " with a straight bit" if plan.rabbet_bit == "straight" else ""
    way = "proud" if plan.wanted_step > 0 else "shy"
    pieces = " by ".join(
        ruler.size(x) for x in (plan.piece_width, plan.piece_thickness) if x is not None
    )
    parts = {
        "bit": f"{plan.bit.name}, {wood}{machine}",
        "tails": _layout(plan, ruler),
        "pitch": f"pitch {ruler.size(plan.pitch)}{' by a spacer' if plan.spaced else ''}",
        "many_tails": "aimed looser" if plan.many_tails else "",
        "wanted_step": f"{ruler.size(abs(plan.wanted_step))} {way}" if plan.wanted_step else "",
        "rabbet_depth": f"rabbet {ruler.size(plan.rabbet_depth)}{bit}",
        "boards": f"boards {ruler.size(plan.board_width)} by {ruler.size(plan.tail_thickness)}, "
        f"pins in {ruler.size(plan.pin_thickness)}",
        "in_play": f"only {', '.join(plan.in_play)}" if plan.in_play != ASPECTS else "",
        "words_only": "no feeler" if plan.words_only else "",
        "by_eye": "fence by eye" if plan.by_eye else "",
        "scrap": f"pieces of {plan.scrap or plan.stock.name}{f', {pieces}' if pieces else ''}"
        if plan.scrap or pieces
        else "",
    }
    return {name: text for name, text in parts.items() if text}


def _layout(plan: DovetailPlan, ruler: Ruler) -> str:
    wide = plan.spacing is not None and plan.spacing > plan.pitch + 1e-6
    if plan.tails is None:
        return (
            f"slots {ruler.size(plan.spacing)} apart" if wide and plan.spacing is not None else ""
        )
    spread = (
        f", slots {ruler.size(plan.spacing)} apart" if wide and plan.spacing is not None else ""
    )
    return f"{counted(plan.tails, 'wide tail' if wide else 'tail')}{spread}"
