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
from ..texts import tell
from .screen import Screen


def words(screen: Screen, found: Document, ruler: Ruler) -> None:
    """Print the document of `words`."""
    before: set[Aspect] = set()  # what joints share is told once, as the first of them says it
    for family in FAMILIES.values():
        told = {a: found[a] for a in family.aspects if a in found and a not in before}
        before |= told.keys()
        shown = [a for a, scale in told.items() if scale["met"] or a == family.lead]
        for aspect in shown:
            _scale(screen, family, aspect, found["person"], told[aspect], ruler)
            screen.line()
        if shown:
            screen.line(screens_of(family).teaching(ruler))
    if found["own"]:
        rows = [[phrase, meaning] for phrase, meaning in found["own"].items()]
        screen.line()
        screen.table(["your own phrase", "means"], rows)
        screen.line()
    if found["others"]:
        screen.line(
            "Others in this log: {others}. See theirs with: fitlog words --person NAME",
            others=", ".join(found["others"]),
        )


def _scale(
    screen: Screen, family: Family, aspect: Aspect, person: str, scale: Document, ruler: Ruler
) -> None:
    screen.head(
        "The {aspect}, as {person} says it: {how}",
        aspect=aspect,
        person=person,
        how="learned" if scale["learned"] else "assumed",
    )
    digits = digits_for([w["low_sd"] for w in scale["words"] if w["low_sd"] is not None])
    rows = [
        [w["word"], _band(ruler, w["low"], w["high"]), _sure(w, ruler, digits)]
        for w in scale["words"]
    ]
    screen.table(["word", screens_of(family).misfit(aspect), "edges known to +-"], rows)
    screen.line(
        "Noise of a word, on top of its band: {noise}; with 90 % chance {range}.",
        noise=small([scale["noise"]], ruler),
        range=small(scale["noise_interval90"], ruler),
    )
    screen.line(_where_from(scale))
    if "aim" in scale:
        screen.line(_aim(family.kind(aspect).settling, person, scale, ruler))


def _band(ruler: Ruler, low: float | None, high: float | None) -> str:
    open_end = tell("below ") if low is None else tell("over ") if high is None else ""
    return open_end + small([end for end in (low, high) if end is not None], ruler, digits=2)


def _sure(word: Document, ruler: Ruler, digits: int) -> str:
    ends = [sd for sd in (word["low_sd"], word["high_sd"]) if sd is not None]
    same = len({small([sd], ruler, digits=digits) for sd in ends}) == 1
    return small(ends[:1] if same else ends, ruler, " and ", digits)


def _where_from(scale: Document) -> str:
    met, needed = scale["met"], defaults.VOICE_MEETINGS[0]
    count = tell("{words} in finished set-ups met a reading", words=counted(met, "word"))
    if scale["learned"]:
        return tell(
            "Learned: {count}. An edge that no reading came near only follows the others, and "
            "stays vague.",
            count=count,
        )
    return tell(
        "Assumed until {needed} words have met a reading: {count}, {missing} still missing.",
        needed=needed,
        count=count,
        missing=scale["missing"],
    )


def _aim(settling: str, person: str, scale: Document, ruler: Ruler) -> str:
    """What is aimed at by the settling word, and with each other set of edges."""
    aim, *others = (
        (name.removeprefix("aim_").replace("_", " "), _band(ruler, *scale[name]))
        for name in scale
        if name.startswith("aim")
    )
    sets = ", ".join(tell("{band} with {name}", band=band, name=name) for name, band in others)
    if scale["learned"]:
        more = tell(" ({sets}: edges shift alike)", sets=sets) if sets else ""
        return tell(
            "Aimed at when {person} is at work: {aim}, their own {settling}{more}.",
            person=person,
            aim=aim[1],
            settling=settling,
            more=more,
        )
    more = f" ({sets})" if sets else ""
    return tell(
        "Aimed at when {person} is at work, until their own {settling} is learned: {aim}{more}.",
        person=person,
        settling=settling,
        aim=aim[1],
        more=more,
    )
