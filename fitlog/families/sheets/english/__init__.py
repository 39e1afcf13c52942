"""The sentences and names of every cut for a sheet, in English."""

from __future__ import annotations

from ....language.english.care import same
from ....language.numbers import content
from ....language.saying import Sentence, Tongue
from ....language.units import counted
from ....texts import tell

_GAPS = {
    "bottom": "The sheet does not reach the bottom: the side is cupped or the router lifted. Its "
    "fit word says nothing about the fit. Take a depth rod along the cut, hold the side down and "
    "pass again at the same settings. {tests} has the tests.",
    "lean": "Closed on one face and open on the other: the cut leans, or the sheet's end is out of "
    "square. No setting cures that: square it. {tests} has the tests.",
}


def gap(t: Tongue, *, place: str, **_: object) -> str:
    """What no setting cures, on the last piece."""
    return _GAPS[place].format(tests=t.act("fault-gap", place=place))


def gap_logged(t: Tongue, *, place: str, piece: int, size: float | None) -> str:
    """The same, logged with an earlier piece."""
    tests, said = t.act("fault-gap", place=place), t.word((f"gap {place}", size))
    return f"Piece {piece} was logged with a {said}: {tests} has its causes."


def learnt(taught: int) -> str:
    """By how many set-ups a first number was corrected."""
    return f", corrected by {counted(taught, 'earlier set-up')}" if taught else ""


def thickness(t: Tongue, sheet: float, *, sold: bool) -> str:
    """The sheet with what is known of it."""
    if not sold:
        return f"a sheet of {t.size(sheet)}"
    return f"a sheet sold as {t.size(sheet)}, which is mostly thinner,"


def depth_from(t: Tongue, *, depth: float, taught: int, sd: float) -> str:
    """The first height."""
    return (
        f"Height: the {t.length(depth)} that it is to be deep{learnt(taught)}, known to "
        f"+-{t.ruler.doubt(sd)}; measure it to the bit's tip."
    )


def by_label(t: Tongue, *, label: float) -> str:
    """A sheet that was not measured."""
    return (
        f"The sheet goes by its label of {t.size(label)}, and no other number is known so badly: "
        "measure it at the joint in three places, take the thickest, and say it with the next "
        f"piece ({t.act('read', typed='sheet=L')})."
    )


def by_label_short(t: Tongue, *, label: float) -> str:
    """A sheet that was not measured."""
    return (
        "Measure the sheet at the joint, three places, and say it "
        f"({t.act('read', typed='sheet=L')})."
    )


def offcut(t: Tongue, *, scrap: float, boards: float, apart: float, thick: float) -> str:
    """An offcut that is wetter or drier than what goes in."""
    return (
        f"The offcut is at {content(scrap)} moisture and what goes in at {content(boards)}: "
        f"{t.size(thick)} of solid wood is then {t.length(apart)} thicker or thinner. Try with a "
        "piece of what really goes in."
    )


def cause(
    t: Tongue, *, symptom: str, cause: str, part: str, figures: tuple[tuple[str, float], ...]
) -> str:
    """A cause, its test or its cure, by the table of the symptoms. part: "text", "test" or
    "cure".
    """
    # A table of many sentences: imported by the one command that says them.
    from ..symptoms import CAUSES

    return tell(getattr(CAUSES[cause], part), **{name: t.length(mm) for name, mm in figures})


def size_of(_: Tongue, *, piece: int) -> str:
    """What the size of a symptom is from."""
    return f"piece {piece}"


def same_place(t: Tongue, *, piece: int) -> str:
    """The next cut is another one in the same place. piece: the first on it."""
    return f"Pass the cut of piece {piece} again{t.act('same-end')}: it only takes wood off."


_FRESH = same("Cut afresh beside it: no pass puts wood back.")
SENTENCES: dict[str, Sentence] = {
    "gap-bottom": gap,
    "gap-lean": gap,
    "gap-logged": gap_logged,
    "depth-from": depth_from,
    "sheet-by-label": by_label,
    "moisture-offcut": offcut,
    "symptom-cause": cause,
    "size-of-piece": size_of,
    "same-end": same_place,
    "fresh-end": _FRESH,
    "large-panels": same(
        "A large panel is held up before and after the bit, and moved by two people or on stands."
    ),
    "hand-held": same(
        "Hand-held: along the straightedge against the rotation, both clamped down, and the router "
        "never between two loose boards."
    ),
    "never-back": same("No pass puts wood back: never pass it again with the fence further in."),
}
SHORT: dict[str, Sentence | None] = {
    "sheet-by-label": by_label_short,
    "same-end": same_place,
    "fresh-end": _FRESH,
}
NAMES = {
    "depth head": "Depth",
    "depth setting": "height",
    "depth misfit": "depth, too deep above zero",
    "depth figures": "sure enough at this height",
    "depth figures before": "by the height as set",
    "depth goes": "the cut goes {way}",
    "depth stays": "the bit stays",
    "depth zero of": "height",
    "depth to measure": "how high the bit's tip really stands",
}
