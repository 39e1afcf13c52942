"""The sentences and names of every box joint, in English."""

from __future__ import annotations

from ....language.english.care import same
from ....language.saying import Sentence, Tongue
from ....language.units import counted
from ....texts import tell

_ALL_BIND = "Its fit word says nothing about the fit"
_GAPS = {
    "creep": "The fingers of the two boards run apart from step to step: no setting cures that. "
    f"{_ALL_BIND}. Press the same way at every step, the mating edges to the same side, brush the "
    "chips off, and cut another pair. {tests} has the tests.",
    "corner": "The bottoms of the slots stay open: the cutter leaves ridges or chips lie in the "
    "corners. Pare one slot clean and try again before anything is moved. {tests} has the tests.",
}
_HEIGHT = "measure it to the cutter's tip, not to its shoulder"


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


def ends_from(t: Tongue, *, thick: float, wanted: float, taught: int, sd: float) -> str:
    """The first height. thick: of the board whose face the ends stand over, mm."""
    more = f" and {t.length(abs(wanted))} {'more' if wanted > 0 else 'less'}" if wanted else ""
    return (
        f"Height: the {t.size(thick)} of the other board{more}{learnt(taught)}, known to "
        f"+-{t.ruler.doubt(sd)}; {_HEIGHT}."
    )


def try_it(_: Tongue, *, edges: bool) -> str:
    """How the joint is judged."""
    sight = "; push the second board both ways and judge its edge half-way" if edges else ""
    return (
        "Together once, dry: say how it goes in, then the play sideways, both ways"
        f"{sight}; a straightedge over the ends of the fingers."
    )


def try_short(_: Tongue, *, edges: bool) -> str:
    """What is judged."""
    return f"Judge fit and play{', edges' if edges else ''}, ends."


def saw_off(t: Tongue, *, off: float) -> str:
    """Room for the next trial."""
    return f"For the next trial saw {t.size(off)} off both; under {shortest(t)} take new scraps."


def shortest(t: Tongue) -> str:
    """What is cut on end is no shorter; common practice, no source."""
    return "300 mm" if t.ruler.units == "mm" else "12 in"


def board_width(t: Tongue, *, fingers: int, width: float, off: float) -> str:
    """The width that ends alike. off: how much wider the boards are, mm; below 0 narrower."""
    if abs(off) < 0.1:  # a sheet of paper, which nobody rips to
        return f"{fingers} fingers end alike at {t.length(width)}: as wide as these boards are."
    if off > 0:
        return (
            f"{fingers} fingers end alike at {t.length(width)}: {t.length(off)} less than these "
            "boards are. Rip them to it, or cut first and trim after."
        )
    return (
        f"{fingers} fingers end alike at {t.length(width)}: {t.length(-off)} more than these "
        "boards are. Take wider ones, or a finger less."
    )


def board_short(t: Tongue, *, short: float, fingers: int) -> str:
    """What the play of all fingers takes from the width."""
    return (
        f"{2 * fingers - 1} times a slot would be {t.length(short)} too wide: each finger is "
        "narrower than its slot by the play."
    )


def cause(
    t: Tongue, *, symptom: str, cause: str, part: str, figures: tuple[tuple[str, float], ...]
) -> str:
    """A cause, its test or its cure, by the table of the symptoms. part: "text", "test" or
    "cure".
    """
    # Tables of many sentences: imported by the one command that says them.
    from ..symptoms import CAUSES

    return tell(getattr(CAUSES[cause], part), **{name: t.length(mm) for name, mm in figures})


def size_of(_: Tongue, *, piece: int) -> str:
    """What the size of a symptom is from."""
    return f"piece {piece}"


def recovered_from(t: Tongue, *, play: float | None, setup: int | None, other: bool) -> str:
    """What a recovered setting comes from. play: that of the kept sample; other: another cutter or
    machine than the set-up's, mm.
    """
    if play is not None:
        return f"The kept finger has {t.length(play)} of play in its slot: that is aimed at."
    if other:
        return (
            f"Set-up {setup} was good with another cutter or machine: its play is made with "
            "today's, by what the log knows of them."
        )
    return f"As the good piece of set-up {setup} was cut."


SENTENCES: dict[str, Sentence] = {
    "recovered-from": recovered_from,
    "symptom-cause": cause,
    "size-of-piece": size_of,
    "boards-width": board_width,
    "boards-short": board_short,
    "gap-creep": gap,
    "gap-corner": gap,
    "gap-logged": gap_logged,
    "ends-from": ends_from,
    "box-try": try_it,
    "box-saw-off": saw_off,
    "deep-slots": same("Waste deep slots in passes, the last one light."),
}
SHORT: dict[str, Sentence | None] = {"box-try": try_short, "box-saw-off": None}
NAMES = {
    "fit head": "Fit",
    "fit misfit": "play",
    "ends head": "Ends",
    "ends setting": "height",
    "ends misfit": "step",
    "ends figures": "sure enough at this height",
    "ends goes": "the cutter goes {way}",
    "ends stays": "the cutter stays",
    "ends zero of": "height",
    "ends to measure": "how high the cutter's tip really stands",
}
