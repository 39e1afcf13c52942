"""A person's scale of words: what each stands for, how sure its edges are, what is assumed and what
is learned.
"""

from __future__ import annotations

from .. import defaults
from ..document import Document
from ..language.sure import digits_for, small
from ..language.units import Ruler, counted
from .screen import Screen

_MEANS = {"fit": "clearance", "seat": "step, proud above zero"}


def words(screen: Screen, found: Document, ruler: Ruler) -> None:
    """Print the document of `words`."""
    person = found["person"]
    _scale(screen, "fit", person, found["fit"], ruler)
    _aim(screen, person, found["fit"], ruler)
    if found["seat"]["met"]:
        screen.line()
        _scale(screen, "seat", person, found["seat"], ruler)
    screen.line()
    _teaches(screen, ruler)
    if found["others"]:
        screen.line(
            f"Others in this log: {', '.join(found['others'])}. See theirs with: fitlog words "
            "--person NAME"
        )


def _scale(screen: Screen, aspect: str, person: str, scale: Document, ruler: Ruler) -> None:
    screen.head(
        f"The {aspect}, as {person} says it: {'learned' if scale['learned'] else 'assumed'}"
    )
    digits = digits_for([w["low_sd"] for w in scale["words"] if w["low_sd"] is not None])
    rows = [
        [w["word"], _band(ruler, w["low"], w["high"]), _sure(w, ruler, digits)]
        for w in scale["words"]
    ]
    screen.table(["word", _MEANS[aspect], "edges known to +-"], rows)
    screen.line(
        f"Noise of a word, on top of its band: {small([scale['noise']], ruler)}; with 90 % chance "
        f"{small(scale['noise_interval90'], ruler)}."
    )
    screen.line(_where_from(scale))


def _band(ruler: Ruler, low: float | None, high: float | None) -> str:
    open_end = "below " if low is None else "over " if high is None else ""
    return open_end + small([end for end in (low, high) if end is not None], ruler, digits=2)


def _sure(word: Document, ruler: Ruler, digits: int) -> str:
    ends = [sd for sd in (word["low_sd"], word["high_sd"]) if sd is not None]
    same = len({small([sd], ruler, digits=digits) for sd in ends}) == 1
    return small(ends[:1] if same else ends, ruler, " and ", digits)


def _where_from(scale: Document) -> str:
    met, needed = scale["met"], defaults.VOICE_MEETINGS[0]
    count = f"{counted(met, 'word')} in finished set-ups met a reading"
    if scale["learned"]:
        return (
            f"Learned: {count}. An edge that no reading came near only follows the others, and "
            "stays vague."
        )
    return (
        f"Assumed until {needed} words have met a reading: {count}, {scale['missing']} still "
        "missing."
    )


def _aim(screen: Screen, person: str, fit: Document, ruler: Ruler) -> None:
    aim, many = (_band(ruler, *fit[key]) for key in ("aim", "aim_many_tails"))
    if fit["learned"]:
        screen.line(
            f"Aimed at when {person} is at work: {aim}, their own good ({many} with many tails: "
            "edges shift alike)."
        )
        return
    screen.line(
        f"Aimed at when {person} is at work, until their own good is learned: {aim} ({many} with "
        "many tails)."
    )


def _teaches(screen: Screen, ruler: Ruler) -> None:
    screen.line(
        "Words alone teach where your good settings lie, through the bit and the stock; they "
        "cannot teach where one word "
        "ends and the next begins, because a tighter bit and a stricter person sound the same. A "
        "reading now and then does: "
        "say the pull-apart gap with the word, as in fitlog cut slightly loose "
        f"{ruler.length(0.4)}. With "
        "many tails it counts for the bit, "
        "not for these edges."
    )
