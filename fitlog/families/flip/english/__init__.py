"""The sentences and names of every part cut from both faces, in English."""

from __future__ import annotations

from ....language.english.care import same
from ....language.numbers import together
from ....language.saying import Sentence, Tongue
from ....language.units import counted
from ....texts import tell
from . import boards, moisture

_GAPS = {
    "tip": "It is not as thick at its tip as at its shoulder: the board lifted, or the fence "
    "leans. No setting cures that, and its fit word says nothing about the fit. Hold it down, "
    "square the fence, and cut both faces again. {tests} has the tests.",
    "line": "One shoulder stays open while the other is closed: the end is out of square, or the "
    "stop moved between the two faces. Square the end, one stop for both. {tests} has the tests.",
}


def gap(t: Tongue, *, place: str, **_: object) -> str:
    """What no setting cures, on the last piece."""
    return _GAPS[place].format(tests=t.act("fault-gap", place=place))


def gap_logged(t: Tongue, *, place: str, piece: int, size: float | None) -> str:
    """The same, logged with an earlier piece."""
    tests, said = t.act("fault-gap", place=place), t.word((f"gap {place}", size))
    return f"Piece {piece} was logged with a {said}: {tests} has its causes."


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


def learnt(taught: int) -> str:
    """By how many set-ups a first number was corrected."""
    return f", corrected by {counted(taught, 'earlier set-up')}" if taught else ""


def height_from(t: Tongue, *, thick: float, taught: int, sd: float, at: float) -> str:
    """The first height. at: the misfit that it is cut for, mm."""
    return (
        f"Height: so that both faces of {t.size(thick)} leave it thick on purpose, at about "
        f"{t.length(at)}{learnt(taught)}: it is known to +-{t.ruler.doubt(sd)}, and can be cut "
        "again."
    )


def stop_from(t: Tongue, *, depth: float, short: float, taught: int, sd: float) -> str:
    """The first stop. short: by how much it is less than the depth, mm."""
    return (
        f"Stop: {t.length(short)} less than {t.size(depth)}{learnt(taught)}, so that the shoulder "
        f"closes; known to +-{t.ruler.doubt(sd)}."
    )


def narrow_rails(t: Tongue) -> str:
    """What is not to be held by hand; round numbers of each system."""
    short = "300 mm" if t.ruler.units == "mm" else "12 in"
    return (
        f"Narrow rails go in a carrier or several side by side; nothing under {short} by hand "
        "alone."
    )


def solid_alone(t: Tongue, *, hollow: str, solid: str, wide: float) -> str:
    """What goes in was measured and what it goes into was not. wide: mm."""
    return (
        f"The {solid} alone does not show its play: type it with its {hollow}, "
        f"{t.act('read-later', typed=f'jaws={hollow.upper()}:{t.ruler.exact(wide)}')}."
    )


def both_again(_: Tongue, *, by: float) -> str:
    """The same end, higher. by: mm, which each face loses."""
    return "The same end, both faces again at the new height: what is raised comes off twice."


def same_end_short(t: Tongue, *, piece: int) -> str:
    """The end of an earlier piece is cut again."""
    return f"The end of piece {piece} again{t.act('same-end')}."


def moved(_: Tongue, *, settings: tuple[str, ...]) -> str:
    """A setting moves between real boards. settings: what they are called."""
    return (
        f"{first_done(settings)} What is tight is cut again at a higher bit, both faces; no pass "
        "puts wood back on what is loose."
    )


def first_done(settings: tuple[str, ...]) -> str:
    """What comes before a setting moves between real boards. settings: what they are called."""
    called = together([f"the {one}" for one in settings])
    return f"Cut what is half cut to its end before you move {called}."


SENTENCES: dict[str, Sentence] = {
    **boards.SENTENCES,
    **moisture.SENTENCES,
    "gap-tip": gap,
    "gap-line": gap,
    "gap-logged": gap_logged,
    "symptom-cause": cause,
    "size-of-piece": size_of,
    "height-from": height_from,
    "stop-from": stop_from,
    "end-grain": same(
        "Across end grain with a backer and a square push block behind the work, no hand beside "
        "the bit."
    ),
    "narrow-rails": narrow_rails,
    "never-back": same(
        "No pass puts wood back: a lower bit or a shorter stop wants a fresh end, never a shim "
        "between work and table."
    ),
    "both-again": both_again,
    "run-mixed": moved,
    "solid-alone": solid_alone,
}
SHORT: dict[str, Sentence | None] = {
    "both-again": None,
    "same-end": same_end_short,
    "fresh-end": same("Cut a fresh end."),
    "solid-alone": solid_alone,
    "never-back": same("Lower or shorter: a fresh end."),
}
NAMES = {
    "fit head": "Fit",
    "fit setting": "height",
    "fit misfit": "play",
    "fit figures": "sure enough at this height",
    "fit goes": "the bit goes {way}",
    "fit stays": "the bit stays",
    "fit zero of": "height",
    "fit to measure": "how high the bit really stands over the table",
    "faces head": "Faces",
    "faces misfit": "step of the faces",
    "shoulder head": "Shoulder",
    "shoulder setting": "stop",
    "shoulder misfit": "shoulder",
    "shoulder figures": "sure enough at this stop",
    "shoulder figures before": "by the stop and the depth",
    "shoulder goes": "the stop gets {way}",
    "shoulder stays": "the stop stays",
    "shoulder zero of": "stop",
    "shoulder to measure": "from the shoulder to the end",
}
