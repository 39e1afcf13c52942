"""Faults in English: the causes with their tests and cures, whose sentences are rows of the faults'
own tables.
"""

from __future__ import annotations

from typing import Any

from ....language.saying import Sentence, Tongue
from ....language.units import MM_PER_INCH
from ....texts import tell


def size_of(_: Tongue, *, what: str, piece: int | None) -> str:
    """What the size of a symptom is from: "piece", "centre", "drift" or "move"."""
    return {
        "piece": f"piece {piece}",
        "centre": "twice the centre's error",
        "drift": f"the drift up to piece {piece}",
        "move": f"the move before piece {piece}",
    }[what]


Amounts = tuple[tuple[str, float], ...]
# What a cure has stored in the catalogue, by the name that its text has for it.
_STORED = {
    "bit_add": "fitlog bit add",
    "bit_edit": "fitlog bit edit",
    "bit_sharpen": "fitlog bit sharpen",
    "store_moisture": "fitlog stock edit --moisture",
    "store_play": "fitlog machine edit NAME --backlash",
    "store_travel": "fitlog machine edit NAME --height-turn",
}


def cause(
    t: Tongue,
    *,
    symptom: str,
    cause: str,
    part: str,
    move: str,
    figures: Amounts,
    play_stored: bool,
    turn: float | None,
    zero: float,
) -> str:
    """The sentence of a cause, by the table of the symptoms. part: "text", "test" or "cure"; move:
    how its move of a setting is told, "" for not at all; zero: of the height's scale, mm.
    """
    # Tables of many sentences: imported by the one command that says them.
    from ..faults.table import SYMPTOMS

    of = next(s for s in SYMPTOMS if s.code == symptom)
    row = next(c for c in of.causes if c.code == cause)
    template: str = getattr(row, part)
    moves = {"": "", "told": row.move, **_UNTOLD}[move]
    known = texts(t, figures, play_stored, turn, zero)
    return " ".join(tell(told, **known) for told in (template, moves) if told)


_UNTOLD = {
    "unmeasured": "Type the size that you measured {size_typed}: then the move is told.",
    "against": "The log speaks against it: measure before a setting is moved.",
}


def first(t: Tongue, *, symptom: str, **figures: Any) -> str:
    """What is done before anything is looked for, by the table of the symptoms."""
    from ..faults.table import SYMPTOMS

    of = next(s for s in SYMPTOMS if s.code == symptom)
    return tell(of.first, **texts(t, **figures))


def texts(
    t: Tongue, figures: Amounts, play_stored: bool, turn: float | None, zero: float
) -> dict[str, str]:
    """The figures that a cause can name, in the person's unit: without _mm, _deg, _percent, _n."""
    values = dict(figures)
    out = dict(_text(t, name, value) for name, value in figures)
    if not play_stored:
        assumed = "{play} (assumed, since this lift's play is not stored)"
        out["play"] = tell(assumed, play=out["play"])
    return {
        **out,
        # What a person dials is on their own scale.
        "dial": t.length(values["h"] + zero),
        "highest": t.length(values["highest_mm"] + zero),
        "asked": out["d"],
        # Round numbers of each system, as in the standing caution.
        "back": tell("1.5 to 3 mm") if t.ruler.units == "mm" else tell("1/16 to 1/8 in"),
        "coefficient": f"{values['coefficient']:.4f}",
        **{name: t.act("keep", command=command) for name, command in _STORED.items()},
        "plan": t.act("plan"),
        "log_walls": t.act("log-walls"),
        "size_typed": t.act("fault-size"),
        "turn_known": tell("; fitlog has {turn} stored", turn=t.length(turn)) if turn else "",
    }


def _text(t: Tongue, name: str, value: float) -> tuple[str, str]:
    stem, _, kind = name.rpartition("_")
    if kind == "deg":
        return stem, f"{value:.2f} deg"
    if kind == "percent":
        return stem, f"{value:.1g} %" if value < 1 else f"{value:.0f} %"
    if kind == "n":
        return stem, f"{value:.0f}"
    if name in ("board", "pin", "tail"):
        return name, t.size(value)
    short = stem if kind == "mm" else name
    return short, _fine(t, value) if name == "per_step_mm" else t.length(value)


def _fine(t: Tongue, mm: float) -> str:
    """A length that is smaller than any setting is dialled: in thousandths of a mm, or tenths of a
    thou.
    """
    return f"{mm:.3f} mm" if t.ruler.units == "mm" else f"{mm / MM_PER_INCH * 1000:.1f} thou"


SENTENCES: dict[str, Sentence] = {
    "size-of": size_of,
    "cause": cause,
    "first": first,
}
