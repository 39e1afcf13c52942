"""A person's scale of words: what each stands for, how sure its edges are, what is assumed and what
is learned.
"""

from __future__ import annotations

from .. import defaults
from ..document import Document
from ..domain import Aspect, Family
from ..families.names import FAMILIES
from ..families.screens import screens_of
from ..language.sure import digits_for, small
from ..language.units import Ruler, counted
from .screen import Screen


def words(screen: Screen, found: Document, ruler: Ruler) -> None:
    """Print the document of `words`."""
    for family in FAMILIES.values():
        told = {kind.name: found[kind.name] for kind in family.kinds if kind.name in found}
        shown = [a for a, scale in told.items() if scale["met"] or a == family.lead]
        for aspect in shown:
            _scale(screen, family, aspect, found["person"], told[aspect], ruler)
            screen.line()
        if shown:
            screen.line(screens_of(family).teaching(ruler))
    if found["others"]:
        screen.line(
            f"Others in this log: {', '.join(found['others'])}. See theirs with: fitlog words "
            "--person NAME"
        )


def _scale(
    screen: Screen, family: Family, aspect: Aspect, person: str, scale: Document, ruler: Ruler
) -> None:
    screen.head(
        f"The {aspect}, as {person} says it: {'learned' if scale['learned'] else 'assumed'}"
    )
    digits = digits_for([w["low_sd"] for w in scale["words"] if w["low_sd"] is not None])
    rows = [
        [w["word"], _band(ruler, w["low"], w["high"]), _sure(w, ruler, digits)]
        for w in scale["words"]
    ]
    screen.table(["word", screens_of(family).misfit(aspect), "edges known to +-"], rows)
    screen.line(
        f"Noise of a word, on top of its band: {small([scale['noise']], ruler)}; with 90 % chance "
        f"{small(scale['noise_interval90'], ruler)}."
    )
    screen.line(_where_from(scale))
    if "aim" in scale:
        screen.line(_aim(family.kind(aspect).settling, person, scale, ruler))


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


def _aim(settling: str, person: str, scale: Document, ruler: Ruler) -> str:
    """What is aimed at by the settling word, and with each other set of edges."""
    aim, *others = (
        (name.removeprefix("aim_").replace("_", " "), _band(ruler, *scale[name]))
        for name in scale
        if name.startswith("aim")
    )
    sets = ", ".join(f"{band} with {name}" for name, band in others)
    if scale["learned"]:
        more = f" ({sets}: edges shift alike)" if sets else ""
        return f"Aimed at when {person} is at work: {aim[1]}, their own {settling}{more}."
    more = f" ({sets})" if sets else ""
    return (
        f"Aimed at when {person} is at work, until their own {settling} is learned: {aim[1]}{more}."
    )
